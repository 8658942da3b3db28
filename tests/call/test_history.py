"""What earlier calls know is said once the machine is named."""

import pytest

from assistant.call.effects import Say
from assistant.call.engine import Dialogue
from assistant.call.facts import CallOpened
from assistant.call.heard import Heard
from assistant.call.judge import Judge
from assistant.call.procedure import own_procedure
from assistant.profile import load_profile
from tests.branch_rack import BranchRack, fault
from tests.rig.scenes import Scene
from tests.rig.technician import Rig
from tests.talk import NOON, Talk


def _said(opened: CallOpened) -> str:
    call = Dialogue(load_profile(), own_procedure(), Judge())
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
    said = _said(CallOpened("paper", "", "test", machine_trips=trips, technician="Robin Vale"))
    assert (says in said) if says else ("trip of this one" not in said)


def test_what_the_last_call_left_on_this_machine_is_told() -> None:
    left = (("a", "two", "reset_substitute", "Kim"), ("a", "one", "part_borrowed", "Kim"))
    said = _said(CallOpened("paper", "", "test", left_before=left, technician="Robin Vale"))
    assert "Left from last time: substitute reset." in said
    assert "borrowed" not in said


@pytest.mark.parametrize(("fault", "contact"), [("suction filter", "contact three"), ("none at the motor", "contact four")])
def test_from_the_third_trip_on_every_reset_asks_for_the_supervisor_by_name_first(fault: str, contact: str) -> None:
    for earlier, wanted in ((1, False), (2, True)):
        talk = Talk(trips=tuple(("a", "two", float(days)) for days in range(earlier))).to_the_seal(BranchRack(fault))
        asked = [said for said in talk.spoken if "Did Supervisor on call agree to a reset?" in said]
        assert bool(asked) == wanted
        assert talk.dialogue.state.resets


def test_without_the_supervisor_there_is_no_third_reset() -> None:
    trips = (("a", "two", 3.0), ("a", "two", 9.0))
    talk = Talk(trips=trips).to_the_seal(BranchRack("none at the low pressure", {"supervisor_agreed": "no"}))
    assert "Then no reset. It stays off." in " ".join(talk.spoken)
    assert talk.dialogue.state.resets == set()
    assert talk.dialogue.state.started_at is None


def test_a_reset_that_the_supervisor_refuses_ends_no_call_of_which_another_contact_is_still_looked_at() -> None:
    both = Scene("motor", fault("motor")), Scene("low", fault("low pressure"))
    rig = Rig("none", {"supervisor_agreed": "no", "live_or_dead": "live", "ladder_kind": "metal"}, scenes=both)
    talk = Talk(trips=(("a", "two", 3.0), ("a", "two", 9.0))).to_the_seal(rig)
    assert "Cases of this suction group: normal, iced or off?" in " ".join(talk.spoken)
    assert talk.dialogue.state.resets == set()
