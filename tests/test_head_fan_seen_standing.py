"""A head fan that only stood with the machine condemns nothing: it is judged as it is seen while the machine runs."""

import pytest

from assistant.fronts.pipe import ask_message
from tests.simulated import Rack
from tests.talk import Talk


def started_with_a_fan_that_stood() -> tuple[Rack, Talk]:
    rack = Rack("injection_coil_failed", {"head_fan_running": "no"})
    talk = Talk().until(rack, "machine_look").hear("all good but the head fan is not running")
    assert talk.asked.startswith("head_fan_look")
    talk.hear("only standing")
    while not talk.asked.startswith("watch_head_fan"):
        talk.hear(rack.answer(ask_message(talk.effects[-1])))
    return rack, talk


def test_a_fan_that_stood_with_the_machine_is_nothing_by_the_start_alone():
    _, talk = started_with_a_fan_that_stood()
    assert "head_fan_failed" not in talk.dialogue.state.conclusions


@pytest.mark.parametrize(("seen", "standing"), [("yes", "ruled_out"), ("no", "proven")])
def test_a_fan_is_judged_as_it_is_seen_with_the_machine_running(seen: str, standing: str):
    _, talk = started_with_a_fan_that_stood()
    talk.hear(seen)
    assert talk.dialogue.state.conclusions["head_fan_failed"].standing == standing
