"""What a network's letters or words at each step of an answer say about whole texts: connectionist temporal classification.

Blank is label 0 everywhere. `logs` is float64, shape (n_steps, n_labels): natural logarithm of each label's probability.
"""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

Logs = npt.NDArray[np.float64]
_NONE = -1e30
_SURELY_BLANK = -0.002
"""From there on a step is a pause for every text, and the search need not look at its labels."""
_WORTH = -9.0  # log probability under which a label is not tried at a step


def text_scores(logs: Logs, texts: Sequence[Sequence[int]]) -> list[float]:
    """Log probability of each text as all that was said, over every way of laying it over the steps.

    Args:
        logs: see the module.
        texts: labels of each text.
    """
    if not texts:
        return []
    width = 2 * max(len(text) for text in texts) + 1
    labels = np.zeros((len(texts), width), int)
    skip = np.full((len(texts), width), _NONE)
    for row, text in enumerate(texts):
        labels[row, 1 : 2 * len(text) : 2] = text
        for k in range(1, len(text)):
            if text[k - 1] != text[k]:
                skip[row, 2 * k + 1] = 0.0
        if text:
            skip[row, 1] = 0.0
    here = np.full((len(texts), width), _NONE)
    here[:, 0] = logs[0, 0]
    if width > 1:
        here[:, 1] = np.where([bool(text) for text in texts], logs[0, labels[:, 1]], _NONE)
    at_step = logs[:, labels]
    before = np.full((3, len(texts), width), _NONE)
    for step in at_step[1:]:
        before[0] = here
        before[1, :, 1:] = here[:, :-1]
        before[2, :, 2:] = here[:, :-2] + skip[:, 2:]
        top = before.max(axis=0)
        here = top + np.log(np.exp(before - top).sum(axis=0)) + step
    found = []
    for row, text in enumerate(texts):
        ends = here[row, 2 * len(text)], here[row, 2 * len(text) - 1] if text else _NONE
        found.append(float(np.logaddexp(*ends)))
    return found


def likeliest_texts(logs: Logs, width: int = 12, labels: int = 8) -> list[tuple[tuple[int, ...], float]]:
    """The likeliest texts with their log probabilities, best first, by prefix beam search.

    Args:
        logs: see the module.
        width: texts kept at each step.
        labels: tried at each step.
    """
    kept: dict[tuple[int, ...], tuple[float, float]] = {(): (0.0, _NONE)}  # log probability with a blank last, and without
    for row in logs:
        if row[0] > _SURELY_BLANK:
            kept = {text: (_sum(*ends) + row[0], _NONE) for text, ends in kept.items()}
            continue
        tried = [int(v) for v in np.argpartition(-row, min(labels, len(row) - 1))[:labels] if v and row[v] > _WORTH]
        onward: dict[tuple[int, ...], tuple[float, float]] = {}
        for text, (blank, label) in kept.items():
            both = _sum(blank, label)
            with_blank, with_label = onward.get(text, (_NONE, _NONE))
            if text:
                with_label = _sum(with_label, label + row[text[-1]])
            onward[text] = (_sum(with_blank, both + row[0]), with_label)
            for v in tried:
                longer = (*text, v)
                with_blank, with_label = onward.get(longer, (_NONE, _NONE))
                source = blank if text and text[-1] == v else both
                onward[longer] = (with_blank, _sum(with_label, source + row[v]))
        kept = dict(sorted(onward.items(), key=lambda item: -_sum(*item[1]))[:width])
    return sorted(((text, _sum(*ends)) for text, ends in kept.items()), key=lambda item: -item[1])


def _sum(a: float, b: float) -> float:
    """Of two probabilities that are given by their logarithms."""
    top, low = (a, b) if a > b else (b, a)
    return float(top) if low < top - 40 else float(top + np.log1p(np.exp(low - top)))
