"""What somebody says beside an answer: whether it changes nothing."""

import re
from collections.abc import Iterator
from functools import cache

from assistant.language.classes import whole_here
from assistant.language.hedges import hedge_words, is_sound, steering, steering_at_once, without_sounds
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, Command, Meaning, Part, Question
from assistant.language.names import name_words, own_words
from assistant.language.own_unit import METER
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.questions import is_question
from assistant.language.spotting import LONGEST, general, looks, phrases_of, stands_otherwise
from assistant.language.standing_out import SAFETY
from assistant.language.vocabulary import kind_of, vocabulary

_JOINS = re.compile(
    r" (?:and then|and(?! a (?:half|quarter)\b| half\b| quarter\b)|so|then) "
    r"| (?:but|though) (?=(?:it|she|he|they|i|we|there|that)(?:'\w+)?\b)| (?=(?:because|since) )"
)
_REASONS = ("because", "since")
_BACK_TOO = re.compile(
    r"(?:and |also )?(?:the |my )?(?:control |module |output |probe |sensor )?(?:fuses?|connectors?|plug|probe|wires?|screws?"
    r"|cap|caps|tag)"
    r"(?:'s| is| are)? (?:plugged |screwed |put |all )*(?:back |back in|back on)(?: ?(?:in|on|in place|where \w+ (?:was|were"
    r"|belongs?)))?"
    r"(?: (?:again|now|too|tight|as well))*"
    r"|(?:and |i've got )?(?:my |the )?(?:gloves|glasses|goggles|shield)(?: and (?:gloves|glasses|goggles|shield))?(?:'s| are"
    r"| is)? (?:on|down)"
    r"|(?:and |like |as )?i? ?(?:just |already )?(?:said so|said that|said it|told you(?: so| that)?)(?: already| before)?"
)
"""What else was put back or put on, or was said before: told beside another deed it changes nothing of that."""
_ONE_MOMENT = re.compile(r"\bone (?:second|sec|minute|moment|more time)\b")
_NO_COUNT = re.compile(
    r"\b(?:that|this|your|which|every|each|the|the (?:first|last|good|bad|other|open|right|same|only|worst|next|old|new|big))"
    r"(?: (?:damn|single|last|bloody|open|bad|good|dead|wrong|old|next))? one\b(?! (?:hundred|point|oh|\w+teen|\w+ty))"
    r"|\bmy own one\b|\bone of (?:them|those|these|the|my|our|your)\b|\b(?:all|both|the other) (?:two|three|four|five|six)\b"
)
"""What is no number though a number's word stands in it."""
_THE_OIL_ONE = re.compile(
    r"\b(?:the|that) (?:oil|suction|discharge|upper|lower|downstream|upstream|awkward|stiff|far|near|back|front|little) one\b"
)
"""One of several that were shut, opened or landed; where a reading is asked for, the place of another."""
_READ = re.compile(rf"\b(?:{'|'.join(sorted(FIGURES))}|\d+)(?: (?:{'|'.join(sorted(FIGURES))}|\d+))*(?: volts?)?\b")
"""What a meter showed on the source it is tried on."""
_ON_A_SOURCE = frozenset("read reads showed shows gave gives outlet socket receptacle she he".split())
"""Words that tell where and how a meter was tried."""
_LASTED = re.compile(
    r"\b(?:(?:about|a|half an|a few|a couple of|another|some|good"
    rf"|{'|'.join(sorted(FIGURES - {'point', 'minus', 'negative'}))}) ?)+"
    r" (?:seconds?|minutes?|hours?|days?|weeks?|months?|years?)(?: later| ago| before| after| apart| now| or so)?\b"
)
"""How long, or how long ago: it answers no question for anything but a time."""
_CONCEDES = (("even", "though"), ("even", "with"), ("although",), ("despite",), ("in", "spite"))
_OTHERS = frozenset("other others another neighbor neighbors neighbor's last yesterday book manual spec specs supposed".split())
"""Beside a number these may make it another's, another day's or the book's."""
_LONGEST_ASIDE = 8
_EXCEPTING = frozenset("bar except but only just save minus besides barring although though however apart aside not".split())
_WAITING = frozenset("wait hang hold second sec minute moment sorry maybe actually".split())
_YES = ("yes sir", "yes ma'am", "okay yes", "oh yes", "oh yeah", "yes", "yeah", "yep", "yup", "sure", "done", "okay")


def clauses(pieces: list[str]) -> Iterator[list[str]]:
    """The ways to cut an utterance into clauses: at its commas, then at what joins two of them too."""
    if len(pieces) > 1:
        yield pieces
    finer = [part for piece in pieces for part in _JOINS.split(f" {piece} ".replace("  ", " ").strip()) if part.strip()]
    if len(finer) > len(pieces):
        yield finer


def strictly(question: Question) -> bool:
    """Whether somebody's safety hangs on the answer: then every word beside it must be known to change nothing."""
    if question.asking == "command":
        return not question.loose
    entries = [vocabulary()[id] for id in (question.asking, *question.also) if id in vocabulary()]
    return any(entry.kind == "acknowledge" or entry.group == "safety" or entry.id in SAFETY for entry in entries)


def harmless(
    question: Question, clause: str, said: list[Meaning], more: frozenset[str] = frozenset(), strict: bool = False
) -> bool:
    """Whether a clause beside an answer changes nothing of it.

    Args:
        question: what was asked.
        clause: normalised words that answer nothing by themselves.
        said: what the other clauses mean.
        more: further words that change nothing where safety hangs on the answer.
        strict: whatever was asked, each word must be known.
    """
    clause = _THE_OIL_ONE.sub("it", clause) if question.asking == "command" and question.takes_a_done else clause
    if strictly(question) and _BACK_TOO.fullmatch(clause):
        return True
    clause = _NO_COUNT.sub("it", clause).replace(" it once", " it")
    if question.asking in METER:
        clause = _READ.sub("it", clause)  # "shows two oh eight": what it reads says that it is good, and is weighed apart
    if not _times(question):
        clause = _LASTED.sub("long", clause)
    tokens = without_sounds(tuple(clause.split()))
    concedes = any(tokens[: len(lead)] == lead for lead in _CONCEDES)
    if (concedes or tokens[0] in _REASONS) and not strictly(question) and not set(tokens) & (FIGURES - {"half"}):
        return True
    if question.all_good and tokens[0] in _EXCEPTING:
        return False  # "yes, bar the fan"
    figures = FIGURES - set(question.about)
    counted = any(word.removesuffix("'s") in figures or word[0].isdigit() for word in tokens)  # "one's off"
    if is_question(clause) or counted or len(tokens) > _LONGEST_ASIDE:
        return False
    if is_sound(clause):
        return True
    if any(word.removesuffix("'s") in _unsettling() or "n't" in word for word in tokens):
        return False
    if strict or strictly(question):
        if stands_otherwise(question, tokens):
            return False
        known = _plain(question) | more | (_ON_A_SOURCE if question.asking in METER else frozenset())
        going_on = {word for word in tokens if word.endswith("ing")} - set(question.about) - {"wearing", *more}
        return not going_on and all(word in known for word in tokens)
    if set(tokens) & _elsewhere(question) or (set(tokens) & _OTHERS and _of_number(question)):
        return False
    return not another(question, tokens, said)


def _of_number(question: Question) -> bool:
    return any(vocabulary()[id].kind in NUMBER_KINDS for id in (question.asking, *question.also) if id in vocabulary())


def _times(question: Question) -> bool:
    """Whether a time, or how many of something, is asked for."""
    kinds = {vocabulary()[id].kind for id in (question.asking, *question.also) if id in vocabulary()}
    return bool(kinds & {"minutes", "seconds", "hours", "days", "count", "date"})


def told_beside(question: Question, clause: str) -> bool:
    """Whether a clause changes nothing of any answer to this question, whatever the others say.

    It may count something where no number is asked for ("second time this week"); never where safety hangs on the answer.

    >>> told_beside(Question("reset_history"), "the store guys do it"), told_beside(Question("reset_history"), "maybe once")
    (True, False)
    """
    tokens = clause.split()
    if strictly(question) or not tokens or len(tokens) < 2:
        return False
    kinds = {vocabulary()[id].kind for id in (question.asking, *question.also) if id in vocabulary()}
    counts = not kinds & set(NUMBER_KINDS) and question.asking != "command"
    plain = " ".join(word for word in tokens if not (counts and word in FIGURES)) or "it"
    return harmless(question, plain, []) and not answers(question, tokens)


def answers(question: Question, tokens: list[str]) -> bool:
    """Whether a word of an answer stands in these words, though it may belong to anything."""
    books = [phrases_of(id) for id in (question.asking, *question.also) if id in vocabulary()]
    books += [looks(question)] if question.asking == "command" else []
    return any((word.removesuffix("'s"),) in book for book in books for word in tokens)


@cache
def _unsettling() -> frozenset[str]:
    return hedge_words("turning") - hedge_words("mild_beside")


def _plain(question: Question) -> frozenset[str]:
    """Words that are known to change nothing of an answer on which safety hangs: the prompt's and plain ones."""
    offered = (*question.go_ahead, *question.other_words)
    own = {*own_words(question), *question.about, *(word for phrase in offered for word in phrase.split())}
    own |= {
        f"{word}{end}" for word in question.about for end in ("ed", "d", "s", f"{word[-1]}ed")
    }  # "switched" where it says switch
    own |= {word.removesuffix("ed") for word in question.about}
    own |= {"shut", "closed"} if {"shut", "closed", "close"} & own else set()
    words = general() | hedge_words("settled") | hedge_words("did") | own
    return frozenset(words | {f"{word}'s" for word in words})


def _elsewhere(question: Question) -> set[str]:
    """Words that name another reading which may be said here: it would be lost."""
    others = {word for id in question.volunteer for word in name_words(id)}
    return others - own_words(question) - set(question.about) - general()


def another(question: Question, tokens: tuple[str, ...], said: list[Meaning], strict: bool = False) -> bool:
    """Whether a word of another answer stands in these words; `strict`: one that may belong to anything too."""
    values = {part.value for meaning in said if isinstance(meaning, Answer) for part in meaning.parts if isinstance(part, Part)}
    books = [phrases_of(id) for id in (question.asking, *question.also) if id in vocabulary()]
    if question.asking == "command":
        books = [looks(question)] if question.look else []
        values = {meaning.about for meaning in said if isinstance(meaning, Command)}
    kinds = {vocabulary()[id].kind for id in (question.asking, *question.also) if id in vocabulary()}
    generic = hedge_words("of_anything")
    here = whole_here(question, " ".join(tokens))
    if here and any(book.get(tuple(here.split()), here) not in values for book in books):
        return True
    for book in books:
        for start in range(len(tokens)):
            for n in range(1, min(LONGEST, len(tokens) - start) + 1):
                phrase = tokens[start : start + n]
                tag = book.get(phrase)
                other = tag is not None and tag not in values and not tag.startswith("ask ")
                other = other and not (tag != " ".join(phrase) and set(phrase) <= set(question.about))  # "checked it dead"
                if other and kinds <= {"choice", "yes_no"} and (strict or n > 1 or phrase[0] not in generic):
                    return True
    return False


def elaborated(question: Question, text: str) -> Meaning | None:
    """ "Yeah, he came and took it off": a yes, and what is said with it is of the same matter and turns nothing."""
    entry = vocabulary().get(question.asking)
    look = question.loose and "yes" in question.go_ahead
    lead = next((yes for yes in _YES if text.startswith(f"{yes} ")), "")
    rest = tuple(text.removeprefix(lead).split())
    if look and lead not in ("", "done", "okay"):
        agreed = set(rest) & set(question.about) and harmless(question, " ".join(rest), [])
        return Command("continue", "yes") if agreed else None
    if not lead or entry is None or question.also or entry.kind not in ("yes_no", "acknowledge"):
        return None
    if lead in ("done", "okay") and entry.kind == "yes_no":
        return None
    value = True if entry.kind == "acknowledge" else "yes"
    loosely = entry.kind == "yes_no" and not strictly(question) and not _WAITING & set(rest)
    of_matter = {word.removesuffix("'s") for word in rest} & (set(question.about) - general())
    if not of_matter and not loosely and not _has_phrase(question.asking, rest, {"yes", "done"}):
        return None
    said: list[Meaning] = [Answer((Part(question.asking, value),))]
    turned = _has_phrase(question.asking, rest, {"no"})
    return said[0] if not turned and harmless(question, " ".join(rest), said) else None


def _has_phrase(id: str, tokens: tuple[str, ...], tags: set[str]) -> bool:
    book = phrases_of(id)
    spans = (tokens[at : at + n] for at in range(len(tokens)) for n in range(1, LONGEST + 1))
    return any(book.get(span) in tags for span in spans)


def steers(question: Question, text: str) -> Command | None:
    """A command that is the whole sentence and no answer to anything, whatever words of one stand in it: "back up one"."""
    kind = kind_of(question.asking)
    if kind == "free":
        return None
    ids = [id for id in (question.asking, *question.also) if id in vocabulary()]
    known = any("unknown" in vocabulary()[id].choices for id in ids)  # there it is an answer
    waits = question.asking == "command" and question.go_ahead == ("continue",)
    skips = question.asking != "command" and not strictly(question) and not known
    for pattern, command in steering_at_once():
        if pattern.fullmatch(text) and (skips or not command.startswith("skip") or (waits and command == "skip")):
            name, _, about = command.partition(" ")
            return Command(name, about)
    return None


_LATER = re.compile(
    r"(?:(?:okay|so|well|alright|right|yeah|and|no|not yet|sure|hey) )*(?:please )?(?:(?:just )?(?:give (?:me|us)|gimme"
    r"|i need|i'll need|need|i'll be|be"
    r"|back in|i'll be back in|hang on|hold on|bear with me|wait|it'll take(?: me)?|that'll take(?: me)?|this'll"
    r" take(?: me)?|takes? me)(?: for)?(?: about| like)?"
    r" (?:a|an|one|two|three|five|ten|fifteen|twenty|thirty|a couple(?: of)?|a few|half an|another|some)(?: (?:good"
    r"|more|little|five|ten|quick))*"
    r"(?: (?:bit|sec|secs|seconds?|minutes?|mins?|moment|hours?|while|tick|time))?(?: (?:here|please|to do (?:it|that)"
    r"|for that|on that|back|or so))*)"
)
_PLANNED = re.compile(
    r"(?:(?:okay|so|well|and|because|but|i) )*(?:i'll|i will|i'm gonna|i'm going to|gonna|going to|let me|have to|gotta"
    r"|need to|i'm still|still"
    r"|i've got|i got|got|have|have got|there's|it's|they're|she's|the \w+(?: \w+)?(?:'s| is| are)) .+"
)


_WAITS = re.compile(
    r"\s*,\s*(?:hang on|hold on|hold up|wait|bear with me|one (?:sec|second|moment|minute)|give me a (?:sec|second"
    r"|moment|minute)|just a (?:sec|second"
    r"|minute|moment))(?: (?:a|one|just a) (?:sec|second|minute|moment))?\s*$",
    re.IGNORECASE,
)


_FIRST = re.compile(
    r"^\s*(?:(?:hang on|hold on|hold up|wait|one (?:sec|second|moment)|let me (?:get|see|look|check|read|reach"
    r"|climb)(?: (?:to|at|up|it|that|there|over|the gauge|the meter))*"
    r"|let's see|okay|same(?: again| here| thing)?|there)\s*,\s*)+(?=.*\w)",
    re.IGNORECASE,
)


def without_waiting(words: str) -> str:
    """The words without a last "hang on a minute", which is no minute of what was asked; the whole is left where nothing else is.

    >>> without_waiting("three , ten minutes ago , hang on a minute"), without_waiting("hang on a minute")
    ('three , ten minutes ago', 'hang on a minute')
    """
    plain = _FIRST.sub("", _WAITS.sub("", words))
    return plain if any(word in FIGURES for word in plain.lower().split()) else words


def put_off(words: str) -> bool:
    """Whether somebody asks for time to do it: "give me five minutes, got a coil in the van".

    >>> put_off("give me five minutes, got a coil in the van"), put_off("it took me a bit")
    (True, False)
    """
    clauses = [" ".join(clause.split()) for clause in words.lower().split(",") if clause.strip()]
    asks = [bool(_LATER.fullmatch(clause)) for clause in clauses]
    return any(asks) and all(ask or _PLANNED.fullmatch(clause) for ask, clause in zip(asks, clauses, strict=True))


_AT_IT_AGAIN = re.compile(
    r"\b(?:i'm|i am|we're|we are|still) looking for\b"
    r"|\b(?:i'm|we're|let me|i'll|gonna|have to|need to) (?:go|going|look|looking|check|checking|search|searching|try"
    r"|trying|measure"
    r"|measuring|read|reading|do|doing) (?:over |at |for |through )?(?:it|that|them|this) (?:over )?again\b"
    r"|\bstill (?:looking|checking|searching|soaping|sniffing) (?:for|it|at|around|through|with|over|them)\b"
    r"|\bstill going (?:over|through|(?:round|around) (?:it|them|the|that|with))\b|\bnot done (?:looking|searching|checking)\b"
    r"|(?:^|\b(?:i|we) )(?:haven't|have not)(?: quite| even| really)? (?:finished|got (?:to|round|around|up|over|that far)"
    r"|been (?:up|over|round|around|out|in)|looked|checked|searched|had (?:a chance|time))\b"
)
"""Who is still at it has not answered."""
_REST_TO_COME = re.compile(
    r"\b(?:the )?(?:rest|others?|other (?:ones?|two|three|four|five)|last (?:one|two)|one more|two more)"
    r"(?: of (?:them|those))? (?:that )?(?:i|we)(?:'ve|'m|'ll| have| am)? (?:still |yet |just |only |also )*"
    r"(?:gotta|got|have|need|haven't|gonna|going|can't|couldn't|didn't|not|must|don't)\b"
    r"|\b(?:i|we) (?:still |just )*(?:gotta|got to|have to|need to|haven't|gonna|didn't|don't have|can't|couldn't)"
    r" (?:\w+ ){0,3}(?:to |at |on )?(?:the )?(?:rest|others?|other (?:ones?|two|three|four|five))\b"
)
"""What is told of one where all are asked for is no answer while the rest is still to be looked at."""


def still_at_it(question: Question, text: str) -> bool:
    """Whether somebody is still looking, or has some of it still to look at, where all is asked for.

    >>> still_at_it(Question("leak_found"), "still looking for it"), still_at_it(Question("oil_level"), "it's low")
    (True, False)
    """
    return bool(_AT_IT_AGAIN.search(text)) or (not question.also and bool(_REST_TO_COME.search(text)))


def steered(question: Question, text: str) -> Meaning | None:
    """A command inside a sentence that can be nothing else: "hold on, I dropped something"."""
    figures = FIGURES - {"one"} if _ONE_MOMENT.search(text) else FIGURES
    if any(word in figures or word[0].isdigit() for word in text.split()):
        return None
    skips = question.asking != "command" and not strictly(question)
    for pattern, command, offered in steering():
        may_be = offered not in question.go_ahead and (skips or not command.startswith("skip"))
        if may_be and (match := pattern.fullmatch(text)):
            own = set(question.about) | general() | hedge_words("settled") | own_words(question)
            named = match.groupdict().get("what")
            if named is None or all(word in own for word in named.split()):
                name, _, about = command.partition(" ")
                return Command(name, about)
    return None
