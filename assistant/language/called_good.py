"""What is called good, and of how much that tells: "the food is okay" says nothing of the controller, "the hasp's good" no lock.

A thing that is good is not therefore shut, on, out or done. Typed words only. The patterns are the project's own reading of how
people talk.
"""

import re

from assistant.language.answering import SENTENCES
from assistant.language.grammar import normalise
from assistant.language.meaning import DONE_AND_SAFE, Answer, AskFor, Command, Meaning, NotUnderstood, Question, all_asked_back
from assistant.language.names import is_named, own_words
from assistant.language.told_apart import clauses_apart
from assistant.language.vocabulary import kind_of

_GOOD = r"(?:good|fine|okay|ok|alright)"
_ALL_OF_IT = re.compile(
    r"\b(?:all|everything|every|each|rest|others?|else|both|whole|lot|nothing|none|no|same|yes|yeah|yep|yup|except|looks)\b"
)
_FEW = 6
"""Words up to which one clause calls one thing good; in more, heard without commas, several things are told."""
_NO_GOOD = re.compile(
    rf"\b{_GOOD} (?:for (?:nothing|scrap|junk|the (?:bin|trash|scrap)|a door ?stop)|as (?:gone|dead|junk))\b"
    rf"|\b{_GOOD}\b.* (?:on|of|at) the (?:other|next) (?:one|machine|rack|compressor|unit)$"
    rf"|\b(?:not|ain't|isn't|aren't) (?:so|too|very|that|real|really|all that) {_GOOD}\b"
)
""" "Good for nothing", "not so good": anything but that."""
_NO_MORE = re.compile(
    r"\b(?:was|were|had|used to|first|before)\b.*\b(?:isn't|not|doesn't|ain't|aren't|don't)(?: \w+)? now$"
    r"|\b\w+ no longer$|\bthen (?:it|she|they|the \w+) (?:quit|stopped|died|cut out|went out|went off|dried up)$"
)
"""How it was, and is no more."""
_SET = r"(?:set|right|ready|sound|handled|taken care of|as (?:it|they) should be)"
_A_THING_IS = re.compile(
    r"(?:(?:yes|yeah|yep|okay|well|no|nope|so|and|sir|nothing's unsafe|nothing unsafe|it's safe) )*"
    r"(?:(?:the|my|its|his|that|this|these|those|our) )?(?P<thing>(?:[a-z]+ ){0,2}?[a-z]+?)"
    rf"(?:(?:'s| is| are|'re)(?: (?:still|looking|real|pretty|just|both|also))* (?:{_GOOD}|{_SET})"
    r"| (?:still |also )?(?:works?|checks? out|passe[sd]|looks? (?:right|good|fine|okay))"
    r"|(?:'s| has| have) been (?:done|checked|handled))"
    r"(?: (?:again|here|now|up here|too|as well))?"
)
_NO_THING = frozenset(
    "it that this all everything we they i she he everybody everyone these those here there both what things machine compressor"
    " unit room place area rest others them us one ones nothing".split()
)
"""Said of the whole."""
_HOW = frozenset("on off in out back shut closed open done".split())
"""Said of how it is, before it is called good: "on, looks good"."""
_PLAIN = frozenset("the a an old new little big small whole".split())
_HIMSELF = frozenset("footing feet foot eyes eye hands hand gloves glasses goggles boots shoes gear helmet ladder floor".split())
"""One of the things that are asked of who starts: each alone is not all of it."""
_TRIED = {"meter_proved_before": ("meter", "tester"), "meter_proved_after": ("meter", "tester")}
"""What is good, where that is asked."""


def no_good(text: str) -> bool:
    """Whether these words call something anything but good, or good no more.

    >>> no_good("fan's good for nothing"), no_good("valve's not so good"), no_good("it's good"), no_good("no it's good")
    (True, True, False, False)
    >>> no_good("feeding then it quit"), no_good("it was full it isn't now"), no_good("full before bubbles now")
    (True, True, False)
    """
    return bool(_NO_GOOD.search(text) or _NO_MORE.search(text))


def of_what_is_named(question: Question, words: str, meaning: Meaning) -> Meaning:
    """What calls one thing good, in one clause, calls no other so: "the food is good" says nothing of the controller."""
    told = meaning.parts if isinstance(meaning, Answer) else ()
    if len(told) < 2 or len(clauses_apart(words)) > 1 or len(words.split()) > _FEW or _ALL_OF_IT.search(words.lower()):
        return meaning
    if any(question.all_good.get(part.id) != part.value for part in told):
        return meaning
    named = tuple(part for part in told if is_named(part.id, words.lower()))
    return Answer(named) if named else meaning


def called_good(question: Question, words: str, meaning: Meaning) -> Meaning:
    """The meaning, where a thing that is called good is what was asked about; else asked back, asked for, or nothing.

    Args:
        question: what was asked.
        words: as typed.
        meaning: what they were taken for.
    """
    if not isinstance(meaning, Answer) and not (isinstance(meaning, Command) and meaning.name == "continue"):
        return meaning
    text = normalise(words.replace(",", " "))
    if no_good(text) or of_no_contact(question, text):
        return NotUnderstood()
    match = _A_THING_IS.fullmatch(text)
    if match is None or {"all", "everything"} & set(text.split()):
        return meaning
    thing = set(match["thing"].split())
    tried = thing & set(_TRIED.get(question.asking, ())) and " been " not in text
    if match["thing"].rpartition(" ")[2] in _NO_THING or thing & _HOW or tried:
        return meaning
    if question.all_good:
        return _of_one_of_many(question, thing, meaning)
    if kind_of(question.asking) == "acknowledge" and isinstance(meaning, Answer):
        return all_asked_back(meaning)
    if question.takes_a_done and isinstance(meaning, Command):
        return AskFor(DONE_AND_SAFE, pending=question.go_ahead[0])
    another = thing - own_words(question) - set(question.about) - _PLAIN
    if another and isinstance(meaning, Answer) and kind_of(question.asking) in ("choice", "yes_no"):
        return all_asked_back(meaning)
    return meaning


def of_no_contact(question: Question, text: str) -> bool:
    """Whether a contact is asked for that is open, and one is named that is not, or two."""
    if question.asking != "chain_dead_check":
        return False
    return bool(_CLOSED.search(text) or (_IN_ORDER.search(text) and not (_OPEN.search(text) or _EACH.search(text))))


_CLOSED = re.compile(
    rf"^(?!.*\b(?:are|all|rest|others) {_GOOD} (?:but|except))(?!.*\bthe (?:rest|others?)(?:'s|'re| is| are))"
    rf".*(?:'s| is) {_GOOD}\b"
    r"|^(?:it's )?not (?:the )?\w+(?: \w+)?$|^(?:the |it's )*\w+(?: \w+)? or (?:the )?\w+(?: \w+)?$"
)
"""A contact that is good is the one that is not open."""
_IN_ORDER = re.compile(
    r"\b(?:works?|working|pass(?:ed|es)?|(?:is|'s|are) (?:set|there|right|closed)|looks? \w+|should be|been done|handled"
    r"|took care|no issues?|nothing wrong|no problem|checks? out|makes?|beeps?)\b"
)
_EACH = re.compile(r"\b(?:all|every|each|both|none|everything|nothing's|rest|others?)\b")
_OPEN = re.compile(r"\b(?:open\w*|(?<!checks )(?<!check )out|tripped|o l|infinite|dead|broken?|no continuity|bad|one)\b|n't\b")


def may_tell_of(question: Question, id: str, text: str) -> bool:
    """Whether a few words may tell of this one of several things that are asked at once: they name it, or all of them."""
    if not question.all_good or len(text.split()) > _FEW or _ALL_OF_IT.search(text):
        return True
    return is_named(id, text) or (id == "fit_to_start" and bool(_HIMSELF & set(text.split())))


def _of_one_of_many(question: Question, thing: set[str], meaning: Meaning) -> Meaning:
    if thing & _HIMSELF:
        return AskFor(SENTENCES["rest"]) if question.asking == "fit_to_start" else NotUnderstood()
    told = meaning.parts if isinstance(meaning, Answer) else ()
    named = tuple(part for part in told if is_named(part.id, " ".join(thing)))
    return meaning if named else NotUnderstood()
