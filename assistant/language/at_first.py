"""Typed words as they are looked at first: put plainly, parted where a sentence ends, without the moment that was asked for.

The patterns are the project's own reading of how people type and talk.
"""

import re
from dataclasses import replace

from assistant.language.asides import strictly
from assistant.language.by_commas import is_answer
from assistant.language.grammar import normalise
from assistant.language.hedges import at_once_plainly
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Question, Remark
from assistant.language.numbers import told_number
from assistant.language.own_unit import LIVE_VOLTS
from assistant.language.questions import is_question
from assistant.language.remarks import burnt_part
from assistant.language.vocabulary import kind_of

_FULL_STOP = re.compile(r"\s*(?:\.{2,}|[.;:!](?=\s+\S))\s*")
_WAITED = re.compile(
    r"^\s*(?:(?:hang|hold) on|wait|moment|(?:just )?(?:a|one) (?:moment|minute|second|sec)|let me (?:see|look|check))"
    r"(?: (?:a|one|just a|here|there|please|moment|minute|second|sec|bit|now))*\s*,\s*(?:okay|alright|all right|there|yeah|yes"
    r"|now|got it|right)\b[ ,]*(?=\w)",
    re.IGNORECASE,
)
_READ_ANEW = re.compile(
    r"(?P<before>^|,)[ ,]*(?:(?:no|wait|hang on|sorry|oops|because|but)[ ,]*)*(?:i|it) (?:had it|had the meter|was)(?: set)?"
    r" on the wrong (?:range|scale)(?: (?:before|first|at first|there|the first time|just now))?[ ,]*(?P<behind>,|$)",
    re.IGNORECASE,
)
"""Why a reading is told anew; what comes behind it puts right what came before."""
_AND_IT_RUNS = re.compile(
    r"(?<=reset)[ ,]+(?:and )?(?:it's|it is|she's|he's|that's|it) (?:running|started|going|up and running|off and running"
    r"|up)(?: (?:now|again|too))*[ .!]*$",
    re.IGNORECASE,
)
"""What comes after the reset is asked for by itself."""
_A_MINUTE = re.compile(r"(?<=[a-z])[ ,]+(?:hang|hold) on (?:a|one) (?:minute|second|sec|moment)[ .!]*$", re.IGNORECASE)
"""Asked for behind an answer: it is no minute of what was asked."""
_HOLD_ON = re.compile(r",? (?:hold|hang) on$|,? wait$| volts?\b", re.IGNORECASE)
_STILL_LIVE = re.compile(
    r"(?:^|, ?)(?:(?:no|whoa|hey|damn|shit|careful|okay|well|oh|ah)[ ,]+)*(?:(?:the |that )?(?:control|power|drive|bus|it"
    r"|that|this|she)"
    r"(?:'s| is|'re| are) )?(?:(?:still|all) )*(?:hot|live|alive|energi[sz]ed|powered|not dead|got (?:power|voltage|volts))"
    r"(?: (?:on|at) (?:the )?(?:control|power|one leg|a leg))?(?= ?,|$)",
    re.IGNORECASE,
)
"""What says in words what the volts beside it say: "control's still hot, one eighteen"."""
_TWICE = re.compile(r"\b([a-z]+) , \1 (?=running|tripped|off|down|are\b)")
_OFFERED = re.compile(r"(?P<lead>^|, ?|\bit's |\bon )(?P<side>high|low)(?= ?,| ?$)", re.IGNORECASE)
"""As the prompt offers it: "low, three tripped"."""
_AGREED = re.compile(
    r"\b(?:spot on|bang on|bob on|dead right|that's the badger|that's the one|that's her|that's him|that'll do)\b", re.IGNORECASE
)
_YES_AGAIN = re.compile(
    r"(?:(?:yes|yeah|yep|yup|aye|sure|okay|affirmative|right|correct|exactly|absolutely|it is|that's it|that's right)"
    r"(?: (?:sir|ma'am|mate|boss|man|please|indeed|it is|that's it|that's right))*[ ,]*)+"
)
_CORRECT = re.compile(r"^\s*(?:that's |that is |it's |ha |yes )*correct\s*,\s*", re.IGNORECASE)
"""Parted by a comma it agrees: "correct, a three" puts no amps of line A right."""
_YES_AND = re.compile(
    r"^(?P<yes>yes|yeah|yep|yup|aye|affirmative|sure|okay)[ ,]+(?:please )?(?:skip (?:it|this|that)|close(?: it| the call)?"
    r"|finish(?: it| the job)?|end it|seal it)(?: please)?[ .!]*$",
    re.IGNORECASE,
)
"""A yes that says once more to what."""
_SO_IT_IS = re.compile(r"\bthat(?:'s| is) (?:correct|right|so)\b", re.IGNORECASE)


def agreed_first(question: Question, words: str) -> str:
    """To what was asked back, a "correct" that a comma parts as the yes that it is.

    >>> agreed_first(Question("confirm", of="panel_tag"), "Correct, a three")
    'yes , a three'
    """
    return _CORRECT.sub("yes , ", words) if question.asking == "confirm" and question.of != "said so" else words


def at_first(question: Question, words: str) -> str:
    """The words as they are looked at first.

    >>> at_first(Question("leads_on"), "Done... they're off")
    "Done , they're off"
    >>> at_first(Question("close_consent"), "it is okay, that is correct")
    'it is okay, yes'
    """
    words = burnt_part(_FULL_STOP.sub(" , ", at_once_plainly(words)))
    words = _A_MINUTE.sub("", words)
    if question.asking == "confirm":
        words = _AGREED.sub("yes", words)
        words = _YES_AND.sub(r"\g<yes>", words) if question.of != "said so" else words  # no yes to a doubt about safety
        words = "yes" if _YES_AGAIN.fullmatch(words.lower()) else words
    words = _AND_IT_RUNS.sub("", words) if "reset" in question.go_ahead else words
    words = _TWICE.sub(r"\1 ", words)  # "no, two. two running"
    if question.asking.startswith("dead_volts"):
        plain = _STILL_LIVE.sub("", words).strip(" ,.")
        words = plain if (told_number(normalise(_HOLD_ON.sub("", plain))) or 0.0) > LIVE_VOLTS / 2 else words
    if "ohms" in question.about:
        words = _READ_ANEW.sub(lambda why: " , no , " if why["before"] and why["behind"] else "", words)
    if {"high", "low"} <= set(question.about) and question.asking == "protection_shown":
        words = _OFFERED.sub(r"\g<lead>\g<side> pressure", words)
    if kind_of(question.asking) in ("acknowledge", "yes_no"):  # else it puts a reading right
        words = _SO_IT_IS.sub("yes", words)
    return words


def after_the_wait(words: str) -> str:
    """What is told once the moment is over that somebody asked for in the same breath; empty where none was.

    >>> after_the_wait("wait a moment please , okay, both gauges are connected"), after_the_wait("hang on, somebody's here")
    ('both gauges are connected', '')
    """
    plain = _WAITED.sub("", words)
    if plain == words and (match := _UNDER_WAY.fullmatch(words.lower())):
        plain = match["rest"]
    return plain if plain != words else ""


_UNDER_WAY = re.compile(
    r"\s*(?:(?:just |hang on |hold on |wait |okay |well |so |uh |um )*(?:(?:a|one) (?:sec|second|minute|moment))? ?,? ?)"
    r"(?:let me (?:see|look|check|do it)|(?:i didn't \w+ (?:them|it),? (?:but )?)?i'll (?:check|look|see|do it)(?: (?:them|it"
    r"|now))*"
    r"|(?:(?:it|that|this|(?:the |my )?\w+)(?:'s| is) )?(?:coming|going) (?:off|out|on|in|back|down)"
    r"|(?:screw|bolt|put|pull|tak|turn|tighten|clip|plug|snapp|push|slid|open|clos|check|look|try|test|count|do|hang|hook|connect"
    r"|flipp|press|unlock|land|strapp)\w*ing(?: (?:it|them|that|this|(?:the|my) \w+|at|on|off|down|in|out|up|back|now|round))*)"
    r"(?: (?:slowly|now|here|there))*\s*,\s*(?:okay|alright|all right|there|yeah|yes|right|now|got it)\b[ ,]+(?P<rest>\w.*)",
    re.IGNORECASE,
)
"""What was under way, and then is done: "screwing it down, okay, cover's on"."""
_NEXT = re.compile(
    r"(?:and |so |okay )*(?:what(?:'s| is| comes)? next|what now|now what|what do i do (?:now|next)"
    r"|is that (?:all|it|everything))"
)
_TAG = re.compile(r"(?:is|isn't|are|aren't|was|wasn't|does|doesn't) (?:it|they|that)(?: not)?|right|correct|yeah|okay")
"""What only wants the answer before it agreed to."""


def before_the_question(question: Question, words: str) -> tuple[str, bool]:
    """What is told before a question that its speaker asks in the same breath, and whether he only asks what comes next; empty
    where there is none, or where it asks for the answer itself.

    A bare yes is none to what is asked about: "food's holding, yes. what do you mean, called for?"

    >>> asked = Question("receiver_level")
    >>> before_the_question(asked, "sixty , why do you need that?"), before_the_question(asked, "low , isn't it?")
    (('sixty', False), ('', False))
    >>> before_the_question(asked, "done , what's next?"), before_the_question(asked, "two , or is it three?")
    (('done', True), ('', False))
    """
    if question.asking in ("confirm", "note") or kind_of(question.asking) == "free":
        return "", False  # whatever he says is the answer
    clauses = [clause.strip() for clause in words.rstrip().removesuffix("?").split(",") if clause.strip()]
    asked = [at for at, clause in enumerate(clauses) if at and is_question(normalise(clause))]
    last = normalise(" ".join(clauses[asked[0] :])) if asked else ""
    if not words.rstrip().endswith("?") or not last or _TAG.fullmatch(last):
        return "", False
    told = [clause for clause in clauses[: asked[0]] if not (question.all_good and normalise(clause) in ("yes", "yeah", "yep"))]
    return " , ".join(told), bool(_NEXT.fullmatch(last))


def answered_before_it_asks(question: Question, said: Meaning, asks_next: bool) -> Meaning:
    """What such an answer is worth: where somebody's safety hangs on it, a doubt behind it has it asked back."""
    if asks_next or question.look or not strictly(question):
        return said if is_answer(said) or isinstance(said, Remark) else NotUnderstood()
    if not isinstance(said, Answer):
        return said if isinstance(said, Remark) else NotUnderstood()
    return Answer(tuple(replace(part, doubt=part.doubt or ".") for part in said.parts))
