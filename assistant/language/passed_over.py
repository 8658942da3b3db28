"""What somebody tells beside an answer: whether it may be passed over, though not every word of it is known.

Where somebody's safety hangs on the answer each word must be known, unless it is the answer by which nothing is opened or
started. The patterns are the project's own reading of how people talk.
"""

import re

from assistant.language.asides import another, answers, harmless, strictly
from assistant.language.deeds import denied
from assistant.language.guess import AT_ZERO
from assistant.language.hedges import hedge_words, is_aside, is_sound, otherwise_said
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, AskFor, Command, Meaning, NotUnderstood, Question
from assistant.language.names import own_words
from assistant.language.narrated import explains, narrates, uncounted, verifies
from assistant.language.numbers import number
from assistant.language.quantities import NUMBER_KINDS, SAY_THE_NUMBER
from assistant.language.questions import is_question
from assistant.language.run_on import MANNER
from assistant.language.spotting import LONGEST, general, phrases_of
from assistant.language.vocabulary import kind_of, vocabulary

JOINS = frozenset("and but so then because since cause cos though although which".split())
"""What joins a clause to the one before it."""
_COUNTING = "|".join(sorted(FIGURES - {"point", "minus", "negative", "oh"}))
_WEAKENS = re.compile(
    r"\b(?:maybe|probably|perhaps|possibly|might|i guess|guessing|suppose|supposed|hope|hopefully|hoping|wish|doubt|wonder"
    r"|wondering|unsure|(?:not|isn't|ain't)(?: \w+)? (?:sure|certain|positive|right|true|so)|if|unless|until|(?<!the )till"
    r"|whether|either|or(?! so\b)|assum\w+|pretend\w*|imagine|should(?:'ve| be| have|n't)|would (?:be|have)|ought|almost"
    r"|nearly|(?:hardly|barely)(?! any| visible| showing| there\b| touching| covering)"
    r"|except|besides|apart|other than|aside|minus|bar|save|between|soon|later|tomorrow"
    r"|in a (?:second|sec|minute|moment|bit|while)|kidding|joking|joke|forget|wrong|mistake|correction|scratch|misread"
    r"|depends|depending|who knows|dunno|told (?:me|us)|don't know|can't (?:tell|see|read)|couldn't (?:tell|see|read)"
    r"|let me|i'll|i will|hang on|hold on|hold up|give me|(?<!can )wait|next (?:week|month|time|shift|visit)"
    r"|(?:need|have|going|got) to|gonna"
    r"|you (?:tell|say|know)|please"
    r"|(?:going|looking|checking|trying|searching|measuring) (?:over |at |for |through )?(?:it |that |them )?again"
    r"|still (?:looking|checking|searching|trying|working|waiting)"
    r"|repeat|say again|question|huh|same as (?:this|that)|(?:everything|everyone|anything|all|nothing) but)\b"
    r"|\bnot yet\b|\byet$|^(?:yesterday|earlier|before|last|after|when|while|with)\b"
)
"""What makes what stands beside it a guess, a condition, another's word, or no answer at all."""
LEFT_UNDONE = re.compile(
    r"\b(?:i|we|he|she|they|you)(?:'ve|'s|'d)?(?: \w+)?"
    r" (?:haven't|hasn't|hadn't|didn't|never|don't|won't|can't|couldn't|wouldn't)\b"
    r"|^(?:haven't|hasn't|didn't|never|don't|won't)\b"
)
"""What somebody did not do may be what was asked of him; not beside an answer that nothing is opened or started by."""
_OPENED = re.compile(
    r"\b(?:i|we)(?:'ve)? (?:just )?(?:pulled|popped|took|opened|lifted|peeled) (?:off |up |out )?(?:the|that|its|a) "
)
_I_DID = re.compile(
    r"\b(?:i|we)(?:'ve|'d|'m|'re| have| had| just| only| already| also| am| was| were| can| could| do| did)* (\w+)"
)
_ONLY_LOOKED = frozenset(
    "check checked look looked looking read reading see saw seen seeing feel felt feeling hear heard hearing count counted wiped"
    " wipe cleaned shone measured measure tested test tried try waited wait stood standing sitting sat climbed went walked came"
    " come asked called phoned rang told texted think know knew reckon believe say said got get getting have had make made found"
    " find notice noticed peeled scraped rubbed smell smelled like love hate in at on up here there still remember remembered bet"
    " zeroed nulled live work working stuck actually really sure pretty happy glad surprised amazed never not double right"
    " mean guess call"
    " compared watched watching followed traced swear tell show showing expected thought".split()
)
"""What somebody may have done beside an answer that changes nothing of it."""
_OF_ANOTHER = re.compile(
    r"^(?:and |but |so |well |now )*(?:it|that|this|which|they|those|these|she)"
    r"(?:'s|'re|'d| is| are| was| were| would| had| has)?\b"
    r".*\b(?:other|others|another|neighbor\w*|yesterday|last|before|earlier|old|normally|usually|his|her|their|book|manual"
    r"|spec\w*|rated|max\w*|min\w*|limit|setting|alarm|ago|morning|used|then|again|when|plate|sticker|tag)\b"
    r"|^(?:and |but |so |well )*(?:it|that|this|which|they|she) (?:was|were|used|had been|has been)\b(?! like)"
)
"""What makes the answer before it another's, another time's or the book's."""
_COUNTED = re.compile(
    r"\b(?:(?:the|all|both|other|those|these|my|our|every|of|first|last|end|leg|line|phase|contact|terminal|strip|number"
    r"|circuit|case|aisle|rack|compressor|fan|fuse|winding|lamp|pair|bank|step|size|part|door) )+"
    rf"(?:{_COUNTING})\b(?: {_COUNTING}\b)*"
    r"|\b(?:a|an|some|every|each|which) (?:\w+ )?one\b(?! (?:hundred|point|oh|\w+teen|\w+ty))"
    rf"|\b(?:{_COUNTING})(?: (?:{_COUNTING}))* (?:of (?:them|those|these|us)|little|big|small|green|red|guys|people|times|steps"
    r"|screws|bolts|packs|rows|terminals|probes|leads|feet|foot|inches (?:away|out|off|up|down|back|from)|lights|lamps|bars|turns"
    r"|readings|tries|goes|sides"
    r"|minutes|hours|days|weeks|months|years|seconds)\b"
    rf"|\b(?:{_COUNTING})(?: of (?:them|those))?(?:'re| are|'s| is)?"
    r" ?(?:aren't|not|off|dead|stopped|idle|down|out|isn't|ain't)\b"
)
"""What counts something else than was asked for."""
THE_TWO = re.compile(rf"\b(?:the|other|those|these)(?: \w+)? (?:{_COUNTING})\b")
DENIES = re.compile(r"\b(?:not|no|none|nothing|nobody|never|without|neither|nor|cannot)\b|n't\b")
_OTHERS = frozenset("other others another neighbor neighbor's neighbors".split())
_SAYS_NOTHING = frozenset(
    "it it's its that that's this is are was were be been being the a an they they're them she she's he he's i i'm we we're you"
    " really quite so right true sure exactly very now yet anymore any more all properly correct at there there's here either do"
    " does did don't doesn't didn't isn't aren't ain't wasn't weren't not no none nothing never think say believe know to of one"
    " ones though anyway has have hasn't haven't had hadn't won't can't too much yes yeah and but or nope nah nor still just"
    " actually honestly mate man boss sir pal".split()
)
_NOES = ("no", "nope", "nah")
_TILL_WHEN = re.compile(r" (?:till|until) .+$")
_FILLS = frozenset("say right well look there so".split())
_AGREES = frozenset("yes yeah yep yup okay done".split())
_NO_RISK = frozenset(("dead", "leave it locked", "later", "no"))
"""Answers by which nothing is opened, started or passed over."""
_SAFE = {"live_or_dead": ("dead",), "part_left_in_use": ("borrowed", "substitute", "temporary")}
"""The same of readings; of others it is the no."""
_AWAY = re.compile(
    r"(?:the |my )?(?:\w+ ){1,4}?(?:\w+'s|is|are) (?:at|in|back at|on|out in) (?:the|my) (?:other )?"
    r"(?:shop|van|truck|office|house|garage|car|yard|workshop)"
)
"""What is somewhere else."""
_BOUND = re.compile(
    r"(?:had |i had |got |they're |all (?:of them )?|it's |just |a bit |well |way )*(less than|under|below|not even"
    r"|short of|more than|over|above|better than|north of"
    r"|south of) (?:a |an )?([\w ]+?)(?: (?:degrees?|pounds?|volts?|ohms?|amps?|meg|psi|percent|k))?"
)
_PARTS = {
    "a third": "point three three",
    "a quarter": "point two five",
    "three quarters": "point seven five",
    "half a": "point five",
    "half": "point five",
    "a": "one",
    "a quarter of a": "point two five",
}
_SINCE = re.compile(
    r"\b(?:(?:a|about|half|an|few|couple|of|good|one|two|three|four|five|six|ten|fifteen|twenty|thirty) )+"
    r"(?:seconds?|minutes?|hours?)(?: ago| since)?\b"
)
_WITH_IT = re.compile(
    r"\bwith (?:the|my|a)"
    r" (?:meter|ohm ?meter|light|torch|flashlight|wrench|cloth|rag|tester|gauge|radio|phone|key|key's)\b"
)
_TILL = re.compile(
    r"\b(?:till|until) (?:it|they|i)(?: all| just)?"
    r" (?:clicked|snapped|stopped|bottomed(?: out)?|seated|was (?:home|tight|snug|seated|flush)"
    r"|heard (?:it|the) click|felt (?:it|the) click|went (?:home|in))\b"
)
"""How far something was pushed or turned."""
_TOOK = re.compile(
    r"\b(?:it )?took (?:me |us )?(?:a|two|three|four|a few|a couple of|several) (?:goes|tries|attempts|pulls|turns|times)\b"
)
_NONE_AT_ALL = re.compile(
    r"(?:there's |there is |it's |it is |i |i've |i have |got |get |see |read |reads |showing |they're |all )*"
    r"(?:nothing|no volts|no voltage|none|dead|no reading)(?: (?:left|here|at all|there|on|at|across|between|any|all"
    r"|each|every|of|the"
    r"|them|six|legs?|pairs?"
    r"|ones?|way))*"
)
_TOLD = re.compile(
    r"(?:i |we )?told (?:him|her|them|the \w+) (?:that )?(?:it's|it is|we're|the (?:whole )?(?:rack|machine"
    r"|compressor)(?:'s| is)) "
    r"(?:going|being|coming|gonna be)(?: taken| shut)? (?:off|down|out)|"
    r"(?:i |we )?(?:told|showed|explained to|filled in) (?:him|her|them) (?:what|how|where|why|about|all|everything)"
    r"(?: (?!to\b|not\b|if\b)[\w']+)*"
)
"""What somebody was told."""
GAVE_AWAY = re.compile(
    r"\b(?:gave|lent|handed|passed(?! (?:the|a|its) (?:\w+ )?tests?\b)"
    r"|left) (?:it|him|her|them|somebody|someone|the|my|a)\b"
)
_STRICTLY_NOT = frozenset("other another others if when with before after until".split())
_PUT_AWAY = re.compile(r"\b(?:back )?in (?:my|the) (?:bag|(?:\w+ )?pocket|toolbox|box|van|truck|case|kit|tool bag)\b")
_IN_SOMETHING = re.compile(r"\bin (?:my|the|his|her|our|a|that|this|there|here)\b")
_NOT = re.compile(
    r"^(?:and |but |so )?(?:(?:it|they|that|there|she)(?:'s|'re| is| are|s)? )?(?:not|no|isn't|aren't|ain't|nothing's|nothing is"
    r"|none's|none are|never|without|i see no|i don't see|don't see)\b"
)
_THING = re.compile(r"(?:the|my|their|its|our) (?:\w+ )?(\w+?)(?:'s|'re| is| are| has| have| was| were|'ve)\b")
_RELATIVE = re.compile(
    r"(?:which|who)(?:'s| is| was| has| had| i| the| they| it| we| he| she| looks| makes| means)\b"
    r"|(?:where|when|what) (?:i|the|they|it|we|he|she)\b"
)


_THEN = re.compile(r"\b(?:was|were|had been|used to be|had it)\b")
_NOW = re.compile(r"\b(?:now|back|again)\b")


def of_before(clause: str, core: str) -> bool:
    """ "It was hot earlier but it's cool now": how it was, told before how it is.

    >>> of_before("it had been left in hand", "it is back in auto now"), of_before("it was hot", "it's cool")
    (True, False)
    """
    return bool(_THEN.search(clause) and _NOW.search(core)) and not DENIES.search(clause) and not DENIES.search(core)


def passed_over(question: Question, clause: str, meaning: Meaning, said: list[Meaning]) -> bool:
    """Whether a clause that answers nothing changes nothing of an answer beside it.

    Args:
        question: what was asked.
        clause: normalised words.
        meaning: what the clause means by itself.
        said: what the others mean that answer.

    >>> from assistant.language.meaning import Part
    >>> low = Answer((Part("oil_level", "low"),))
    >>> [passed_over(Question("oil_level"), beside, NotUnderstood(), [low]) for beside in ("i wiped the glass", "i guess so")]
    [True, False]
    """
    clause = bare(clause)
    yes = clause in _AGREES and not any(isinstance(answer, Command) and answer.about == "no" for answer in said)
    if clause in _FILLS or is_sound(clause) or (yes and bool(said) and value(said[0]) != "no"):
        return True
    if _is_bound(question, clause, said) or verifies(clause):
        return True
    if strict(question) and not cautious(question, said):
        told = only_looked_at(question) and narrates(clause) and not FIGURES & set(uncounted(clause).split())
        return told or _known(question, clause, meaning, said)
    if (
        _TILL_WHEN.search(clause)
        and set(clause.split()) & set(question.about) - general()
        and all(value(it) == "yes" for it in said)
    ):
        clause = _TILL_WHEN.sub("", clause)  # "yes, circuit seven is off till the coil's clear"
    if isinstance(meaning, AskFor) and meaning.say == SAY_THE_NUMBER:
        return True  # "full voltage on that"
    if isinstance(meaning, AskFor) and question.look and cautious(question, said):
        if clause in _NOES:
            return not any(isinstance(answer, Command) and answer.about == "yes" for answer in said)
        meaning = NotUnderstood()  # "leave it locked, I don't like it"
    if question.look and _AWAY.fullmatch(clause):
        return True
    only_told = narrates(clause) or explains(clause, bool(_OTHERS & set(question.about)))
    only_told = only_told and not FIGURES & set(uncounted(clause).split())
    if not isinstance(meaning, NotUnderstood) and not (only_told or _only_counts(meaning, clause) or of_some(question, clause)):
        return False
    return _tells_nothing(question, clause, said)


def only_looked_at(question: Question) -> bool:
    """Whether it is asked how something stands or what it reads, though safety hangs on it: nothing that is acknowledged, and
    nothing by which a panel or a circuit is opened."""
    entry = vocabulary().get(question.asking)
    looked_at = entry is not None and entry.kind not in ("acknowledge", "yes_no")
    return looked_at and question.asking not in AT_ZERO and not question.asking.startswith("dead_volts")


def _known(question: Question, clause: str, meaning: Meaning, said: list[Meaning]) -> bool:
    """The same where safety hangs on the answer: every word of the clause is known to change nothing."""
    if _says_none(meaning, clause) and all(value(answer) == 0.0 for answer in said):
        return True  # "nothing on any of the six, so zero"
    at_zero = question.asking in AT_ZERO or question.asking.startswith("dead_volts")
    if at_zero and (_SINCE.search(clause) or {"on", "at", "gauge"} & set(clause.split())):
        return False  # how long it was waited, and where it was read, may be what is wrong with it
    plain = _TOOK.sub("it took long", _WITH_IT.sub("", _TILL.sub("", clause))) or "it"
    if _TOLD.fullmatch(plain):
        return True
    plain = otherwise_said(plain)
    tokens = tuple(plain.split())
    if GAVE_AWAY.search(plain):
        return False
    if len(tokens) < 2 or _STRICTLY_NOT & set(tokens) or _elsewhere(question, plain) or denied(question, plain):
        return False
    told = harmless(question, _SINCE.sub("long", plain), said, hedge_words("beside_deeds"), True)
    return told and not another(question, tokens, said, strict=True)


def _elsewhere(question: Question, clause: str) -> bool:
    """Whether something is told to be in a place, but for what was to come off and is put away."""
    put_away = {"off", "out"} & set(question.about)
    asked = "|".join(sorted(re.escape(word) for word in {*question.about, "terminals", "socket", "holder"} - general()))
    plain = re.sub(rf"\bin (?:the|its|my) (?:(?:{asked}) ?)+", "", clause)
    return bool(_IN_SOMETHING.search(_PUT_AWAY.sub("", plain) if put_away else plain))


def _tells_nothing(question: Question, clause: str, said: list[Meaning]) -> bool:
    """The same where no safety hangs on it: nothing in the clause turns, weakens, dates or denies the answer."""
    plain = _of_the_prompt(question, MANNER.sub("", _COUNTED.sub("it", uncounted(clause))))
    tokens = tuple(plain.split()) or ("it",)
    counted = any(vocabulary()[id].kind in NUMBER_KINDS for id in (question.asking, *question.also) if id in vocabulary())
    numbers = counted and any(word in FIGURES or word[0].isdigit() for word in tokens)
    if is_aside(clause, counted) and not another(question, tokens, said):
        return True
    if narrates(clause) and not numbers and not another(question, tokens, said):
        return True
    if not numbers and explains(clause, bool(_OTHERS & set(question.about))):
        return True
    if _asks(plain) or _WEAKENS.search(plain) or _OF_ANOTHER.search(plain):
        return False
    if LEFT_UNDONE.search(plain) and not cautious(question, said):
        return False
    if _of_the_prompts_words(question, tokens):
        return True
    if not cautious(question, said) and any(match[1] not in _ONLY_LOOKED for match in _I_DID.finditer(_OPENED.sub("", plain))):
        return False
    if _OTHERS & set(tokens) and answers(question, list(tokens)):
        return False
    if numbers:
        return False
    denies = bool(DENIES.search(plain))
    all_no = all(value(meaning) == "no" for meaning in said)
    if another(question, tokens, said) and not (denies and all_no):
        return _of_another_thing(question, clause) or _is_not_another(question, tokens, said)
    if is_aside(clause, counted) or not denies or all_no:
        return True
    return _of_other_matter(question, tokens) and not answers(question, list(tokens))


def _of_the_prompts_words(question: Question, tokens: tuple[str, ...]) -> bool:
    """ "I used the fine cloth and put it back": nothing but what the prompt said, and what changes nothing."""
    own = {*question.about, *own_words(question)} | general() | hedge_words("did") | {"used", "did", "done"}
    plain = all(word.removesuffix("'s") in own for word in tokens) and bool(set(tokens) & set(question.about) - general())
    return plain and not DENIES.search(" ".join(tokens)) and not answers(question, list(tokens))


def bare(clause: str) -> str:
    """The clause without what joins it to the one before it."""
    words = clause.split()
    while len(words) > 1 and words[0] in JOINS | {"well", "okay", "oh", "um", "uh"}:
        words = words[1:]
    return " ".join(words)


def strict(question: Question) -> bool:
    """Whether every word beside the answer must be known: safety hangs on it, or something is opened or touched by it."""
    return strictly(question) or question.asking in AT_ZERO


def cautious(question: Question, said: list[Meaning]) -> bool:
    """Whether all that was answered is what nothing is opened or started by."""
    if question.asking == "command":
        return bool(said) and all(isinstance(meaning, Command) and meaning.about in _NO_RISK for meaning in said)
    safe = _SAFE.get(question.asking, ("no",))
    kind = kind_of(question.asking)
    return kind in ("choice", "yes_no") and bool(said) and all(value(meaning) in safe for meaning in said)


def value(meaning: Meaning) -> object:
    """The value of an answer to one thing; None for anything else."""
    return meaning.parts[0].value if isinstance(meaning, Answer) and len(meaning.parts) == 1 else None


def of_some(question: Question, clause: str) -> bool:
    """ "The two on the far end": where a count is asked for, which they are and not how many."""
    kind = kind_of(question.asking)
    return kind == "count" and not FIGURES & set(THE_TWO.sub("it", clause).split()) and bool(FIGURES & set(clause.split()))


def _says_none(meaning: Meaning, clause: str) -> bool:
    none = ("nothing", "none", "dead", "zip", "no", "nothing's")
    return (isinstance(meaning, AskFor) and clause.split()[0] in none) or bool(_NONE_AT_ALL.fullmatch(clause))


def _of_the_prompt(question: Question, clause: str) -> str:
    """The clause without a word that begins it and stands in the prompt: "after the defrost", where that was asked."""
    first, _, rest = clause.partition(" ")
    return rest if first in question.about and first in ("after", "before", "when", "with", "while") else clause


def _is_bound(question: Question, clause: str, said: list[Meaning]) -> bool:
    """ "Less than one meg", beside the point three that it is."""
    match, told = _BOUND.fullmatch(clause), value(said[0]) if said else None
    of_percent = kind_of(question.asking) == "percent"
    if not match or not isinstance(told, float):
        return False
    try:
        bound = number(_PARTS.get(match[2], match[2]))
    except ValueError:
        return False
    bound *= 100 if bound < 1 and of_percent else 1
    return told < bound if match[1] in ("less than", "under", "below", "not even", "short of", "south of") else told > bound


def _only_counts(meaning: Meaning, clause: str) -> bool:
    """ "A spare one": no answer, though a number's word stands in it."""
    doubted = isinstance(meaning, Answer) and all(part.doubt for part in meaning.parts)
    return doubted and not FIGURES & set(_COUNTED.sub("it", clause).split())


def _is_not_another(question: Question, tokens: tuple[str, ...], said: list[Meaning]) -> bool:
    """ "Nothing's warming up": what it is not, beside what it is."""
    return bool(_NOT.match(" ".join(tokens))) and not any(_says_it(question, tokens, meaning) for meaning in said)


def _says_it(question: Question, tokens: tuple[str, ...], meaning: Meaning) -> bool:
    values = {part.value for part in meaning.parts} if isinstance(meaning, Answer) else set()
    books = [phrases_of(id) for id in (question.asking, *question.also) if id in vocabulary()]
    spans = {tokens[at : at + n] for at in range(len(tokens)) for n in range(1, LONGEST + 1)}
    return any(book[span] in values for book in books for span in spans if span in book)


def _of_another_thing(question: Question, clause: str) -> bool:
    """ "The reservoir's got oil": said of a thing that was not asked about."""
    thing = _THING.match(clause)
    own = {*question.about, *own_words(question), "one", "thing", "lot", "rest", "whole", "reading", "answer", "other", "others"}
    return thing is not None and not set(clause[: thing.end()].replace("'s", "").split()) & (own - general())


def _asks(clause: str) -> bool:
    return is_question(clause) and not _RELATIVE.match(clause)


def _of_other_matter(question: Question, tokens: tuple[str, ...]) -> bool:
    """Whether a no in a clause is about something else than the answer: some word of it is neither the question's nor empty."""
    own = {*question.about, *own_words(question)} | _SAYS_NOTHING
    return any(word.removesuffix("'s") not in own and word not in hedge_words("of_anything") | general() for word in tokens)
