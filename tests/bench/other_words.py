"""How many sentences by other hands are taken at once, asked back, not taken, or taken for another; how many count that only
sound like an answer; the same of several numbers in one; and which acknowledge a caution.

python -m tests.bench.other_words [--list]

`--list` prints those that are not taken at once.
"""

import argparse
from collections import Counter

from tests.language.other_words import AT_ONCE, BACK, NOT, OTHER, WRONGLY, becomes, only_sounding, rows
from tests.language.test_beside_steps import acknowledges, cautions
from tests.language.test_beside_steps import rows as table


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--list", action="store_true")
    given = parser.parse_args()
    counted: Counter[str] = Counter()
    for step, meaning, words in rows():
        what = becomes(step, meaning, words)
        counted[what if meaning != "-" else f"of what is no answer: {'taken' if what == OTHER else 'not taken'}"] += 1
        if given.list and what != AT_ONCE and meaning != "-":
            print(f"{what:20} {step:24} {words}  [{meaning}]")
    for step, words in only_sounding():
        what = becomes(step, "-", words)
        counted[f"of what only sounds like one: {'taken' if what == OTHER else 'not taken'}"] += 1
        if given.list and what == OTHER:
            print(f"{'taken, is none':20} {step:24} {words}")
    for step, meaning, words in table("several_numbers.tsv"):
        what = becomes(step, meaning, words)
        counted[f"of several numbers: {what}"] += 1
        if given.list and what != AT_ONCE:
            print(f"{what:20} {step:24} {words}  [{meaning}]")
    for meaning in ("heeded", "-"):
        for names, words in cautions(meaning):
            what = acknowledges(names, words)
            counted[f"at a caution, {meaning}: {'acknowledges' if what else 'does not'}"] += 1
            if given.list and what != (meaning == "heeded"):
                print(f"{'caution':20} {names:24} {words}  [{meaning}]")
    answers = sum(counted[kind] for kind in (AT_ONCE, BACK, WRONGLY, NOT, OTHER))
    for kind, count in sorted(counted.items()):
        of_answers = kind in (AT_ONCE, BACK, WRONGLY, NOT, OTHER)
        print(f"{kind:40} {count:5}" + (f" {100 * count / answers:5.1f}%" if of_answers else ""))


if __name__ == "__main__":
    main()
