"""What a network's labels at each step say about whole texts."""

import itertools
import math

import numpy as np
import pytest

from assistant.hearing.alignment import likeliest_texts, text_scores

STEPS, LABELS = 5, 4


def _logs(seed: int) -> np.ndarray:
    x = np.random.default_rng(seed).standard_normal((STEPS, LABELS)) * 2
    return x - np.log(np.exp(x).sum(axis=1, keepdims=True))


def _by_counting(logs: np.ndarray) -> dict[tuple[int, ...], float]:
    """The probability of every text: each way of labelling the steps is looked at."""
    found: dict[tuple[int, ...], float] = {}
    for path in itertools.product(range(LABELS), repeat=STEPS):
        text = tuple(v for i, v in enumerate(path) if v and (i == 0 or v != path[i - 1]))
        found[text] = found.get(text, 0.0) + math.exp(sum(logs[i, v] for i, v in enumerate(path)))
    return found


@pytest.mark.parametrize("seed", range(4))
def test_a_text_has_the_probability_of_all_its_ways_of_lying_over_the_steps(seed: int):
    logs = _logs(seed)
    counted = _by_counting(logs)
    texts = sorted(counted)
    assert np.exp(text_scores(logs, texts)) == pytest.approx([counted[text] for text in texts], rel=1e-9)


def test_a_text_longer_than_the_sound_cannot_have_been_said():
    assert text_scores(_logs(0), [[1, 2, 3, 1, 2, 3]])[0] < -1e6
    assert text_scores(_logs(0), []) == []


@pytest.mark.parametrize("seed", range(4))
def test_the_search_finds_the_likeliest_text_and_its_probability(seed: int):
    logs = _logs(seed)
    counted = _by_counting(logs)
    best, score = likeliest_texts(logs, width=400, labels=LABELS)[0]
    assert best == max(counted, key=lambda text: counted[text])
    assert math.exp(score) == pytest.approx(counted[best], rel=1e-3)  # what is hardly worth a try is left out
