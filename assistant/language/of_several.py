"""Where one prompt asks for several things: what may be passed on to each of them, and what is too little said for it.

A sentence of something else has words in it that are an answer to one of five things ("down to room temperature", "it is dana").
One of several counts only where it is named, or where next to nothing else is said; "all good" only where nothing else is. The
rules are the project's own.
"""

import re

from assistant.language.grammar import normalise, understand
from assistant.language.hedges import hedge_words
from assistant.language.lone_numbers import FIGURES, counts_another
from assistant.language.meaning import Answer, Meaning, NotUnderstood, Part, Question
from assistant.language.names import is_named, own_words
from assistant.language.phrasebook import tagged
from assistant.language.spotting import general
from assistant.language.vocabulary import vocabulary

_MANY = 4
"""Further things from which a prompt asks for so many that words of anything are an answer to one of them."""
_FEW = 5
"""Words up to which a sentence is little more than its answer."""
_SHORT_CLAUSE = 4
_PARTS = re.compile(r",| and | but | with ")
_TIME = re.compile(
    r"\b(?:seconds?|minutes?|hours?|half|days?|weeks?|ago|since|noon|midnight|morning|night|afternoon|evening|o'clock)\b"
)


def told_of_each(question: Question, words: str, said: Meaning) -> Meaning:
    """The meaning, without what is too little said for it.

    Args:
        question: what was asked.
        words: as typed.
        said: what they were taken for.

    >>> asked = Question("tripped_count", ("alarm_minutes_ago",))
    >>> told_of_each(asked, "i've got three running", Answer((Part("tripped_count", 3.0),)))
    NotUnderstood()
    """
    if not question.also or not isinstance(said, Answer):
        return said
    text = normalise(words.replace(",", " "))
    good = {id: value for id, value in question.all_good.items() if id in (question.asking, *question.also)}
    if len(good) > 1 and len(said.parts) == len(good) and {part.id: part.value for part in said.parts} == good:
        outright = len(question.also) < _MANY or _OUTRIGHT.search(text)
        return said if outright or _says_nothing_else(question, text) else NotUnderstood()
    kept = tuple(part for part in said.parts if _is_told(question, words, text, part, len(said.parts)))
    return said if len(kept) == len(said.parts) else Answer(kept) if kept else NotUnderstood()


def of_the_one(question: Question, words: str) -> str:
    """A sentence on how many tripped without what it tells of those that run: "only the one, the other two's chugging along"."""
    if question.asking != "tripped_count" or "running_count" in question.also:
        return words
    return _ALONE.sub("just the one", _OTHERS_RUN.sub("", words)) or words


_OTHERS_RUN = re.compile(
    r",? ?\b(?:and |but )?(?:all )?(?:the )?other (?:one|two|three|four|five)(?:'s|'re| are| is)?"
    r"(?![^,.]*\b(?:off|down|out|tripped|dead|not|quit|stopped)\b) [^,.]*"
    r"\b(?:chug|runn?|hum|work|turn|going|go on|purr|fine|happy|well)\w*[^,.]*",
    re.IGNORECASE,
)
_ALONE = re.compile(
    r"\b(?:just|only) (?:her|him|it|this one|that one|the one) (?:on (?:her|his|its) own|by (?:her|him|it)self|alone)\b",
    re.IGNORECASE,
)


def _says_nothing_else(question: Question, text: str) -> bool:
    """Whether each word says nothing beside "all good", or names what was asked for."""
    known = {*question.about, *own_words(question), *_ASSENTS} | general()
    known |= hedge_words("settled") | hedge_words("beside_deeds") | hedge_words("did")
    ids = (id for id in (question.asking, *question.also) if id in vocabulary())
    for phrase in (*tagged("choices", "all_good"), *(choice for id in ids for choice in vocabulary()[id].choices)):
        known |= set(phrase.split())
    return all(word in known or word.removesuffix("'s").removesuffix("'re") in known for word in text.split())


_A_FIGURE = "|".join(map(re.escape, sorted(FIGURES)))
_RUN = re.compile(rf"\b(?:{_A_FIGURE}|\d+) (?:are |still |left |others )*(?:running|going|up)\b")
"""How many run where it was asked how many are off."""
_OUTRIGHT = re.compile(
    r"\b(?:all|everything|everything's|it's all|they're all)(?: \w+)? (?:good|fine|clear|normal|right|okay|set|there|well"
    r"|as it should|in order|working|checks out)\b|\bgood (?:on )?all\b|\bacross the board\b|\beverything\b"
    r"|\blooks? (?:good|fine|normal|okay|alright|all right)\b"
)
"""That all is good, said outright."""
_ASSENTS = frozenset(
    "yes yeah yep yup aye okay sure everything everybody all good fine clear normal right set ready nothing no sir".split()
)


def _is_told(question: Question, words: str, text: str, part: Part, count: int) -> bool:
    entry = vocabulary().get(part.id)
    if entry is None or part.doubt or part.id not in (question.asking, *question.also):
        return True
    if part.id == "tripped_count" and _RUN.search(text):
        return False
    if entry.kind == "count" and part.value and counts_another(part.id, text) and not FIGURES & set(text.split()):
        return False  # "we're good on all that" counts nothing
    if part.id == "alarm_minutes_ago":  # "two eighteen" is no two, eighteen minutes ago
        return count == 1 or bool(_TIME.search(text)) or _by_itself(question, words, part)
    if entry.kind not in ("choice", "yes_no") or not question.yes_is_all or len(question.also) < _MANY:
        return True
    little = len(text.split()) <= _FEW + 2 * (count - 1)
    return little or is_named(part.id, text) or _by_itself(question, words, part)


def _by_itself(question: Question, words: str, part: Part) -> bool:
    """Whether one of its clauses says this and next to nothing else."""
    alone = question.of_one(part.id)
    clauses = [normalise(clause) for clause in _PARTS.split(words)]
    return any(understand(alone, clause) == Answer((part,)) for clause in clauses if 0 < len(clause.split()) <= _SHORT_CLAUSE)
