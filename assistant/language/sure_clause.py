"""An answer that one clause gives for sure, whatever the others tell: "low i can only just see it at the bottom".

It is looked for only after all else failed. The patterns are the project's own reading of how people talk.
"""

import re
from collections.abc import Callable, Iterator

from assistant.language.grammar import normalise
from assistant.language.hedges import hedge_words, is_aside, is_sound, otherwise_said
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, AskFor, Command, Meaning, NotUnderstood, Part, Question
from assistant.language.narrated import explains, narrates
from assistant.language.numbers import UNIT_WORDS
from assistant.language.passed_over import (
    DENIES,
    GAVE_AWAY,
    JOINS,
    LEFT_UNDONE,
    bare,
    of_before,
    of_some,
    only_looked_at,
    passed_over,
    strict,
    value,
)
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.questions import is_question
from assistant.language.run_on import BEGINS, has_a_tag, may_part
from assistant.language.spotting import looks, phrases_of
from assistant.language.unready import trouble
from assistant.language.vocabulary import kind_of, vocabulary

Understood = Callable[[str], Meaning]
_LONGEST, _LONGEST_CORE = 34, 16
_PARTICLES = frozenset("it them there here all".split())
_MAY_FOLLOW = frozenset("the my our a an this that these those some no just only there looks must can could".split())
"""Behind one of those a clause may begin with one of these, where what stands before is a whole answer."""
_WAITS = re.compile(
    r"\b(?:wait|hold on|hang on|hold up|one (?:second|sec|moment)|give me|let me|sorry|no|actually|i mean|oops)\b"
)
_PUTS_RIGHT = re.compile(r"\b(?:no|wait|sorry|actually|i mean|make that|oops|correction|scratch that|rather)\b")
_LEAVES_OPEN = re.compile(
    r"\b(?:everything|everyone|everybody|anything|all|any|nothing) (?:but|except|bar)\b|\bor\b(?! so\b| thereabouts\b| better\b)"
)
"""What names an exception, or two things."""
_UNITS = frozenset(word for forms in UNIT_WORDS.values() for form in forms.split("|") for word in form.split()) | {
    "per", "to", "plus"
}  # fmt: skip
"""What belongs to the number before it."""
_MOST = frozenset(
    "worst highest lowest most best biggest warmest coldest hottest least one ones number that what all only reading"
    " thing".split()
)
_MOST_BEHIND = frozenset("the my its is was at it's that's a and her his this on in of".split())
_HAS_NOT = ("hasn't", "haven't", "didn't")
_JOINED_TO = frozenset("of with than like from for to all both by at on in off and over under like".split())
_PLACED = frozenset("nearest closest by near next on at".split())
"""Behind "the one": which of several."""
_WHICH = frozenset(
    "middle center left right end last first second third other big small bad that this far near top bottom outer each every"
    " which the no any some only".split()
)
_FOUND = frozenset("found got get saw see had measured read".split())
_VERB = re.compile(
    r"(?:\w{2,}(?:ed|s)|went|came|got|had|just|only|never|\w+n't|will|would|should|could|took|held|made|did|fell|ran|sat|stood"
    r"|kept|still|all|might|may|must|have|are|went|blew|broke|do|go|look|read|feel|run|were|said|told|both|quit|shut|cut|put)$"
)
"""What stands behind an "it" that begins a clause; behind one that ends it stands none of these."""
_TOLD_BY_OTHERS = ("reset_history", "trip_spread", "first_to_trip")
"""What nobody who comes later can know but from others."""
_THEY_SAY = re.compile(
    r"^(?:and |but )?(?:the )?(?:\w+ ){0,2}(?:guys?|manager|staff|they|he|she|crew|shift|lady|clerk|store)"
    r" (?:told me|told us|tells me|said|says|say|reckons?|mentioned)(?: that)? "
)
_NOES = ("no", "nope", "nah")
_GENERAL = ("wrong",)
"""What says less than another word of the same look: "wrong, it's always hot"."""
_GO_AHEAD = frozenset(("", "said so", "done", "yes"))
_NOT_NOW = re.compile(r"\b(?:was|were|had been|used to|before|yesterday|earlier|last|when|after|if|until)\b")
_BARE_WORDS = frozenset("yes no nope nah yeah yep yup okay sure one one's".split())
_CALLED_IT = re.compile(r"(?:and |but |so )*(?:(?:i'd|i'll|we'll|let's|i would) )?(?:call|say|make) (?:it|that|this)\b")
"""What settles a reading that moves: "it's bouncing but i'd call it two ten"."""
_CALLED = re.compile(r"\w+(?:'s|'re|s are| is)$")


def agrees(question: Question, words: str, understood: Understood) -> bool:
    """Whether the clauses of an utterance say one thing: "it went hard but it's all the way shut"."""
    said = _by_its_clauses(question, _clauses([normalise(words)]), understood)
    return isinstance(said, Answer | Command)


def surely_said(question: Question, words: str, understood: Understood) -> Meaning:
    """The answer of the clauses that give one, where what the others tell changes nothing of it.

    Args:
        question: what was asked.
        words: as typed, not understood as a whole.
        understood: what one clause means.
    """
    entry = vocabulary().get(question.asking)
    pieces = [normalise(piece) for piece in words.split(",") if piece.strip()]
    text = " ".join(pieces)
    if (entry is not None and entry.kind == "free") or not 1 < len(text.split()) <= _LONGEST:
        return NotUnderstood()
    asks = words.rstrip().endswith("?") or has_a_tag(words) or _begins_asking(pieces)
    if asks or _in_trouble(question, text) or _LEAVES_OPEN.search(text):
        return NotUnderstood()
    if strict(question) and GAVE_AWAY.search(text):
        return NotUnderstood()
    if question.asking in _TOLD_BY_OTHERS:
        pieces = [_THEY_SAY.sub("", piece) or piece for piece in pieces]
    said = _said(question, pieces, understood)
    if isinstance(said, NotUnderstood) and (not strict(question) or only_looked_at(question)):
        said = _concluded(question, text, understood)
    plainly = pieces if LEFT_UNDONE.search(text) else [otherwise_said(piece) for piece in pieces]
    return said if not isinstance(said, NotUnderstood) or plainly == pieces else _said(question, plainly, understood)


def _concluded(question: Question, text: str, understood: Understood) -> Meaning:
    """What somebody says that it comes to, whatever he says it from: "i can't see any so i'd have to say low"."""
    match = _SO.fullmatch(text)
    if match is None or is_question(match["why"]) or _UNSURE.search(match["why"]):
        return NotUnderstood()
    counted = any(vocabulary()[id].kind in NUMBER_KINDS for id in (question.asking, *question.also) if id in vocabulary())
    if counted and FIGURES & set(match["why"].split()):
        return NotUnderstood()
    if strict(question) and not all(narrates(clause) or explains(clause, False) for clause in _clauses([match["why"]])):
        return NotUnderstood()
    said = understood(match["it"])
    return said if _sure(question, said) and _may_be_all(question, match["it"]) else NotUnderstood()


_SO = re.compile(
    r"(?P<why>(?:.+ )?(?!(?:not|ever|been|was|are|is|or|quite|just|even|went|that|looks?) )\w+(?<!n't)(?<!'s)(?<!'re)) so"
    r" (?:(?:i'd|i would|i'll|we'd|i'm|we're|let's|i|you could)(?: have to| going to| gonna| only)?"
    r" (?:say(?:ing)?|call(?:ing)? (?:it|that)|go(?:ing)? with|put(?:ting)?(?: it| that)?(?: down)?(?: as)?) )?"
    r"(?P<it>(?:\S+ ?){1,6})"
)
"""Behind it stands what follows from the rest; "it's been so low" is none."""
_UNSURE = re.compile(
    r"\b(?:if|unless|when|until|maybe|might|could be|should|supposed|ask|asked|says?|said|tells?|told|neighbor\w*)\b"
)


def _begins_asking(pieces: list[str]) -> bool:
    """Whether it begins with a question, but for one that somebody asks himself: "now where are we"."""
    return is_question(pieces[0]) and not (len(pieces) > 1 and is_aside(pieces[0], False))


def _said(question: Question, pieces: list[str], understood: Understood) -> Meaning:
    """What pieces say, cut at their commas, at what begins a clause, or around one stretch."""
    said = _by_its_clauses(question, pieces, understood) or _by_its_clauses(question, _clauses(pieces), understood)
    said = said or _by_its_clauses(question, _clauses(pieces, _PRONOUN), understood)
    if said is None:
        return NotUnderstood()  # two answers, and nothing that puts one of them right
    if isinstance(said, Answer | Command):
        return said
    found = list(_by_one(question, pieces, understood))
    if len(found) > 1 and {value(meaning) for meaning in found} <= {0.0, "none_present"}:
        found = [meaning for meaning in found if value(meaning) == 0.0] or found
    alike = bool(found) and all(_same(meaning, found[0]) for meaning in found)
    return found[0] if alike else NotUnderstood()


def _in_trouble(question: Question, text: str) -> bool:
    """Whether it sounds like trouble, but for the words of the answers themselves: "they fell", "hissing"."""
    ids = [id for id in (question.asking, *question.also) if id in vocabulary()]
    books = [looks(question)] if question.look else [phrases_of(id) for id in ids]
    own = {word for book in books for phrase in book for word in phrase}
    return trouble(" ".join("it" if word in own else word for word in text.split()))


def _same(one: Meaning, other: Meaning) -> bool:
    if isinstance(one, Command) and isinstance(other, Command):
        return one.name == other.name == "continue" and (one.about == other.about or {one.about, other.about} <= _GO_AHEAD)
    return one == other


def _none_and_zero(one: Meaning, other: Meaning) -> bool:
    """ "Nothing, zero": of volts and amps the same."""
    return {value(one), value(other)} == {0.0, "none_present"}


def _clauses(pieces: list[str], only: re.Pattern[str] = BEGINS) -> list[str]:
    """The clauses of an utterance, where its commas and the words that begin one part them."""
    found: list[str] = []
    for piece in pieces:
        found += _parted(piece.split(), only)
    return found


_PRONOUN = re.compile(
    r"(?:it|they|he|she|we|i|that|there)(?:'(?:s|re|ve|m|d))?$|(?:and|but|because|cause|cos|though|although|so|then)$"
)
"""What begins a clause and is no noun: "return line's hot" is one clause."""


def _parted(tokens: list[str], only: re.Pattern[str] = BEGINS) -> list[str]:
    cuts = [at for at in range(1, len(tokens)) if _begins(tokens, at) and (only is BEGINS or only.match(tokens[at]))]
    return [" ".join(tokens[start:end]) for start, end in zip([0, *cuts], [*cuts, len(tokens)], strict=True)]


def _begins(tokens: list[str], at: int) -> bool:
    """Whether a clause surely begins at this word."""
    word, before, behind = tokens[at], tokens[at - 1], " ".join(tokens[at + 1 : at + 2])
    if word == "so" and (before.endswith("n't") or before in ("not", "is", "it's", "that's", "are", "ever", "or")):
        return False  # "not so bad"
    if word == "and" and at + 2 == len(tokens) and "with" in tokens[:at] and not _VERB.match(behind):
        return False  # "blocked with sand and dust"
    if word in JOINS:
        fraction = tokens[at : at + 3] in (["and", "a", "half"], ["and", "a", "quarter"])
        return before != "hundred" and not fraction and bool(behind) and (word, behind) != ("so", "far")
    if word == "the" and behind in ("other", "others", "rest", "one") and before not in _MOST_BEHIND | _JOINED_TO:
        return behind != "one" or not _PLACED.isdisjoint(tokens[at + 2 : at + 3])
    if word == "the" and behind in _WHICH and tokens[at + 2 : at + 3] == ["one"] and before not in _MOST_BEHIND | _JOINED_TO:
        return True  # "one's open the left one doesn't make"
    if word in _HAS_NOT and (before in FIGURES or before in _UNITS):
        return True  # "still thirty eight hasn't moved"
    if before in ("till", "until", "when", "while", "where", "how", "after", "before", "than", "whenever"):
        return False  # "turned it till | it stopped"
    if word in ("same", "says") or before in JOINS or before in FIGURES:
        return False  # "one blade's gone"
    if word in ("it", "they") and not _VERB.match(behind):
        return False  # "won't take it in two hours"
    if word == "i" and behind in _FOUND and before in _MOST:
        return False  # "the worst i found was"
    if word in _MOST - {"one", "ones", "number", "that", "what", "all", "only", "reading", "thing"}:
        return before not in _MOST_BEHIND  # "had them all under one, worst is point four"
    if word == "one's" and before in _WHICH:
        return False  # "the middle one's open"
    return bool(BEGINS.match(word)) and may_part(tokens, at)


def _sure(question: Question, said: Meaning) -> bool:
    """Whether it answers what was asked, and nothing else, without a doubt."""
    if isinstance(said, Command):
        return said.name == "continue"
    if not isinstance(said, Answer) or any(part.doubt and not vocabulary()[part.id].from_profile for part in said.parts):
        return False
    return {part.id for part in said.parts} <= {question.asking, *question.also}


def _by_its_clauses(question: Question, clauses: list[str], understood: Understood) -> Meaning | bool | None:
    """What the clauses say: an answer, False where they say none, None where two of them say two things."""
    meanings = [understood(bare(clause)) for clause in clauses]
    sure = [at for at, said in enumerate(meanings) if _sure(question, said) and _may_be_all(question, bare(clauses[at]))]
    if not sure or len(clauses) < 2:
        return False
    last = sure[-1]
    for at, clause in enumerate(clauses):
        denied_next = bare(clause) in _NOES and at + 1 < len(clauses) and DENIES.search(clauses[at + 1])
        called = at < last and isinstance(meanings[at], AskFor) and _CALLED_IT.match(clauses[last])
        if called or (at < last and of_before(clause, clauses[last])) or denied_next:
            continue
        waits = at < last and not strict(question) and bool(_WAITS.search(clause)) and not FIGURES & set(clause.split())
        if at not in sure and not waits and not passed_over(question, clause, meanings[at], [meanings[n] for n in sure]):
            return False
    put_right = any(_PUTS_RIGHT.match(clause) for clause in clauses[sure[0] + 1 : last + 1])
    corrected = (put_right or bool(_CALLED_IT.match(clauses[last]))) and not strict(question)
    return _together([meanings[at] for at in sure], corrected)


def _together(said: list[Meaning], corrected: bool) -> Meaning | None:
    """All that several clauses say; None where two of them disagree and none puts the other right."""
    if not all(isinstance(meaning, Answer) for meaning in said):
        named = [meaning for meaning in said if not (isinstance(meaning, Command) and meaning.about in _GENERAL)] or said
        same = all(_same(meaning, named[-1]) for meaning in named)
        return named[-1] if same or corrected else None
    parts: dict[str, Part] = {}
    for meaning in said:
        assert isinstance(meaning, Answer)
        for part in meaning.parts:
            before = parts.get(part.id)
            if before and {before.value, part.value} == {0.0, "none_present"}:
                part = before if before.value == 0.0 else part  # "zero, nothing at all"
            elif before and before.value != part.value and not corrected:
                return None
            parts[part.id] = part
    return Answer(tuple(parts.values()))


def _by_one(question: Question, pieces: list[str], understood: Understood) -> Iterator[Meaning]:
    """What each stretch says that is an answer, where all before and behind it may be passed over."""
    for at, piece in enumerate(pieces):
        tokens = piece.split()
        starts = [0, *(n for n in range(1, len(tokens)) if _begins(tokens, n) or _only_figures(tokens, n))]
        ends = [len(tokens), *(n for n in range(len(tokens) - 1, 0, -1) if _may_end(tokens, n))]
        for start in starts:
            for end in ends:
                whole = len(pieces) == 1 and (start, end) == (0, len(tokens))
                said = understood(bare(" ".join(tokens[start:end]))) if 0 < end - start <= _LONGEST_CORE else NotUnderstood()
                if whole or not _is_core(question, tokens, start, end, said):
                    continue
                near = [*_parted(tokens[:start]), *_parted(tokens[end:])]
                rest = [clause for clause in (*pieces[:at], *near, *pieces[at + 1 :]) if clause]
                alone = [clause for clause in near if clause and " " not in clause and not is_sound(clause)]
                if strict(question) and alone:
                    continue  # a single word without a comma may belong to the answer: "dead battery"
                if all(_changes_nothing(question, clause, said, understood) for clause in rest):
                    yield said
                    yield from (told for clause in rest if _none_and_zero(told := understood(bare(clause)), said))
                break


def _only_figures(tokens: list[str], at: int) -> bool:
    """Whether nothing but numbers with their units stands from here on: "took it to the posts point eight and point eight"."""
    before, ones = tokens[at - 1], tokens[max(0, at - 2) : at]
    if not narrates(bare(" ".join(tokens[:at]))):
        return False
    apart = before not in FIGURES or (before == "one" and ones[0] in ("that", "this", "last"))
    behind = tokens[at:]
    return tokens[at] in FIGURES and apart and before not in _NO_END and all(w in FIGURES | _UNITS | {"and"} for w in behind)


_NO_END = frozenset("about around at is are it's i get got was of to by on than under over near like minus the a".split())
"""What a number belongs to that stands behind it."""


def _changes_nothing(question: Question, clause: str, said: Meaning, understood: Understood) -> bool:
    """Whether the clause says the same once more, or may be passed over."""
    told = understood(bare(clause))
    again = _is_sure(question, bare(clause), told) and (_same(told, said) or _none_and_zero(told, said))
    return again or passed_over(question, clause, told, [said])


def _is_core(question: Question, tokens: list[str], start: int, end: int, said: Meaning) -> bool:
    """Whether a stretch is an answer that may stand for the whole."""
    core = bare(" ".join(tokens[start:end]))
    if tokens[end : end + 1] and (tokens[end] in _UNITS or (core in _BARE_WORDS and not BEGINS.match(tokens[end]))):
        return False  # "thirty celsius", "no clue where it is"
    if strict(question) and "so far" in core:
        return False
    if tokens[end : end + 1] and _left_open(core, tokens[end - 1], tokens[end]):
        return False
    denied_before = value(said) != 0.0 and bool(DENIES.search(" ".join(tokens[:start])))
    return _is_sure(question, core, said) and not denied_before


def _left_open(core: str, last: str, behind: str) -> bool:
    """Whether what stands behind belongs to the stretch: "low | pressure", "it made | twelve starts"."""
    begins = bool(BEGINS.match(behind)) or behind in _MAY_FOLLOW
    one_word = " " not in core and core in hedge_words("of_anything")
    return not begins and (last in _TAKES_MORE or one_word)


_TAKES_MORE = frozenset("made makes went goes got gets had has took takes gave gives did does came comes ran runs".split())
"""What seldom ends a clause."""


def _is_sure(question: Question, core: str, said: Meaning) -> bool:
    return _sure(question, said) and _may_be_all(question, core)


def _may_be_all(question: Question, core: str) -> bool:
    """Whether a stretch that answers is of now, and more than a word that may belong to what is said around it."""
    kind = kind_of(question.asking)
    offered = kind in ("yes_no", "acknowledge") or core in question.go_ahead or (core in _NOES and "no" in question.go_ahead)
    bare = core in _BARE_WORDS and (question.also or not offered)
    past = set(question.about)  # "zero after the contact", where that was asked
    past |= {"was", "were"} if {"did", "went", "was", "tripped", "added"} & set(question.about) else set()
    return not bare and not of_some(question, core) and not any(match[0] not in past for match in _NOT_NOW.finditer(core))


def _may_end(tokens: list[str], at: int) -> bool:
    word, before, behind = tokens[at], tokens[at - 1], " ".join(tokens[at + 1 : at + 2])
    counted = word in FIGURES and before not in FIGURES and behind not in FIGURES and bool(_CALLED.match(behind))
    return counted or may_part(tokens, at) or (before in _PARTICLES and word in _MAY_FOLLOW)  # "broken one blade's gone"
