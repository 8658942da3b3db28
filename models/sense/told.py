"""What the sense is trained on: each step's prompt, its answers, and sentences with their meaning.

    python -m models.sense.told TOLD.json [--judged FILE.tsv...]     with the product's Python

The sentences are the examples of the language room, `sentences.tsv` beside this file (step, meaning, sentence; `-` means
nothing that counts, `number` that the one number in it is what was asked) and the tables of `tests/language`. Files to judge by
have the same columns and are not learnt.
"""

import argparse
import json
import tomllib
from collections.abc import Iterable
from pathlib import Path

from assistant.branches.steps import Step
from assistant.call.procedure import own_procedure
from assistant.language.by_example import examples
from assistant.language.vocabulary import vocabulary

Row = tuple[str, str, str]
"""Step, meaning, sentence."""
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
    judged = [row for file in given.judged for row in rows_of(file) if row[0] in found]

    def plain(rows: list[Row]) -> list[Row]:
        return [(s, "; ".join(told_apart(steps[s], m)) or NOTHING, words.lower().strip(" .!")) for s, m, words in rows]

    learnt = list(dict.fromkeys(plain(told)))
    given.to.write_text(json.dumps({"steps": found, "told": learnt, "judged": plain(judged)}), encoding="utf-8")
    count = sum(len(one["answers"]) for one in found.values())
    print(f"{len(found)} steps, {count} answers, {len(learnt)} sentences, {len(judged)} to judge by")


if __name__ == "__main__":
    main()
