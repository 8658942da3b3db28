"""What becomes of sentences by other hands than the tables' and the examples'.

The sentences (`other_words.tsv`: step, meaning, words; `-` means nothing that counts) were written for each question of the
procedure by several who saw its questions and what may be answered, and nothing of how words are understood.
"""

from dataclasses import replace
from pathlib import Path

from assistant.language.by_example import by_example, unless_unlike
from assistant.language.by_sense import doubted, over_a_remark, surer, unless_strange
from assistant.language.grammar import commas_apart
from assistant.language.guess import guessed
from assistant.language.heard_in_answers import HEARD_IN_ANSWERS, may_be_an_answer
from assistant.language.meaning import DONE_AND_SAFE, Answer, AskFor, Command, Meaning, NotUnderstood, Remark
from assistant.language.number_left import number_left
from assistant.language.pieces import understand_in_pieces
from assistant.language.placed import as_placed
from tests.language.test_said_at_steps import STEPS, as_told, question

AT_ONCE, BACK, WRONGLY, NOT, OTHER = "taken at once", "asked back rightly", "asked back wrongly", "not taken", "taken for another"


def rows() -> list[tuple[str, str, str]]:
    """Step, meaning, words."""
    lines = Path(__file__).with_name("other_words.tsv").read_text(encoding="utf-8").splitlines()
    return [(step, meaning, words) for step, meaning, words in (line.split("\t") for line in lines)]


def only_sounding() -> list[tuple[str, str]]:
    """Step and words that sound like an answer and are none: seven hundred by two others who were asked to mislead."""
    lines = Path(__file__).with_name("only_sounds_like.tsv").read_text(encoding="utf-8").splitlines()
    return [(step, words) for step, words in (line.split("\t") for line in lines)]


def becomes(step: str, meaning: str, words: str) -> str:
    """What becomes of a sentence."""
    said = heard_as(step, words)
    told, asked = comes_to(step, words, said)
    if meaning == "-":
        return OTHER if told and not asked and not told.startswith("command") else NOT
    if not told or told.startswith(("command", "correct")):
        return NOT
    right = _right(step, told, meaning)
    return (BACK if right else WRONGLY) if asked else (AT_ONCE if right else OTHER)


def heard_as(step: str, words: str) -> Meaning:
    asked = question(step)
    said = understand_in_pieces(asked, commas_apart(words.lower()))
    if isinstance(said, Remark) and may_be_an_answer(asked, said):
        answer = over_a_remark(asked, words.lower(), said.about in HEARD_IN_ANSWERS)
        return said if isinstance(answer, NotUnderstood) else answer
    if not isinstance(said, NotUnderstood):
        said = as_placed(asked, words.lower(), unless_unlike(asked, said, words.lower()))
        said = surer(asked, words.lower(), said)
        return doubted(asked, words.lower(), unless_strange(asked, words.lower(), said, words.lower()))
    alike = by_example(asked, words.lower())
    if isinstance(alike, NotUnderstood):
        alike = guessed(asked, words.lower())
    if isinstance(alike, NotUnderstood):
        alike = number_left(asked, words.lower())
    said = surer(asked, words.lower(), as_placed(asked, words.lower(), alike))
    if isinstance(said, NotUnderstood):
        return said
    if isinstance(said, AskFor):
        return doubted(asked, words.lower(), said)
    return doubted(asked, words.lower(), unless_strange(asked, words.lower(), said, words.lower()))


def comes_to(step: str, words: str, said: Meaning) -> tuple[str, bool]:
    """What it comes to, as a table has it, and whether it is asked back first; empty for nothing."""
    if isinstance(said, AskFor):
        told = "go" if said.say == DONE_AND_SAFE else f"tell={said.pending}" if STEPS[step].tells and said.pending else ""
        return told, True
    asked = isinstance(said, Answer) and any(part.doubt for part in said.parts)
    if isinstance(said, Answer):
        said = Answer(tuple(replace(part, doubt="") for part in said.parts))
    told = as_told(step, words, said) if isinstance(said, Answer | Command) else ""
    return told, asked


def _right(step: str, told: str, meaning: str) -> bool:
    """Whether it says what was meant, or a part of it, and nothing else."""
    tells = STEPS[step].tells
    if meaning == "go":
        return told == "go" or told.startswith("tell=") or all(part.endswith("=true") for part in told.split("; "))
    if meaning.startswith("tell="):
        return told == "go" or (told.startswith("tell=") and tells.get(told[5:]) == tells.get(meaning[5:]))
    meant = dict(part.split("=") for part in meaning.split("; "))
    got = dict(part.split("=") for part in told.split("; ") if "=" in part)
    return bool(got) and all(id_ not in meant or _same(value, meant[id_]) for id_, value in got.items())


def _same(one: str, other: str) -> bool:
    zero = {"none_present", "0", "none"}
    return one == other or (one in zero and other in zero) or one == other.removesuffix(".0")
