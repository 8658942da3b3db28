"""What earlier calls know is said once the machine is named."""

import pytest

from assistant.call import history, prompts
from assistant.call.effects import Say
from assistant.call.engine import Dialogue
from assistant.call.facts import CallOpened
from assistant.call.heard import Heard
from assistant.call.judge import Judge
from assistant.call.procedure import all_steps
from assistant.profile import load_profile
from tests.talk import NOON


def _said(opened: CallOpened) -> str:
    call = Dialogue(load_profile(), all_steps(), Judge())
    call.open(NOON, opened)
    effects = call.receive(Heard("north store a two", NOON))
    return " | ".join(x.text for x in effects if isinstance(x, Say))


@pytest.mark.parametrize(
    ("trips", "says"),
    [
        ((), ""),
        ((("a", "one", 3.0), ("b", "two", 5.0)), ""),
        ((("a", "two", 12.0),), "Second trip of this one in ninety days."),
        ((("a", "two", 12.0), ("a", "two", 40.0)), "Third trip of this one in ninety days. No reset without the supervisor."),
    ],
)  # fmt: skip
def test_the_trips_of_this_machine_are_told_and_no_other(trips: tuple[tuple[str, str, float], ...], says: str) -> None:
    said = _said(CallOpened("paper", "", "test", machine_trips=trips))
    assert (says in said) if says else ("trip of this one" not in said)


def test_what_the_last_call_left_on_this_machine_is_told() -> None:
    left = (("a", "two", "reset_substitute"), ("a", "one", "part_borrowed"))
    said = _said(CallOpened("paper", "", "test", left_before=left))
    assert "Left from last time: substitute reset." in said
    assert "borrowed" not in said


@pytest.mark.parametrize("reset", ["reset", "motor_reset", "pressure_reset"])
def test_from_the_third_trip_on_every_reset_asks_for_the_supervisor_and_says_what_to_do_without(reset: str) -> None:
    for earlier, wanted in ((1, False), (2, True)):
        trips = tuple(("a", "two", float(days)) for days in range(earlier))
        call = Dialogue(load_profile(), all_steps(), Judge())
        call.open(NOON, CallOpened("paper", "", "test", machine_trips=trips))
        call.receive(Heard("north store a two", NOON))
        said = prompts.prompt(call.state.steps[reset], call.state)
        assert ("Only if the supervisor agreed, else say finish job." in said) == wanted


def test_no_reset_is_left_out_of_the_third_trip_s_question() -> None:
    assert {step.id for step in all_steps() if "ne reset" in step.ask} == history.RESETS
