"""Several readings one after the other, each with its place or its name: the place is no part of the value."""

import pytest

from tests.language.test_said_at_steps import meant


@pytest.mark.parametrize(("step", "said", "values"), [
    ("windings", "first four point one, then four point two, and the last one six point five", (4.1, 4.2, 6.5)),
    ("windings", "four point one, four point two, and the third one's six", (4.1, 4.2, 6)),
    ("windings", "two point four, two point four, and between three and one two point five", (2.4, 2.4, 2.5)),
    ("windings", "first one point three, then one point two, then one point three", (1.3, 1.2, 1.3)),
    ("live_fuses", "first zero, second zero, and the third one has four hundred sixty", (0, 0, 460)),
    ("live_fuses", "zero on one and two, four sixty on three", (0, 0, 460)),
    ("run_amps", "it shows twenty eight and a half on one, twenty nine on two and twenty eight on three", (28.5, 29, 28)),
    ("run_amps", "one has forty two, two has forty four, three has forty three", (42, 44, 43)),
    ("run_amps", "third is forty one, first thirty nine, second forty", (39, 40, 41)),
    ("run_oil", "pump's making fifty five, crankcase is sitting at eighteen", (55, 18)),
    ("watch_second", "well, suction dropped to sixteen and discharge is hanging at two oh eight", (16, 208)),
])  # fmt: skip
def test_each_value_comes_to_its_own_reading(step: str, said: str, values: tuple[float, ...]):
    told = [part.split("=")[1] for part in meant(step, said).split("; ")]
    assert [float(value) for value in told] == list(values)


@pytest.mark.parametrize(("step", "said"), [
    ("run_amps", "one has forty two, two has forty four"), ("watch_second", "suction went from sixteen to twenty"),
    ("run_amps", "forty one on the first, forty on the other machine, thirty on the third"),
])  # fmt: skip
def test_what_is_not_all_of_it_or_anothers_does_not_come_to_all(step: str, said: str):
    assert len(meant(step, said).split("; ")) < 3
