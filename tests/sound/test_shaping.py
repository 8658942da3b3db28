"""Speech shaped for a loud room: clearer, never louder; and how loud the room is."""

import numpy as np
import pytest

from assistant.sound.audio_file import RATE_HZ, Samples
from assistant.sound.devices import Block
from assistant.sound.narrator import Narrator
from assistant.sound.room import Room
from assistant.sound.shaping import LOUD_DBFS, QUIET_DBFS, shaped, strength
from assistant.sound.speech import Speech

PROMPT = "Not dead. Find the second source."


def voiced() -> Samples:
    """From the pack: the plain engine never says a thing the same way twice."""
    return Narrator().render(PROMPT)


def rms(x: Samples) -> float:
    return float(np.sqrt((x.astype(float) ** 2).mean()))


def high_share(x: Samples) -> float:
    """Share of the power over 1 kHz."""
    power = np.abs(np.fft.rfft(x.astype(float))) ** 2
    return float(power[np.fft.rfftfreq(len(x), 1 / RATE_HZ) > 1000].sum() / power.sum())


def spread_db(x: Samples) -> float:
    """From the middle frame that sounds to the loudest."""
    frames = 10 * np.log10((x[: len(x) // 320 * 320].astype(float).reshape(-1, 320) ** 2).mean(axis=1) + 1)
    return float(frames.max() - np.median(frames[frames > frames.max() - 40]))


def test_shaped_speech_is_as_loud_as_before_and_no_peak_is_higher():
    plain = voiced()
    for amount in (0.3, 0.7, 1.0):
        made = shaped(plain, amount)
        assert len(made) == len(plain)
        assert rms(made) == pytest.approx(rms(plain), rel=0.01)
        assert np.abs(made.astype(int)).max() <= np.abs(plain.astype(int)).max()


def test_the_louder_the_room_the_more_is_raised_what_noise_covers():
    plain = voiced()
    by_room = [shaped(plain, strength(dbfs)) for dbfs in (-80.0, -56.0, -50.0, -30.0)]
    shares, spreads = [high_share(x) for x in by_room], [spread_db(x) for x in by_room]
    assert shares == sorted(shares)
    assert shares[-1] > 1.5 * shares[0]
    assert spreads == sorted(spreads, reverse=True)


def test_in_a_quiet_room_nothing_is_changed():
    plain = voiced()
    assert strength(QUIET_DBFS) == 0.0
    assert shaped(plain, strength(QUIET_DBFS - 5)) is plain


def test_a_machine_room_gets_all_of_it_and_no_more():
    assert strength(LOUD_DBFS) == strength(-10.0) == 1.0
    assert 0 < strength((QUIET_DBFS + LOUD_DBFS) / 2) < 1


def test_silence_stays_silence():
    assert not shaped(np.zeros(4000, np.int16), 1.0).any()
    assert not shaped(np.zeros(0, np.int16), 1.0).size


def test_no_sample_comes_later_than_before():
    click = np.zeros(3200, np.int16)
    click[1600] = 8000
    assert abs(int(np.abs(shaped(click, 1.0)).argmax()) - 1600) < 16  # 1 ms


def noise(dbfs: float, seconds: float, seed: int = 1) -> Samples:
    level = 10 ** (dbfs / 20) * 32768
    return np.random.default_rng(seed).normal(0, level, round(seconds * RATE_HZ)).astype(np.int16)


def test_the_room_is_the_middle_of_what_was_heard_and_a_slammed_door_is_outvoted():
    room = Room()
    for at in range(0, 3 * RATE_HZ, 160):
        room.hear(noise(-50, 0.01, at))
    assert room.dbfs == pytest.approx(-50, abs=1)
    for at in range(30):
        room.hear(noise(-10, 0.01, at))
    assert room.dbfs == pytest.approx(-50, abs=1)


def test_a_compressor_that_starts_counts_after_seconds():
    room = Room()
    for at in range(500):
        room.hear(noise(-60, 0.01, at))
    for at in range(300):
        room.hear(noise(-35, 0.01, at))
    assert room.dbfs == pytest.approx(-35, abs=1)


def test_before_anything_was_heard_the_room_counts_as_quiet():
    assert strength(Room().dbfs) == 0.0


class Loudspeaker:
    """A mouth that keeps what it is given."""

    def __init__(self) -> None:
        self.played: list[Samples] = []
        self.began: dict[int, float] = {}

    def play(self, samples: Samples) -> int:
        self.played.append(samples)
        return len(self.played)


@pytest.mark.parametrize(("text", "voice"), [(PROMPT, "the pack"), ("Tallow Street Market.", "the engine")])
def test_what_is_said_in_a_loud_room_leaves_the_speaker_shaped_whichever_voice_says_it(text: str, voice: str):
    mouth = Loudspeaker()
    speech = Speech(mouth)  # type: ignore[arg-type]
    speech.wait_started(60)
    speech.say(text).begun.wait(60)
    speech.room_dbfs = LOUD_DBFS
    speech.say(text).begun.wait(60)
    speech.close()
    quiet, loud = mouth.played
    assert len(quiet) == len(loud)
    assert high_share(loud) > 1.3 * high_share(quiet)
    assert rms(loud) == pytest.approx(rms(quiet), rel=0.01)


def test_what_an_alarm_is_about_is_said_as_loud_as_the_device_can_however_soft_the_voice_was_made():
    mouth = Loudspeaker()
    speech = Speech(mouth)  # type: ignore[arg-type]
    speech.wait_started(60)
    for _ in range(5):
        speech.manner("softer")
    speech.say(PROMPT).begun.wait(60)
    speech.say(PROMPT, alarm=True).begun.wait(60)
    speech.say(PROMPT).begun.wait(60)
    speech.close()
    soft, alarm, after = mouth.played
    assert rms(alarm) > 6 * rms(soft)
    assert rms(after) == rms(soft)
    assert np.abs(alarm.astype(int)).max() < 32767


def test_only_what_follows_the_alarms_tone_is_so_loud():
    from types import SimpleNamespace

    from assistant.call.effects import Say
    from assistant.fronts.microphone import LiveFront

    said: list[tuple[str, bool]] = []
    speech = SimpleNamespace(
        protected=False, stop=lambda: None, manner=lambda word: None, sound=lambda samples, protected: None,
        say=lambda text, protected, alarm: said.append((text, alarm)),
    )  # fmt: skip
    part = SimpleNamespace(changed=None, alone=None)
    front = LiveFront(part, part, speech, SimpleNamespace())  # type: ignore[arg-type]
    front.say(Say("ask", "Coil seated?"))
    front.manner("alarm")
    front.say(Say("caution", "Check-in. Are you well? Say okay.", urgent=True))
    front.say(Say("ask", "Coil seated?"))
    assert [alarm for _, alarm in said] == [False, True, False]


def test_tones_are_never_shaped():
    mouth = Loudspeaker()
    speech = Speech(mouth)  # type: ignore[arg-type]
    speech.wait_started(60)
    speech.room_dbfs = LOUD_DBFS
    tone = noise(-20, 0.2)
    speech.sound(tone).begun.wait(60)
    speech.close()
    assert mouth.played[0] is tone


def test_the_front_measures_the_room_only_while_nobody_sounds():
    from types import SimpleNamespace

    from assistant.fronts.microphone import LiveFront

    ear = SimpleNamespace(changed=None, alone=None)
    mouth = SimpleNamespace(changed=None, busy=False, quiet_since_s=0.0)
    speech = SimpleNamespace(busy=False, room_dbfs=-120.0)
    front = LiveFront(ear, mouth, speech, SimpleNamespace())  # type: ignore[arg-type]
    loud, nobody, somebody = noise(-40, 0.1), SimpleNamespace(speaking=False), SimpleNamespace(speaking=True)
    front._measure_room(somebody, Block(10.0, loud))  # type: ignore[arg-type]
    assert speech.room_dbfs == -120.0
    speech.busy = True
    front._measure_room(nobody, Block(11.0, loud))  # type: ignore[arg-type]
    assert speech.room_dbfs == -120.0
    speech.busy = False
    front._measure_room(nobody, Block(12.0, loud))  # type: ignore[arg-type]
    assert speech.room_dbfs == pytest.approx(-40, abs=1)
