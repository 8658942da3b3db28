"""How sure the ears are: what is known about the best candidate to a calibrated probability that it was said."""

import math

from assistant.hearing.evidence import Evidence, is_number

# Logistic weights of one ear, fitted on readings of 15 synthetic voices in a machine room's noise and on people
# saying digits in four recorded noises, clean to 0 dB; each voice was judged by weights fitted on the others.
_NUMBER_WEIGHTS = (-1.24, 0.65, 0.06, 0.29)
_WORD_WEIGHTS = (-1.57, 0.35, 0.22, 0.65)
_BOTH_WEIGHTS = (1.19, 0.438, 0.092, 0.113, 1.13, 1.147)
"""Of both ears together, by `tests.bench.fit_sureness`. `tests/bench/README.md` has what they were fitted on, and how far a
probability can be believed."""


def features(evidence: Evidence) -> tuple[float, ...]:
    """What the probability is made of.

    With one ear: 1, log odds of the best, the same in the hearing that gives it least, loudness over noise. With both: 1,
    log odds, loudness, log odds to the first ear, how far other words are ahead of it to the second ear, and its log
    probability there by words. Letters, and whether it is a number, add nothing to that (measured).
    """
    snr = min(max(evidence.snr_db, 0.0), 30.0) / 10
    if not evidence.both:
        return 1.0, evidence.log_odds, evidence.weakest, snr
    return 1.0, evidence.log_odds, snr, evidence.weakest, -min(evidence.unlike, 15.0) / 5, max(evidence.word, -15.0) / 5


def probability(evidence: Evidence) -> float:
    """Probability that the best candidate is what was said, 0 to 1."""
    weights: tuple[float, ...] = _BOTH_WEIGHTS
    if not evidence.both:
        weights = _NUMBER_WEIGHTS if is_number(evidence.best.meaning) else _WORD_WEIGHTS
    score = sum(weight * part for weight, part in zip(weights, features(evidence), strict=True))
    return 1.0 / (1.0 + math.exp(-score))
