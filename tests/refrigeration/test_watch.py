"""When a restarted machine has settled."""

import pytest

from assistant.refrigeration.limits import OutOfRange
from assistant.refrigeration.watch import Round, minutes_to_trip, not_settled, slope_per_minute

GOOD = [Round(40.0, 10.5, 195.0), Round(50.0, 9.5, 197.0), Round(60.0, 10.0, 198.0)]


def _reasons(rounds: list[Round], loaded: bool = True, seen: bool = True) -> tuple[str, ...]:
    return not_settled(rounds, 10.0, 225.0, loaded, seen)


def test_a_machine_that_meets_every_condition_has_settled() -> None:
    assert _reasons(GOOD) == ()


@pytest.mark.parametrize(
    ("rounds", "word"),
    [
        ([], "Suction"),
        (GOOD[1:], "Suction"),
        ([*GOOD[:2], Round(60.0, 13.0, 198.0)], "Suction"),
        ([GOOD[0], Round(50.0, 14.0, 197.0), GOOD[2]], "Suction"),
        ([*GOOD[:2], Round(60.0, None, 198.0)], "Suction"),
        ([*GOOD[:2], Round(60.0, 10.0, 200.0)], "held"),
        ([*GOOD[:2], Round(60.0, 10.0, None)], "held"),
        ([Round(m, 10.0, 212.0) for m in (40.0, 50.0, 60.0)], "15 degrees"),
    ],
)
def test_one_condition_that_fails_or_was_not_read_is_named(rounds: list[Round], word: str) -> None:
    assert any(word in reason for reason in _reasons(rounds))


def test_unloaded_or_without_injection_it_has_not_settled() -> None:
    assert len(_reasons(GOOD, loaded=False)) == 1
    assert len(_reasons(GOOD, seen=False)) == 1


def test_fifteen_minutes_prove_nothing() -> None:
    rounds = [Round(m, 10.0, 195.0) for m in (5.0, 10.0, 15.0)]
    assert _reasons(rounds) == ("Suction has not been at its set point for 20 minutes.",)


def test_a_climbing_line_says_when_it_would_trip() -> None:
    assert minutes_to_trip([(5.0, 180.0), (10.0, 190.0), (15.0, 200.0)], 225.0) == pytest.approx(12.5)
    assert minutes_to_trip([(5.0, 200.0), (10.0, 190.0)], 225.0) is None
    with pytest.raises(OutOfRange, match="two moments"):
        slope_per_minute([(5.0, 180.0)])
