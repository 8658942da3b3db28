"""Nothing is said that the technician knows already."""

from tests.bench.straight_call import straight
from tests.simulated import Rack
from tests.talk import Talk


def _spoken(talk: Talk) -> list[str]:
    return [effect.text for _, effects in talk.history for effect in effects if hasattr(effect, "text")]


def test_what_is_as_it_was_asked_is_read_back_as_all_good():
    talk = Talk().until(Rack("probe_fouled"), "machine_look")
    talk.hear("intact yes open seated clean dry")
    assert talk.said.startswith("All good.")


def test_what_is_odd_is_read_back_with_the_rest():
    talk = Talk().until(Rack("probe_fouled"), "machine_look")
    talk.hear("all good but the head fan's stopped")
    assert not talk.said.startswith("All good.")
    assert "fan" in talk.said


def test_a_conclusion_that_waited_for_the_power_to_be_off_is_said_once():
    said = [text for text in _spoken(straight("module_no_output")) if text.startswith("Injection module.")]
    assert sum("Supported" in text for text in said) == 0
    assert sum("Proven" in text for text in said) == 1


def test_what_was_repaired_is_not_told_to_be_repaired():
    said = _spoken(straight("injection_valve_stuck_closed"))
    proven = [text for text in said if text.startswith("Injection valve stuck closed. P")]
    assert proven == ["Injection valve stuck closed. Proven."]
