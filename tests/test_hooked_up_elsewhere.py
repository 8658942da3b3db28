"""What is hooked up in one machine's panel stays bound to that machine, whatever tag is put right afterwards."""

import pytest

from assistant.call.by_reading import ByReading
from tests.simulated import Rack
from tests.talk import Talk

PROVED = ("locked", "good", "zero", "zero", "good")


def with_the_jumper_in() -> tuple[Rack, Talk]:
    rack = Rack("module_no_output")
    return rack, Talk().until(rack, "jumper_out")


def test_a_jumper_in_the_neighbours_panel_comes_out_under_the_neighbours_own_tag_and_lock():
    _, talk = with_the_jumper_in()
    talk.hear("correction tag", "a one")
    assert "That is another machine's tag. Still hooked up: jumper, meter leads, start block, panel cover off." in talk.said
    talk.hear("a two")
    assert "That is another machine's tag. This one is a one. Find it." in talk.said
    talk.hear("a one", *PROVED)
    assert talk.asked == "jumper_out:jumper_removed"
    talk.hear("done", "done", "done", "done")
    assert talk.asked == "lock_off_there:command"
    talk.hear("done")
    assert not {"jumper_fitted", "leads_on", "start_blocked", "panel_cover"} & talk.open
    assert (talk.asked, talk.dialogue.state.lock.locked) == ("tag:panel_tag", False)


def test_once_it_is_out_there_this_machine_is_looked_at_under_its_own_tag_and_from_its_first_contact():
    rack, talk = with_the_jumper_in()
    talk.hear("correction tag", "a one", "a one", *PROVED, "done", "done", "done", "done", "done", "a two", *PROVED[:1])
    talk.until(rack, "which_contact")
    assert talk.asked == "which_contact:chain_dead_check"
    assert not talk.broken()


def test_after_an_interruption_it_still_hangs_there():
    _, talk = with_the_jumper_in()
    talk.hear("correction tag", "a one").kill(600).hear("yes", "understood", "yes", "understood", "understood", "a two")
    assert "This one is a one. Find it." in talk.said


def test_a_tag_that_was_only_misread_is_put_right_again_and_what_is_in_comes_out_first():
    _, talk = with_the_jumper_in()
    talk.hear("correction tag", "a one", "correction tag", "a two", "a two", *PROVED)
    assert talk.asked == "jumper_out:jumper_removed"


def test_a_cover_left_off_there_goes_on_before_the_lock_leaves():
    rack = Rack("module_no_output")
    talk = Talk().until(rack, "feed_after").hear("correction tag", "a one")
    assert talk.asked == "covers:covers_on"


def test_the_monitor_sees_a_jumper_that_is_taken_out_under_another_panels_proof(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(ByReading, "_hangs_at", lambda *_: None)
    rack, talk = with_the_jumper_in()
    talk.hear("correction tag", "a one").until(rack, "fit_jumper").hear("done").until(rack, "jumper_out")
    assert any(complaint.startswith("S2 'jumper_out' is asked under the tag of another panel") for complaint in talk.broken())


def with_the_lock_alone_on_the_neighbour() -> Talk:
    return Talk().until(Rack("module_no_output"), "meter_before").hear("correction tag", "a three")


def test_a_lock_that_hangs_at_the_neighbour_is_asked_off_there_before_this_machine_is_locked():
    talk = with_the_lock_alone_on_the_neighbour()
    assert "Your lock hangs on the other machine." in talk.said
    assert "lock_elsewhere" in talk.open
    talk.hear("done")
    assert talk.asked == "tag:panel_tag"
    assert "lock_elsewhere" not in talk.open


def test_whoever_leaves_takes_it_off_first():
    talk = with_the_lock_alone_on_the_neighbour().hear("finish job", "yes")
    for _ in range(20):
        if talk.asked == "lock_off_there:command":
            return
        talk.hear(talk.words_of(Rack("module_no_output")))
    raise AssertionError(talk.asked)


def test_a_tag_that_was_only_misread_leaves_no_lock_elsewhere():
    talk = with_the_lock_alone_on_the_neighbour().hear("correction tag", "a two")
    assert "lock_elsewhere" not in talk.open
    assert not talk.broken()


def test_killed_over_it_the_call_still_knows_where_it_hangs():
    talk = with_the_lock_alone_on_the_neighbour().kill(600)
    for _ in range(12):
        if talk.asked == "lock_off_there:command":
            return
        talk.hear(talk.words_of(Rack("module_no_output")))
    raise AssertionError(talk.asked)


def test_the_monitor_sees_a_lock_that_is_forgotten_at_the_neighbour(monkeypatch: pytest.MonkeyPatch):
    opens = ByReading.will_open

    def forgets(self: ByReading, id_: str, *rest: str) -> None:
        if id_ != "lock_elsewhere":
            opens(self, id_, *rest)

    monkeypatch.setattr(ByReading, "will_open", forgets)
    talk = with_the_lock_alone_on_the_neighbour()
    assert any("hang at another machine" in complaint for complaint in talk.broken())


def test_a_bypass_that_is_told_while_the_other_panel_is_put_back_comes_out_before_its_start_is_freed():
    _, talk = with_the_jumper_in()
    talk.hear("correction tag", "a one", "a one", *PROVED, "done", "done")
    assert talk.asked == "unblock_start:command"
    talk.hear("somebody jumped out the oil control")
    assert talk.asked == "bypass_out:jumper_removed"
    talk.hear("done")
    assert talk.asked == "unblock_start:command"
    assert not talk.broken()
