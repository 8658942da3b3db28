"""When a restarted machine has settled."""

import math

import pytest

from assistant.trade.validity import OutOfRange
from assistant.trade.watch import Round, minutes_to_settle, minutes_to_trip, not_settled, trend

GOOD = [Round(40.0, 10.5, 195.0), Round(50.0, 9.5, 197.0), Round(60.0, 10.0, 198.0)]


def _reasons(rounds: list[Round], loaded: bool = True, seen: bool = True) -> tuple[str, ...]:
    return not_settled(rounds, 10.0, 225.0, loaded, seen)


def test_a_machine_that_meets_every_condition_has_settled() -> None:
    assert _reasons(GOOD) == ()


@pytest.mark.parametrize(
    ("rounds", "word"),
    [
        ([], "suction"),
        (GOOD[1:], "Suction"),
        ([*GOOD[:2], Round(60.0, 13.0, 198.0)], "Suction"),
        ([GOOD[0], Round(50.0, 14.0, 197.0), GOOD[2]], "Suction"),
        ([*GOOD[:2], Round(60.0, None, 198.0)], "Suction"),
        ([*GOOD[:2], Round(60.0, 10.0, 200.0)], "held"),
        ([*GOOD[:2], Round(60.0, 10.0, None)], "held"),
        ([Round(m, 10.0, 212.0) for m in (40.0, 50.0, 60.0)], "near its trip"),
    ],
)
def test_one_condition_that_fails_or_was_not_read_is_named(rounds: list[Round], word: str) -> None:
    assert any(word in reason for reason in _reasons(rounds))


def test_unloaded_or_without_injection_it_has_not_settled() -> None:
    assert len(_reasons(GOOD, loaded=False)) == 1
    assert len(_reasons(GOOD, seen=False)) == 1


def test_fifteen_minutes_prove_nothing() -> None:
    rounds = [Round(m, 10.0, 195.0) for m in (5.0, 10.0, 15.0)]
    assert _reasons(rounds) == ("Suction has been at its set point for less than 20 minutes.",)


def _line(*readings: tuple[float, float]) -> list[Round]:
    return [Round(minutes, None, degf) for minutes, degf in readings]


def test_a_climbing_line_says_when_it_would_trip() -> None:
    assert minutes_to_trip(_line((5, 180), (10, 190), (15, 200)), 225.0) == pytest.approx(12.5)
    assert minutes_to_trip(_line((5, 190), (10, 205)), 225.0) == pytest.approx(20.0 / 3.0)


def test_a_machine_that_warms_up_far_from_its_trip_raises_no_alarm() -> None:
    assert minutes_to_trip(_line((5, 150), (10, 180)), 225.0) is None


def test_a_line_that_falls_or_rises_by_less_than_its_error_raises_no_alarm() -> None:
    assert minutes_to_trip(_line((5, 215), (10, 210), (15, 205)), 225.0) is None
    assert minutes_to_trip(_line((5, 210), (10, 210), (15, 210.5)), 225.0) is None


def test_a_line_that_levels_off_under_its_trip_raises_no_alarm() -> None:
    # 20 F to go to 220 at minute 10, halved every 10 minutes: straight on it would cross 225, but it will not.
    line = _line(*((t, 220.0 - 40.0 * 2.0 ** (-t / 10.0)) for t in (10.0, 20.0, 30.0)))
    assert minutes_to_trip(line, 225.0) is None
    assert minutes_to_trip(line, 218.0) is not None


def test_a_slope_takes_two_moments() -> None:
    with pytest.raises(OutOfRange, match="two moments"):
        trend([(5.0, 180.0)])


def test_the_slope_and_its_error_are_those_of_another_library() -> None:
    from scipy.stats import linregress

    points = [(5.0, 181.0), (10.0, 189.0), (15.0, 201.0), (25.0, 214.0)]
    theirs, ours = linregress([x for x, _ in points], [y for _, y in points]), trend(points)
    assert ours.per_minute == pytest.approx(theirs.slope)
    assert ours.error_per_minute == pytest.approx(theirs.stderr)


def test_a_line_that_levels_off_by_half_every_ten_minutes_holds_when_it_moves_a_third_of_a_degree_a_minute() -> None:
    # 40 F to go at minute 0, halved every 10 minutes: the change per minute is 40 ln2 / 10 * 2^(-t/10).
    line = _line(*((t, 210.0 - 40.0 * 2.0 ** (-t / 10.0)) for t in (10.0, 20.0, 30.0)))
    left = minutes_to_settle(line)
    assert left is not None
    now_per_minute = 5.0 * math.log(2.0) / 10.0  # at minute 30, with 5 F to go
    assert now_per_minute * 2.0 ** (-left / 10.0) == pytest.approx(0.3, abs=0.01)
    assert minutes_to_settle(_line((10, 190), (20, 195), (30, 201))) is None
    assert minutes_to_settle(_line((10, 190), (20, 195), (20, 196))) is None
    assert minutes_to_settle(_line((10, 190), (10, 195), (20, 196))) == 0.0
    assert minutes_to_settle(_line((10, 190), (20, 195), (30, 196))) == 0.0


def test_a_line_read_twice_at_one_moment_foretells_no_trip():
    assert minutes_to_trip(_line((5, 210), (10, 220), (10, 223)), 225.0) is None
