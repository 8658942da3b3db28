"""Live calls over real sound streams: a whole one, and each fault of the devices."""

import pytest

from assistant.fronts import microphone as live
from tests.live.conftest import Scene
from tests.live.scenes import ROOM


def kinds(log: list[dict[str, object]]) -> list[str]:
    return [str(line["kind"]) for line in log]


def answers(shown: str) -> list[str]:
    return [line.removeprefix("  > ") for line in shown.splitlines() if line.startswith("  > ")]


def test_a_call_over_a_headset_is_carried_to_its_seal(scene: Scene):
    came = scene("whole_call_with_headset")
    assert came.code == 0, came.shown
    assert came.log[-1]["kind"] == "call_sealed"
    assert came.said["Closed and sealed."] is not None


def test_an_answer_into_a_caution_does_not_count_and_stop_makes_it_short(scene: Scene):
    came = scene("whole_call_with_headset")
    said = answers(came.shown)
    assert said[:6] == ["stop", "rack b three", "yes", "stop", "understood", "all good"]
    given = [line["form"] for line in came.log if line["kind"] == "caution_given" and line["caution"] == "room"]
    assert given == ["full"]


def test_the_sound_of_each_answer_is_kept_beside_its_line_and_that_is_said_aloud(scene: Scene):
    came = scene("whole_call_with_headset")
    assert came.said[live.KEEPS_AUDIO] is not None
    heard = [line for line in came.log if line["kind"] == "words_heard"]
    assert heard
    for line in heard:
        assert (came.folder / str(line["audio"])).stat().st_size > 1000, line


def test_an_open_loudspeaker_does_not_answer_its_own_questions(scene: Scene):
    came = scene("open_loudspeaker")
    assert answers(came.shown) == ["rack b three", "yes", "understood"]
    assert came.said[ROOM] is not None
    assert all(not line.get("audio") for line in came.log)


@pytest.mark.parametrize("what", ["unplugged", "muted"])
def test_a_microphone_that_is_gone_is_known_said_aloud_and_taken_back(scene: Scene, what: str):
    came = scene("microphone_troubles")
    assert came.said[what] is not None
    assert came.said[f"{what}, asked again"] is not None


def test_the_question_stands_through_the_microphones_troubles(scene: Scene):
    came = scene("microphone_troubles")
    assert answers(came.shown) == ["rack b three"]
    assert "not understood" not in [line.get("meaning") for line in came.log]


@pytest.mark.parametrize("what", ["speaker", "server"])
def test_a_speaker_that_is_gone_is_known_and_what_it_did_not_say_is_said_when_it_is_back(scene: Scene, what: str):
    came = scene("speaker_and_server_gone")
    assert came.said[f"{what}, asked"] is not None
    assert answers(came.shown) == ["rack b three"]


def test_a_call_killed_in_mid_sentence_falls_silent_and_goes_on_at_the_same_step(scene: Scene):
    came = scene("killed_in_mid_sentence")
    assert came.said[ROOM] is None
    assert came.log[-1]["kind"] == "caution_given"
    assert "Taken up again." in came.shown
    assert answers(came.shown) == ["understood"]


def test_a_full_disk_stops_the_call_with_a_sentence_and_loses_nothing_that_was_read_back(scene: Scene):
    came = scene("disk_full")
    if came.shown == "no right to mount":
        pytest.skip("a small disk can only be mounted with root's rights")
    assert came.code == 3, came.shown
    assert "cannot write the log: No space left on device" in came.shown
    assert "Traceback" not in came.shown
    assert came.said[live.DISK] is not None
    assert came.codes["verified"] == 0
    assert "Taken up again." in came.shown
    assert "call_resumed" in kinds(came.log)


def part(shown: str, name: str) -> str:
    return shown.split(f"== {name}\n")[1].split("\n== ")[0]


def test_ready_measures_the_room_the_speaker_and_an_utterance(scene: Scene):
    came = scene("ready_and_phrases")
    good = part(came.shown, "good")
    assert came.codes["good"] == 0, good
    assert 'heard "two thirty"' in good
    assert "room: noise -6" in good
    assert "12 dB under what was played: talk without --headset" in good
    assert good.endswith("Ready.")


def test_ready_says_what_to_do_about_a_microphone_too_far_away_or_muted(scene: Scene):
    came = scene("ready_and_phrases")
    assert came.codes["far"] == 1
    assert "move the microphone closer" in part(came.shown, "far")
    assert came.codes["muted"] == 3
    assert "check its mute switch" in part(came.shown, "muted")


def test_a_recorded_phrase_is_heard_again_by_a_replay(scene: Scene):
    from assistant.fronts.recording import replay

    came = scene("ready_and_phrases")
    assert came.code == 0
    lines: list[str] = []
    assert replay(came.folder, lines.append) == 0, lines
    assert lines == ["phrases: same, 1 phrases"]
