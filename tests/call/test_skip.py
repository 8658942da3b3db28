"""What "skip" leaves: the step that is asked, or waited for; never one that was answered."""

from assistant.call.check_in import CheckIn
from assistant.call.effects import Listen, Wait
from assistant.fronts.pipe import ask_message
from tests.simulated import Rack
from tests.talk import Talk


class Waiting(Talk):
    """A call on paper that stops at a wait."""

    waits_by_itself = False

    def until_wait(self, rack: Rack, before: str) -> "Waiting":
        """Go on until the wait before this step."""
        for _ in range(250):
            last = self.effects[-1]
            if isinstance(last, Wait):
                if last.step == before:
                    return self
                self.wait((last.until - self.now).total_seconds())
            else:
                assert isinstance(last, Listen)
                self.hear(rack.answer(ask_message(last)))
        raise AssertionError(f"nothing waits before '{before}'")

    @property
    def answered(self) -> dict[str, str]:
        return dict(self.dialogue.state.answered)


def test_skip_during_a_wait_skips_the_round_that_is_waited_for():
    talk = Waiting().until_wait(Rack("injection_coil_failed"), "watch_first")
    before = talk.answered
    assert before["start"] == "done"
    talk.hear("skip this", "yes")
    assert talk.answered == {**before, "watch_first": "skipped"}


def test_skip_while_the_crankcase_warms_is_no_way_to_take_the_liquid_for_gone():
    talk = Waiting().until_wait(Rack("injection_strainer_plugged", words={"injection_feed": "weak"}), "liquid_oil")
    talk.hear("skip this", "yes")
    assert talk.answered["liquid_oil"] == "skipped"
    assert talk.answered["liquid_heater"] == "done"
    assert "liquid_in_compressor" in talk.open


def behind_a_caution() -> Talk:
    rack = Rack("none")
    return Talk().until(rack, "machine_look").hear("all good").until(rack, "tag/lock_out")


def test_skip_said_to_a_correction_behind_a_caution_leaves_the_step_before_it_done():
    talk = behind_a_caution()
    before = dict(talk.dialogue.state.answered)
    talk.hear("correction rack suction", "skip this", "yes")
    assert "The caution first" in talk.said
    assert talk.dialogue.state.answered == before


def test_skip_said_to_a_check_in_behind_a_caution_leaves_the_step_before_it_done():
    talk = behind_a_caution()
    before = dict(talk.dialogue.state.answered)
    talk.dialogue.check_in = CheckIn(10, talk.now)
    talk.wait(11 * 60).hear("skip this", "yes")
    assert talk.dialogue.state.answered == before


def test_who_takes_a_command_back_at_a_caution_hears_what_is_waited_for():
    talk = Talk().hear("rack a two", "go back", "no")
    assert talk.said == "The caution first. Say understood."
    assert talk.asked == "fit/room:command"


def test_a_close_without_a_cause_names_what_was_skipped_on_the_way():
    rack = Rack("none")
    talk = Talk().until(rack, "rack_suction").hear("skip this", "yes").until(rack, "consent")
    assert talk.said.startswith("Skipped: rack suction, rack discharge. | No cause found.")


def test_a_close_with_its_cause_names_nothing_skipped():
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "glass").hear("skip this", "yes").until(rack, "consent")
    assert "Injection coil failed, proven" in talk.said
    assert "Skipped" not in talk.said
