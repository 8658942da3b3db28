"""Sentences by other hands, one in twelve of six thousand: what is taken is what was meant, and few are not understood at all."""

from collections import Counter
from functools import cache

from tests.language import other_words
from tests.language.other_words import AT_ONCE, BACK, NOT, OTHER, rows

KNOWN = {
    "Three nine, three nine, four oh.",  # asked back in a call: outside what is usual
    "Display's kinda dim, but it says fifty-eight, fifty-seven and fifty-nine.",  # 5857 amps: asked back in a call
    "Here is written A dash one.",  # a tag: right, and told otherwise by its writer
}
"""Taken for another as things stand: each is a fault of ours."""


SOME = rows()[::12]
"""All of them take two minutes: `tests/bench/other_words.py`."""
becomes = cache(other_words.becomes)
"""Both tests ask it of each."""


def test_nothing_is_taken_for_another_but_what_is_known():
    assert {words for step, meaning, words in SOME if becomes(step, meaning, words) == OTHER} <= KNOWN


def test_four_of_five_are_taken_at_once_and_nine_of_ten_at_once_or_asked_back():
    counted = Counter(becomes(step, meaning, words) for step, meaning, words in SOME if meaning != "-")
    answers = counted.total()
    assert counted[AT_ONCE] >= 0.8 * answers
    assert counted[AT_ONCE] + counted[BACK] >= 0.9 * answers
    assert counted[NOT] <= 0.08 * answers
