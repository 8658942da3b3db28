"""What is told in one breath with an answer is on record, and is not asked again by the step that would have asked it."""

import pytest

from tests.test_said_not_safe import standing_at


@pytest.mark.parametrize(("said", "ahead"), [
    ("suction eleven, discharge two oh five, glass full, no defrost", {"sight_glass": "full", "defrost_state": "none"}),
    ("eleven and two oh five, glass is clear, no defrost", {"defrost_state": "none"}),
    ("eleven and two oh five, hand valve's open", {"injection_hand_valve": "open"}),
])  # fmt: skip
def test_what_a_later_step_asks_is_told_beside_the_pressures(said: str, ahead: dict[str, object]):
    talk = standing_at("injection_coil_failed", "rack_suction").hear(said)
    assert talk.readings["rack_suction_pressure"] == 11
    assert talk.readings["rack_discharge_pressure"] == 205
    assert {id_: talk.readings.get(id_) for id_ in ahead} == ahead


@pytest.mark.parametrize(("said", "not_told"), [
    ("eleven and two oh five, is the glass full", "sight_glass"),
    ("eleven and two oh five, glass was full before", "sight_glass"),
    ("eleven and two oh five, coil ohms four ten", "injection_coil_ohms"), ("eleven and two oh five, my lock's on", "locked_out"),
    ("eleven and two oh five, meter's good", "meter_proved_before"),
    ("suction looks like forty eight and the head is way up there, three oh five", "head_fan_running"),
])  # fmt: skip
def test_a_question_the_past_a_number_under_a_lock_and_an_acknowledgement_are_not_told_ahead(said: str, not_told: str):
    assert not_told not in standing_at("injection_coil_failed", "rack_suction").hear(said).readings


def test_a_clause_that_sounds_like_trouble_is_never_lost_over_it():
    talk = standing_at("injection_coil_failed", "rack_suction").hear("eleven and two oh five, no defrost, something smells burnt")
    assert "safe" in talk.said or "emergency" in talk.said
