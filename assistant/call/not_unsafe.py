"""What answers "is something not safe?": a no, the step's own answer in its place, and whole sentences behind a no."""

import re

from assistant.branches.steps import Step
from assistant.call import cautions, modes
from assistant.call.asking import left_to_ask, question_for
from assistant.call.conversation import Conversation
from assistant.language.by_example import by_example
from assistant.language.by_sense import surer
from assistant.language.grammar import normalise, understand
from assistant.language.guess import guessed
from assistant.language.heeded import heeded
from assistant.language.meaning import (
    DONE_AND_SAFE,
    Answer,
    AskFor,
    Command,
    Confirmed,
    Meaning,
    NotUnderstood,
    Question,
    Remark,
    all_asked_back,
)
from assistant.language.pieces import understand_in_pieces
from assistant.language.questions import is_question
from assistant.language.spoilt import spoilt
from assistant.language.unready import trouble
from assistant.language.unready import unready as unready_words
from assistant.language.vocabulary import vocabulary

NEVER_OVER = frozenset({"start", "stop", "power_on", "power_off", "unlock", "live"})
"""Steps whose deed no answer to another question counts for."""


def behind_the_no(words: str) -> str:
    """What is said behind a no to "is something not safe?", in all the words that such a no has."""
    return _NO_FIRST.sub("", words.lower().strip())


def asks_what_is_not_safe(call: Conversation) -> bool:
    """Whether it stands asked if something is not safe."""
    return call.mode.name == modes.CONFIRMING and call.state.doubts.get(call.doing.said or "") == "trouble"


def _sounded_unsafe(call: Conversation) -> bool:
    """Whether what it is asked about had a word of trouble in it, or told of danger."""
    said = call.doing.said or ""
    return trouble(normalise(said)) or (bool(said) and said == call.sounds_unsafe)


def answers_over_it(call: Conversation, words: str) -> tuple[Question, Meaning] | None:
    """The step's own answer in place of a yes or no to "is something not safe?", or behind a no: then nothing is."""
    s = call.state
    step = s.steps.get(s.step)
    if not asks_what_is_not_safe(call) or s.feed.window or step is None or step.id in s.answered:
        return None
    return _counts_over_it(call, step, words) or _asked_over_it(call, step, words)


def _counts_over_it(call: Conversation, step: Step, words: str) -> tuple[Question, Meaning] | None:
    """The answer that counts.

    Only a whole and plain answer, behind a "no" where it is a proof or is acknowledged, and nothing where something is about to
    run, a reset is at stake or power is on. What was said with a word of trouble in it is first asked about once more.
    """
    if normalise(words).partition(" ")[0] in _YES:
        return None  # "yes, it's cool" may say that something is not safe
    ids = left_to_ask(call, step)
    entry = vocabulary().get(step.asking)
    acknowledged = entry.kind == "acknowledge" if entry else not step.tells
    troubled = _sounded_unsafe(call)
    apart = bool(_NO_AND_A_SENTENCE.match(words.strip().lower())) and not troubled  # "no, it's reset", and not "no, reset"
    if not ids or ((step.resets or step.act in NEVER_OVER) and not (apart and (step.resets or step.act == "unlock"))):
        return None
    led = normalise(words).partition(" ")[0] in ("no", "nope", "nah")
    led = led and not (acknowledged and re.match(r"\w+ ", words.strip()))  # "no locked" may be the opposite of "no, locked"
    question, text = question_for(call, ids, step), _NO_FIRST.sub("", normalise(words))
    stated = _stated(question, normalise(words), text)
    if (acknowledged or step.proof) and (troubled or not (led or stated)):
        return None
    if troubled and not call.again.misses:
        return None
    said = understand(question, text) if troubled else understand_in_pieces(question, behind_the_no(words))
    plain = isinstance(said, Answer) and all(part.id in ids and not part.doubt for part in said.parts)
    plain = plain or (isinstance(said, Command) and said.name == "continue" and (said.about in step.tells or not step.tells))
    plain = plain or said == Command("skip", "unknown")
    bare = text in _NO_ANSWER or is_question(text)
    return (question, said) if plain and not bare and not (trouble(text) or spoilt(question, text)) else None


def _asked_over_it(call: Conversation, step: Step, words: str) -> tuple[Question, Meaning] | None:
    """What a whole sentence behind a no, or said once more where nothing sounded like trouble, may answer, asked back: "no,
    everything's safe. I opened the valve"."""
    rest = behind_the_no(words)
    text = normalise(rest.replace(",", " "))
    again = text.partition(" ")[0] not in _YES and not _sounded_unsafe(call)
    apart = len(text.split()) > 1 and (again or _NO_AND_A_SENTENCE.match(words.lower().strip()))
    if not apart or cautions.wanted(step, call.state):
        return None
    ids = left_to_ask(call, step)
    question = question_for(call, ids, step)
    if trouble(text) or is_question(text) or unready_words(text) or spoilt(question, text):
        return None
    said = understand_in_pieces(question, rest)
    said = by_example(question, rest) if isinstance(said, NotUnderstood) else said
    said = surer(question, rest, said) if isinstance(said, NotUnderstood) else said
    said = guessed(question, rest) if isinstance(said, NotUnderstood) else said
    if isinstance(said, Command) and said.name == "continue":
        named = said.about if said.about in question.go_ahead else next(iter(question.go_ahead), "")
        said = AskFor(f"{named.capitalize()}?" if question.look else DONE_AND_SAFE, pending=named)
    if isinstance(said, AskFor):
        return (question, said) if said.pending and not said.pending.startswith("{}") else None
    if not isinstance(said, Answer) or not all(part.id in ids for part in said.parts):
        return None
    return question, all_asked_back(said)


_YES = ("yes", "yeah", "yep", "yup", "aye", "sure")


def _stated(question: Question, whole: str, text: str) -> bool:
    """Whether it is said once more that it is so, in words that the question offers: "the meter's good"; a yes may be one to the
    question of safety, and a bare "done" to anything."""
    agrees = whole.partition(" ")[0] in _YES
    return " " in text and not agrees and not isinstance(understand(question, text), NotUnderstood)


def says_no_and_more(call: Conversation, meaning: Meaning, words: str) -> bool:
    """Whether a no to "is something not safe?" stands where all is asked for at once, "no, all good" says both, or apart: "no,
    understood"."""
    step = call.state.steps.get(call.state.step)
    said_no = isinstance(meaning, Confirmed) and not meaning.yes
    more = step is not None and (bool(step.all_good) or bool(_NO_AND_MORE.match(words.strip().lower())))
    return said_no and asks_what_is_not_safe(call) and more


_NO_AND_MORE = re.compile(
    r"(?:(?:no|nope|nah)(?: no)?|nowt(?:'s| is)? (?:unsafe|wrong)|nothing(?:'s| is)? (?:unsafe|wrong|not safe))"
    r"(?:,? (?:sir|ma'am|love|pet|chuck|mate|boss|hon))?(?:\s*[,.]\s*\w| (?:it's|it is|that's|i|they're|they are|she's) \w)"
)


def no_and_more(call: Conversation, words: str) -> bool:
    """A no to "is something not safe?" that stands apart, whatever untroubled sentence is behind it."""
    said = words.lower().strip()
    rest = normalise(_NO_FIRST.sub("", said))
    if not _NO_AND_A_SENTENCE.match(said) or trouble(rest) or DENIES.search(rest) or unready_words(rest):
        return False
    return call.question is not None and not isinstance(understand_in_pieces(Question("command"), rest), Remark)


DENIES = re.compile(r"\b(?:not|never|nobody|none|no|but|except|without|only|still|if|unless|until|yes|yeah|maybe|think)\b|n't\b")


def no_and_done(call: Conversation, words: str) -> bool:
    """ "No, reset", "no. it's running", to "is something not safe?" where nothing counts over it: a no, and the prompt comes
    again."""
    s, said = call.state, words.lower().strip()
    plain, step = _NO_FIRST.sub("", said), s.steps.get(s.step)
    if plain == said or step is None or trouble(normalise(plain)):
        return False
    done = understand_in_pieces(question_for(call, step.ids or ("command",), step), plain)
    return isinstance(done, Answer) or (isinstance(done, Command) and done.name == "continue")


_ALL_FINE = re.compile(
    r"(?:(?:we're|i'm|it's|it is|everything's|everything is|all's|all|nothing) ?)*"
    r"(?:all )?(?:good|fine|okay|safe|well|wrong)(?: here)?"
)
"""It says nothing of the caution, which comes again."""


def no_and_heeded(call: Conversation, words: str) -> bool:
    """ "No, gloves and shield on", or the caution's own words told back, in place of a no to "is something not safe?" where a
    caution waits to be acknowledged; never a yes, nor anything behind words of trouble that has no no before it."""
    said = words.lower().strip()
    plain = _NO_FIRST.sub("", said)
    led = plain != said or not (_sounded_unsafe(call) or said.startswith(("yes", "yeah", "yep")))
    step = call.course.next_step(call.state)
    waits = step is not None and bool(call.cautioned) and cautions.wanted(step, call.state) == call.cautioned
    told = not _ALL_FINE.fullmatch(normalise(plain))
    return led and waits and told and not trouble(normalise(plain)) and heeded(plain, call.cautioned)


_NO_FIRST = re.compile(
    r"^(?:(?:no sir|no ma'am|no problem(?: at all)?|no|nope|nah|naw|of course not|not at all"
    r"|(?:nothing|nowt)(?:'s| is)? (?:unsafe|wrong|not safe)|love|pet|chuck|mate|boss|hon"
    r"|nothing(?= ?[,.] ?\w)|(?:it's |it is |we're )?all (?:safe|clear|fine)"
    r"|(?:it's|we're|i'm) (?:fine|good|okay|all right)(?! to\b)|all good|everything(?:'s| is) (?:safe|fine)"
    r"|it's safe|it is safe|i said|i was (?:telling"
    r"|giving) you(?: the \w+)?"
    r"|why|just)\b[,. ?]*)+(?=\S)"
)
"""What leads to the answer, told once more."""
_NO_AND_A_SENTENCE = re.compile(
    r"(?:(?:(?:no|nope|nah|naw) ?)+(?:sir|ma'am|problem|problem at all)?|of course not|not at all|it's safe|it's fine|all good"
    r"|nothing(?: unsafe)?)\s*[,.]"
    r"(?:\s*(?:no|nope|nah)\s*,)*\s*\S+ \S"
)
"""A no that stands alone, and words behind it that are no mere "no reset"."""
_NO_ANSWER = frozenset("yes yeah yep yup no nope nah sure okay good fine".split())
"""What may be said to the question that stands."""
