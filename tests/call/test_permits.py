"""What must hold before something is done, each condition by itself."""

from datetime import timedelta
from types import SimpleNamespace

import pytest

from assistant.call import permits, repairing
from assistant.call.by_reading import ACROSS
from assistant.call.facts import ReadingTaken
from assistant.language.meaning import Value
from assistant.trade.limits import USUAL
from tests.talk import Talk


def standing(readings: dict[str, Value], psig: float | None) -> SimpleNamespace:
    return SimpleNamespace(value=readings.get, number=readings.get, us=lambda _: psig, limits=USUAL, full_again=False)


@pytest.mark.parametrize(("needs", "readings", "psig", "prepared"), [
    ("section", {"section_emptied": True}, 0.0, True), ("section", {"section_emptied": True}, 12.0, False),
    ("section", {"section_emptied": True}, None, False), ("section", {}, 0.0, False),
    ("isolated", {"machine_isolated": True}, 0.0, True), ("isolated", {"machine_isolated": True}, 12.0, False),
    ("isolated", {}, 0.0, False),
    ("recovered", {"refrigerant_recovered": 4.0}, None, True), ("recovered", {}, None, False),
])  # fmt: skip
def test_nothing_is_opened_before_it_is_emptied_and_stands_at_zero(
    needs: str, readings: dict[str, Value], psig: float | None, prepared: bool, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(repairing, "repair", lambda _: SimpleNamespace(needs=(needs,)))
    assert repairing.repair_prepared(standing(readings, psig)) is prepared  # type: ignore[arg-type]


@pytest.mark.parametrize(("minutes", "older"), [(5, False), (90, True)])
def test_a_probe_read_long_after_its_pipe_has_the_pipe_read_again(minutes: float, older: bool):
    state = Talk().dialogue.state
    now = state.opened_at
    assert now is not None
    assert not permits._pipe_older(state)
    state.taken_at["probe_ohms.module_end"] = now + timedelta(minutes=minutes)
    assert not permits._pipe_older(state)
    state.taken_at["probe_pipe_temperature"] = now
    assert permits._pipe_older(state) is older


def taken(id_: str, value: Value) -> ReadingTaken:
    return ReadingTaken(id_, value, None, "where", "", "read back", False)


@pytest.mark.parametrize(("share", "opened"), [(1.0, True), (0.0, False)])
def test_full_control_voltage_across_a_contact_says_that_it_is_open(share: float, opened: bool):
    state = Talk().hear("rack a two").dialogue.state
    assert state.rack is not None
    id_, name = next(iter(ACROSS.items()))
    state._across(taken(id_, share * state.rack.panel.control_volts))
    assert state.contacts == ([name] if opened else [])


@pytest.mark.parametrize(("detector", "alarm"), [("quiet", False), ("alarm", True), ("dead", True), ("none", True)])
def test_in_a_closed_room_a_detector_that_is_dead_is_an_alarm(detector: str, alarm: bool):
    talk = Talk().hear("rack a two").hear("understood")
    talk.hear(f"detector {detector}")
    assert talk.dialogue.state.alarm is alarm
