"""What the sense is trained on: each step's prompt, its answers, and sentences with their meaning.

    python -m models.sense.told TOLD.json [--judged FILE.tsv...]     with the product's Python

The sentences are the examples of the language room, the tables of `tests/language`, and beside this file:

- `sentences.tsv`: step, meaning, sentence; `-` means nothing that counts, `number` that the one number in it is what was asked;
- `beside_steps.tsv`: what no step asks. `caution:NAMES` (`heeded` or `-`), `not_safe` and `confirm:PROMPT` (`yes`, `no` or `-`);
- `danger.tsv`: step, `yes` where a sentence said to its prompt tells of danger, `no` where it only might seem to, sentence;
- `numbers.tsv`: prompt, and a sentence of several numbers, each marked with what it is, `[two ten]{discharge pressure}`:
  joined by `+` where it is of several, `-` where it is no reading taken here and now.

Files to judge by have the columns of the first two and are not learnt.
"""

import argparse
import json
import random
import re
import tomllib
from collections.abc import Iterable, Mapping
from pathlib import Path

from assistant.branches.steps import Step
from assistant.call.procedure import own_procedure
from assistant.language.agreed import ASKS_OF_SAFETY, CAUTION, CONFIRM, DANGER, HEEDED, NO, NOT_SAFE, YES, spoken
from assistant.language.by_example import examples
from assistant.language.placed import AMONG, THINGS
from assistant.language.vocabulary import vocabulary

Row = tuple[str, str, str]
"""Step, meaning, sentence."""
Told = tuple[str, str, str, str]
"""The same, with the prompt it was said to."""
NOTHING, GO, NUMBER = "-", "go", "number"
"""Meanings beside `tell=WORD` and `id=value`: nothing that counts, the deed is done, the one number in it is what was asked."""


def answers(step: Step, meanings: Iterable[str]) -> dict[str, str]:
    """What may be answered at a step, by meaning, each in words: what its examples mean, and each choice of what it asks."""
    found = {one for meaning in meanings for one in told_apart(step, meaning)}
    for id_ in step.ids:
        entry = vocabulary()[id_]
        found |= {f"{id_}={choice}" for choice in entry.choices if entry.kind == "choice"}
    return {meaning: in_words(meaning) for meaning in sorted(found)}


def told_apart(step: Step, meaning: str) -> list[str]:
    """What one meaning says of each thing; words of a look that say the same are one."""
    if meaning == NOTHING:
        return []
    if meaning.startswith("tell="):
        said = step.tells.get(meaning.removeprefix("tell="))
        return [f"tell={next((word for word, told in step.tells.items() if told == said), meaning.removeprefix('tell='))}"]
    return meaning.split("; ")


def in_words(meaning: str) -> str:
    """As it is put to the network: "oil level: foaming"."""
    if meaning in (GO, NUMBER):
        return {GO: "done", NUMBER: "the number, read here and now"}[meaning]
    thing, value = meaning.split("=", 1)
    said = "yes" if value == "true" else value.replace("_", " ")
    return said if thing == "tell" else f"{thing.replace('_', ' ').replace('.', ' ')}: {said}"


def rows_of(file: Path) -> list[Row]:
    lines = (line.split("\t") for line in file.read_text("utf-8").splitlines() if line)
    return [(step, meaning, said) for step, meaning, said in lines]


def of_tables() -> list[Row]:
    """What the tables of the tests say of a step's looks, deeds and choices, and of a number alone."""
    found = []
    for file in sorted(Path("tests/language").glob("said_*.toml")):
        for step, meanings in tomllib.loads(file.read_text("utf-8")).items():
            for meaning, said in meanings.items():
                told = _of_a_table(meaning)
                found += [(step, told, words.lower()) for words in said if told]
    return found


def _of_a_table(meaning: str) -> str:
    """The meaning as it is learnt; empty where it is none of an answer, or more than one number."""
    if meaning == "refused":
        return NOTHING
    if meaning == GO or meaning.startswith("tell="):
        return meaning
    parts = [part for part in meaning.split("; ") if "=" in part]
    kinds = {part: vocabulary()[part.split("=")[0]].kind for part in parts if part.split("=")[0] in vocabulary()}
    numbers = [part for part, kind in kinds.items() if kind not in ("choice", "yes_no", "acknowledge", "free")]
    if len(parts) == 1 and numbers:
        return NUMBER
    return "; ".join(part for part, kind in kinds.items() if kind in ("choice", "yes_no", "acknowledge"))


def beside_steps() -> list[Told]:
    """What acknowledges a caution, what is said to "is something not safe?" and to what is asked back."""
    rows = rows_of(Path(__file__).with_name("beside_steps.tsv"))
    heeded = tomllib.loads(Path("tests/language/heeded.toml").read_text("utf-8"))
    for names, said in heeded.items():
        rows += [(f"{CAUTION}:{names}", HEEDED, words) for words in said.get("heeded", ())]
        rows += [(f"{CAUTION}:{names}", NOTHING, words) for words in said.get("not", ())]
    return [_beside(*row) for row in rows]


def _beside(item: str, meaning: str, words: str) -> Told:
    what, _, of = item.partition(":")
    prompt = spoken(of.split("+")) if what == CAUTION else of if what == CONFIRM else ASKS_OF_SAFETY
    return what, meaning, words, prompt


def behind_a_no(told: list[Row]) -> list[Told]:
    """Answers of all steps behind a no to "is something not safe?", which then deny it; and what is no answer, which does not."""
    chance, rows = random.Random(5), []
    answers_ = [words for _, meaning, words in told if meaning not in (NOTHING, NUMBER) and len(words.split()) > 2]
    others = [words for _, meaning, words in told if meaning == NOTHING and len(words.split()) > 4]
    for words in chance.sample(answers_, 500):
        rows.append((NOT_SAFE, NO, f"{chance.choice(_NOES)} {words}", ASKS_OF_SAFETY))
    for words in chance.sample(others, 400):
        rows.append((NOT_SAFE, NOTHING, words, ASKS_OF_SAFETY))
    return rows


_NOES = ("no,", "no,", "nope,", "no no,", "nah,", "no, it's fine,", "nothing,", "no it's only that")


def of_danger(told: list[Row], prompts: Mapping[str, str]) -> list[Told]:
    """What tells of danger at a step, and what does not: answers of all steps, and what denies that something is not safe."""
    chance = random.Random(6)
    rows = [(DANGER, YES if meaning == YES else NOTHING, words, prompts[step])
            for step, meaning, words in rows_of(Path(__file__).with_name("danger.tsv"))]  # fmt: skip
    for step, _, words in chance.sample([row for row in told if row[1] != NOTHING and len(row[2].split()) > 2], 8000):
        rows.append((DANGER, NOTHING, words, prompts[step]))
    for item, meaning, words in rows_of(Path(__file__).with_name("beside_steps.tsv")):
        if item == NOT_SAFE and meaning != NOTHING:
            rows.append((DANGER, YES if meaning == YES else NOTHING, words, chance.choice(list(prompts.values()))))
    return rows


def of_numbers() -> list[Told]:
    """Each number of a sentence marked for itself, with what it is."""
    rows = []
    for prompt, said in (line.split("\t") for line in Path(__file__).with_name("numbers.tsv").read_text("utf-8").splitlines()):
        for words, thing in _each(said):
            of = [f"{AMONG}={one}" for one in thing.split("+") if one != NOTHING]
            rows.append((AMONG, "; ".join(of) or NOTHING, words, prompt))
    return rows


def _each(said: str) -> list[tuple[str, str]]:
    """Words with one number marked, and what that is."""
    found = []
    for one in _MARKED.finditer(said):
        before, behind = (_MARKED.sub(r"\1", part) for part in (said[: one.start()], said[one.end() :]))
        found.append((f"{before}[{one[1]}]{behind}", one[2]))
    return found


def _plain(words: str) -> str:
    return words.lower().strip(" .!")


_MARKED = re.compile(r"\[([^\]]+)\]\{([^}]+)\}")


BESIDE = {
    CAUTION: {"prompt": "", "answers": {HEEDED: "understood, and so it is"}, "words": {}},
    NOT_SAFE: {"prompt": ASKS_OF_SAFETY, "answers": {NO: "no, all is safe", YES: "yes, something is not safe"}, "words": {}},
    DANGER: {"prompt": "", "answers": {YES: "danger, somebody may be hurt"}, "words": {}},
    CONFIRM: {"prompt": "", "answers": {YES: "yes, so it is", NO: "no, it is otherwise"}, "words": {}},
    AMONG: {"prompt": "", "answers": {f"{AMONG}={thing}": f"{thing}, read here and now" for thing in THINGS}, "words": {}},
}
"""What is asked beside the steps, with its answers in words."""


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("to", type=Path)
    parser.add_argument("--judged", type=Path, nargs="*", default=[])
    given = parser.parse_args()
    steps = {step.id: step for step in own_procedure().steps}
    told = [(step, *row) for step, rows in examples().items() for row in rows]
    told += rows_of(Path(__file__).with_name("sentences.tsv"))
    told += [row for row in of_tables() if row[0] in {step for step, _, _ in told}]
    found = {}
    for step in dict.fromkeys(row[0] for row in told):
        meant = answers(steps[step], (m for s, m, _ in told if s == step))
        prompt = steps[step].ask.replace("{", "").replace("}", "")
        words = {word: told_apart(steps[step], f"tell={word}")[0] for word in steps[step].tells}
        found[step] = {"prompt": prompt, "answers": meant, "words": words}

    def plain(step: str, meaning: str, words: str) -> Told:
        return step, "; ".join(told_apart(steps[step], meaning)) or NOTHING, _plain(words), found[step]["prompt"]

    prompts = {step: str(one["prompt"]) for step, one in found.items()}
    others = beside_steps() + behind_a_no(told) + of_danger(told, prompts) + of_numbers()
    beside = [(*row[:2], _plain(row[2]), row[3]) for row in others]
    learnt = list(dict.fromkeys([plain(*row) for row in told] + beside))
    found |= BESIDE
    judged = [row for file in given.judged for row in rows_of(file)]
    to_judge = [plain(*row) if row[0] in steps else _beside(*row) for row in judged if row[0].partition(":")[0] in found]
    given.to.write_text(json.dumps({"steps": found, "told": learnt, "judged": to_judge}), encoding="utf-8")
    count = sum(len(one["answers"]) for one in found.values())
    print(f"{len(found)} steps, {count} answers, {len(learnt)} sentences, {len(to_judge)} to judge by")


if __name__ == "__main__":
    main()
