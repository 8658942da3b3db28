"""What people say in other words than any table has, by its likeness to examples of the same question.

The examples are data (`by_example.tsv`: step, meaning, sentence; `-` means nothing that counts). Each sentence becomes the counts
of its letters two to four in a row inside words, and of its words two in a row, weighed by how rare they are among the step's
examples; for each thing that the step asks, a ridge regression over their likeness tells its answers apart. Kernel ridge
regression is textbook matter (Hastie, Tibshirani, Friedman, The Elements of Statistical Learning, 12.3; from memory), and so are
the weights of rare terms. It is tried only after all else failed. What hangs on safety is asked back, but for
a few deeds by which nobody is hurt.
"""

import re
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from assistant.language.called_good import called_good, may_tell_of, no_good, of_no_contact, of_what_is_named
from assistant.language.exceptions import NOT_ALL
from assistant.language.grammar import normalise
from assistant.language.meaning import (
    DONE_AND_SAFE,
    Answer,
    AskFor,
    Command,
    Meaning,
    NotUnderstood,
    Part,
    Question,
    Value,
    asked_back,
    asked_word,
)
from assistant.language.names import is_named, own_words
from assistant.language.not_read import of_the_other
from assistant.language.passed_over import strict
from assistant.language.questions import is_order, is_question
from assistant.language.spotting import general
from assistant.language.told_against import told_against
from assistant.language.vocabulary import kind_of, vocabulary
from assistant.language.whole_words import no_plain_deed

_FILE = Path(__file__).with_name("by_example.tsv")
_NOTHING = "-"
_DONE, _WORD, _DEEDS = "done", "word", ("go", "true", "repaired", "tight", "unplugged")
"""What a step without a reading asks: that its order is done, or one of its words; and answers that tell of a deed."""
_RIDGE = 0.5
_SURE_LEAD = 0.25
"""By how much the best answer leads the second, of 1, for it to count."""
_SURE_LEAD_GUARDED = 0.5
"""The same where it is strictly understood and harmless, of a sentence whose every word stands in the step's answers."""
_SURE_THOUGH_TURNED = 0.6
"""The same, where nothing hangs on it, of a sentence with a word that may turn it: measured, none was wrong of 2,300."""
_POWER_IS_ON = re.compile(r"\b(?:power|juice)(?:'s| is)?(?: back| now)? on\b")
"""Power that may be on is taken for on: its seconds run (S15)."""
_LEAST, _LEAST_GUARDED = (0.02, 0.25), (0.1, 0.34)
"""The same for it to be asked back, and how like the nearest example is; and where safety hangs on it."""
_LEAST_LIKE_LED = 0.3
_UNKNOWN_SHARE = 1 / 3
_OWN_LEAD = 0.5
"""Lead from which a deed is asked back though a word in it is another reading's name."""
_ANOTHER, _FEW = (0.35, 0.25), 4
"""Lead and likeness from which another answer is doubted by the examples, and words from which it is."""
_IS_NOT_SO = re.compile(
    r"\b(?:nothing(?:'s| is)|none(?:'s| is| are)|(?:none|not one|not any) of (?:them|it|those)(?:'s|'re| is| are)?"
    r"|(?:no|not) one(?:'s| is)|nobody(?:'s| is))\b"
)
""" "Nothing's dry" is no answer with a dry one."""
_LETTERS = (2, 3, 4)
_TURNS = re.compile(
    r"\b(?:no|not|never|nobody|nothing|none|neither|but|except|if|unless|until|when|once|before|maybe|might|may|could|should"
    r"|would|suppose\w*|almost|nearly|partly|mostly|gonna|going to|about to|i'll|will|want|need|try|trying|yet|later|others?"
    r"|another|next|neighbor\w*|somebody|someone|who|what|which|why|said|says|told|hope|wish|sort of|kind of|wrong|weird|strange"
    r"|used to|was|were|yesterday|last|as good as|guess|wonder|can't|half|one of|some|both|ish|for now"
    r"|(?:machine|compressor|unit|number) \w+)\b|n't\b|'ll\b"
)
"""Words by which a sentence may say the contrary of the example that it is like, or may say it of something else."""
_ASKED_BACK = frozenset(
    "chain_dead_check injection_after probe_cleaned overload_state leak_found leak_repaired tight leaks".split()
)
"""What more hangs on than what is asked next, though no hand goes in by it: readings, and words of a step."""
_NOT_DONE = re.compile(
    r"^(?:no|nope|nah|naw|can't|cannot|couldn't|only|still|nothing|almost|nearly|give me|hang on|hold on|wait)\b"
    r"|\b(?:not yet|not until|yet|need to|have to|must|more minutes?|minutes? more|to go|as soon as|about to|gonna|going to|i'll"
    r"|won't|supposed to|should be|trying|haven't|hasn't been|isn't|aren't|but|instead|except|all but|apart from|mistake"
    r"|by accident"
    r"|not (?:all|every\w*|on|off|in|out|shut|open|closed|locked|proved|back|done|yet|it|that)"
    r"|(?:blew|tripped|quit|fail\w*|leak\w*|opened|dropped|popped|stopped|slipped|fell) (?:again|out|off|right|back|once)"
    r"|still (?:on|in|live|hooked|hanging|there))\b"
)
"""Of a deed that safety hangs on: not done, or not all of it."""
_HOLDS = re.compile(
    r"\b(?:(?:it|she|that|handle)(?:'s)? )?(?:won't|can't|cannot|doesn't|couldn't|isn't going to|will not)"
    r"(?: (?:be|get|go|come))? (?:move|moves|budge|wiggle|throw it|turn it on|open it|pull in|close|start|turn|loose|slip"
    r"|anywhere|moved|thrown|turned on|on|run)\b"
)
"""By which he tells that it holds: "I tried the handle, it won't move"."""
_LONGEST = 26


@dataclass(frozen=True)
class _Judge:
    """Tells the answers to one thing apart."""

    answers: tuple[str, ...]
    columns: dict[str, int]
    weights: NDArray[np.float64]
    likeness: NDArray[np.float64]
    """Examples by columns, each of length 1."""
    shares: NDArray[np.float64]
    usual: float
    """Before anything is said all answers are as likely: how many examples each has says nothing of it."""

    def best(self, said: Counter[str]) -> tuple[str, float, float]:
        """The answer, its lead over the next, and the likeness of the nearest example."""
        alike = self.likeness @ _unit(said, self.columns, self.weights)
        scores = self.usual + alike @ self.shares
        order = np.argsort(-scores, kind="stable")
        lead = float(scores[order[0]] - scores[order[1]]) if len(order) > 1 else 1.0
        return self.answers[order[0]], lead, float(alike.max())


def by_example(question: Question, words: str) -> Meaning:
    """What words are like, of what is said to the question's step; not understood where they are like nothing or like two.

    Args:
        question: what was asked, with its step.
        words: as said, and not understood by all else.
    """
    text = normalise(words.replace(",", " "))
    guarded = strict(question)
    if question.step not in examples() or not 1 < len(text.split()) <= _LONGEST:
        return NotUnderstood()
    if tells_nothing(question, words) or (guarded and no_plain_deed(question, text)):
        return NotUnderstood()
    another = names_another(question, text)
    said = _counts(text)
    unlike = guarded and _mostly_unknown(question, text)
    least_lead, least_likeness = _LEAST_GUARDED if guarded else _LEAST
    turns = set(_TURNS.findall(text))
    undone = set() if {"still", "hooked"} & set(question.about) else _undone(text)
    found = {thing: judge.best(said) for thing, judge in _judges(question.step).items()}
    told = {
        thing: (answer, lead) for thing, (answer, lead, likeness) in found.items()
        if answer != _NOTHING and lead >= least_lead
        and likeness >= (_LEAST_LIKE_LED if guarded and lead >= _SURE_LEAD else least_likeness)
        and not (another and not (guarded and lead >= _OWN_LEAD))
        and not (answer in _DEEDS and unlike) and not (answer in _DEEDS and undone - _in_answers(question.step, thing, answer)[1])
        and not _says_another(thing, answer, text)
        and not (thing in question.all_good and answer == question.all_good[thing] and NOT_ALL.search(text))
        # of six things at once a sentence that may be turned is asked back as one only if it clearly is
        and not (question.all_good and lead < _SURE_LEAD and not turns <= _in_answers(question.step, thing, answer)[0])
    }  # fmt: skip
    if not told:
        return NotUnderstood()
    harmless = question.harmless or (question.asking == "control_power_on" and _POWER_IS_ON.search(text))
    calm = not guarded or (harmless and not unknown_words(question, text))
    sure_lead = _SURE_LEAD_GUARDED if guarded else _SURE_LEAD
    sure = {
        thing for thing, (answer, lead) in told.items()
        if lead >= sure_lead and calm and not {thing, answer} & _ASKED_BACK
        and (turns <= _in_answers(question.step, thing, answer)[0] or (not guarded and lead >= _SURE_THOUGH_TURNED))
        and not (answer in _DEEDS and undone)
    }  # fmt: skip
    for thing in (_DONE, _WORD):
        if thing in told:
            return called_good(question, words, go_on(question, told[thing][0], thing in sure))
    asked = [id for id in (question.asking, *(() if question.alone else question.also)) if id in told]
    asked = [id for id in asked if may_tell_of(question, id, text)]
    values = [(id, value_of(id, told[id][0])) for id in asked]
    values = [(id, value) for id, value in values if value not in question.refused]
    parts = tuple(Part(id, value, doubt="" if id in sure else asked_back(value)) for id, value in values)
    return called_good(question, words, of_what_is_named(question, words, Answer(parts))) if parts else NotUnderstood()


def tells_nothing(question: Question, words: str) -> bool:
    """Whether words are no answer, whatever they are like: a question, an order, of another thing, told against themselves."""
    text = normalise(words.replace(",", " "))
    if told_against(question, words) or "?" in words or is_question(text) or is_order(text) or no_good(text):
        return True
    return of_no_contact(question, text) or ("running_now" in (question.asking, *question.also) and of_the_other(text))


def _mostly_unknown(question: Question, text: str) -> bool:
    """Whether more words than one in three are in no answer to this step: "the cat is on the roof" is like none of them."""
    return unknown_words(question, text) > _UNKNOWN_SHARE * len(text.split())


def unknown_words(question: Question, text: str) -> int:
    """How many words the answers to this step lack, its prompt and what is said anywhere."""
    known = words_of_answers(question.step) | set(question.about) | general()
    return sum(word.removesuffix("'s") not in known for word in text.split())


def _says_another(id: str, answer: str, text: str) -> bool:
    """Whether the very word of another choice is said, and the answer's own is not: "warming" is not holding; or it is denied."""
    entry = vocabulary().get(id)
    said = {choice for choice in (entry.choices if entry and entry.kind == "choice" else ()) if re.search(rf"\b{choice}\b", text)}
    denied = re.search(rf"\b(?:not|no longer|never|neither|\w+n't)(?: quite| really| all)? {re.escape(answer)}\b", text)
    return bool(denied) or (bool(said) and answer not in said)


def not_done(text: str) -> bool:
    """Whether words beside a deed say that it is not done, or not all of it, or did not hold.

    >>> not_done("fuse replaced it blew again"), not_done("i tried the handle it won't move")
    (True, False)
    """
    return bool(_undone(text))


def _undone(text: str) -> set[str]:
    return set(_NOT_DONE.findall(_HOLDS.sub("", text)))


def unless_unlike(question: Question, said: Meaning, words: str) -> Meaning:
    """What was understood, asked back where the examples of another answer are clearly the nearer ones."""
    text = normalise(words.replace(",", " "))
    denied = bool(_IS_NOT_SO.search(text))
    unlike = len(text.split()) >= _FEW and not _TURNS.search(text)
    if question.all_good or not (denied or unlike) or not isinstance(said, Answer | Command):
        return said
    judges = _judges(question.step)

    def doubted(thing: str, answer: str) -> bool:
        return (denied and answer.startswith("one ")) or (unlike and _another(judges, thing, answer, text))

    if isinstance(said, Command):
        doubts = said.name == "continue" and question.look and said.about and doubted(_WORD, said.about)
        return asked_word(said.about) if doubts else said
    others = {part.id for part in said.parts if isinstance(part.value, str) and doubted(part.id, part.value)}
    return Answer(tuple(replace(p, doubt=p.doubt or ".") if p.id in others else p for p in said.parts)) if others else said


def _another(judges: dict[str, _Judge], thing: str, answer: str, text: str) -> bool:
    """Whether the examples speak for another answer, of those that they know."""
    if thing not in judges or answer not in judges[thing].answers:
        return False
    nearer, lead, likeness = judges[thing].best(_counts(text))
    return nearer not in (answer, _NOTHING) and lead >= _ANOTHER[0] and likeness >= _ANOTHER[1]


def names_another(question: Question, text: str) -> bool:
    """Whether a reading on record is named that nobody asked for, by a word that no answer to this question has."""
    words = {word.removesuffix("'s") for word in text.split()} - set(question.about) - own_words(question)
    words -= words_of_answers(question.step)
    asked = (question.asking, *question.also)
    return any(is_named(id, " ".join(words)) for id in question.recorded if id not in asked)


def go_on(question: Question, word: str, sure: bool) -> Meaning:
    """That a deed is done, or the word of a look: as it is where that is sure, else asked back."""
    if question.asking != "command":
        return NotUnderstood()
    if not question.look and sure and question.takes_a_done:
        return Command("continue", "said so")
    if not question.look:
        return AskFor(DONE_AND_SAFE, pending=question.go_ahead[0]) if question.takes_a_done else NotUnderstood()
    if word not in question.go_ahead and word not in question.other_words:
        return NotUnderstood()
    named = question.other_words.get(word, word)
    return Command("continue", named) if sure else asked_word(named)


def value_of(id: str, answer: str) -> Value:
    """The value of an answer as the examples write it."""
    return True if kind_of(id) == "acknowledge" else answer


# ---- what the examples come to


@cache
def examples() -> dict[str, tuple[tuple[str, str], ...]]:
    """By step: a meaning, and a sentence for it."""
    found: defaultdict[str, list[tuple[str, str]]] = defaultdict(list)
    for line in _FILE.read_text(encoding="utf-8").splitlines():
        step, meaning, sentence = line.split("\t")
        found[step].append((meaning, sentence))
    return {step: tuple(rows) for step, rows in found.items()}


@cache
def words_of_answers(step: str) -> frozenset[str]:
    """Every word of the examples that count."""
    said = (words for meaning, words in examples().get(step, ()) if meaning != _NOTHING)
    return frozenset(word for words in said for word in words.replace("'s", "").split())


@cache
def _in_answers(step: str, thing: str, answer: str) -> tuple[frozenset[str], frozenset[str]]:
    """The words that might turn a sentence, and those that might say that a deed is not done, which do not in examples of this
    answer."""
    said = [normalise(words.replace(",", " ")) for meaning, words in examples()[step] if _told(meaning).get(thing) == answer]
    return frozenset(t for text in said for t in _TURNS.findall(text)), frozenset(u for text in said for u in _undone(text))


@cache
def _judges(step: str) -> dict[str, _Judge]:
    rows = examples().get(step, ())
    told = [_told(meaning) for meaning, _ in rows]
    things = sorted({thing for answers in told for thing in answers})
    return {thing: _judge([answers.get(thing, _NOTHING) for answers in told], [said for _, said in rows]) for thing in things}


def _told(meaning: str) -> dict[str, str]:
    """What a meaning says of each thing: "id=value; id=value", "tell=word", "go" or "-"."""
    if meaning == _NOTHING:
        return {}
    if meaning == "go":
        return {_DONE: "go"}
    if meaning.startswith("tell="):
        return {_WORD: meaning.removeprefix("tell=")}
    return dict(part.split("=", 1) for part in meaning.split("; "))


def _judge(answers: Sequence[str], sentences: Sequence[str]) -> _Judge:
    counted = [_counts(normalise(said.replace(",", " "))) for said in sentences]
    among = Counter(gram for grams in counted for gram in grams)
    columns = {gram: at for at, gram in enumerate(among)}
    weights = np.array([np.log((1 + len(counted)) / (1 + often)) + 1 for often in among.values()])
    likeness = np.array([_unit(grams, columns, weights) for grams in counted])
    known = tuple(sorted({*answers, _NOTHING}))
    right = np.array([[float(answer == one) for one in known] for answer in answers])
    usual = 1 / len(known)
    shares = np.linalg.solve(likeness @ likeness.T + _RIDGE * np.eye(len(counted)), right - usual)
    return _Judge(known, columns, weights, likeness, shares, usual)


def _counts(text: str) -> Counter[str]:
    words = re.sub(r"[^a-z' ]", " ", text).split()
    found = Counter(f"{one} {two}" for one, two in pairwise(words))
    for word in words:
        framed = f" {word} "
        found.update(framed[at : at + n] for n in _LETTERS for at in range(len(framed) - n + 1))
    return found


def _unit(counts: Counter[str], columns: dict[str, int], weights: NDArray[np.float64]) -> NDArray[np.float64]:
    row = np.zeros(len(columns))
    for gram, often in counts.items():
        if (at := columns.get(gram)) is not None:
            row[at] = (1 + np.log(often)) * weights[at]
    length = float(np.linalg.norm(row))
    return row / length if length else row
