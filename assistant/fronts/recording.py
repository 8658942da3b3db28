"""Recorded calls: the same loop with sound files for a technician, its log compared with the expected one."""

import csv
import tempfile
import time
import tomllib
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, Protocol

import numpy as np

from assistant.call.effects import Listen, Say, Wait
from assistant.call.facts import (
    CautionAcknowledged,
    Fact,
    NoteTaken,
    ReadingTaken,
    StepDone,
    StepEntered,
)
from assistant.call.heard import Heard, Silence, Unclear
from assistant.fronts.comparing import as_lines, difference, first_apart, same_value, that_count, value_text
from assistant.fronts.loop import Clock, Front, new_call, profile_hash, resumed_call, run
from assistant.fronts.waiting import told
from assistant.language.meaning import Question, Value
from assistant.language.vocabulary import vocabulary
from assistant.paths import data_folder
from assistant.profile import DEMO_SITE, Site, load_profile

Out = Callable[[str], None]
Samples = np.ndarray[Any, np.dtype[np.int16]]
"""int16, shape (n_samples,), mono, 16 kHz."""
RATE_HZ = 16_000
AWAY_S = 120.0
"""How long the program is away where a recording ends it."""
AGAIN = 2
"""How often the same answer is said again when it did not count."""
MANIFEST = "manifest.csv"
"""Of single phrases; a call has `answers.csv`."""
SHOWN = 20
"""Lines of a difference that are printed."""


# ---- the ear


class Hearing(Protocol):
    def fact(self, at: datetime, audio: str = "") -> Heard | Unclear: ...


class FileEar(Protocol):
    def hear(self, samples: Samples, question: Question) -> Hearing: ...


def open_ear() -> FileEar:
    """The recogniser, ready for the first answer.

    Raises:
        ModelMissing: there is no speech model.
    """
    from assistant.hearing.model import model_folder
    from assistant.hearing.recogniser import Recogniser

    return Recogniser(model_folder())


# ---- a recording


@dataclass(frozen=True)
class Row:
    """One answer: a line of `answers.csv`."""

    file: str
    asking: str
    value: str
    """What was meant; `id=value; id=value` where one breath answers several; a go-ahead's own words."""
    words: str
    step: str = ""
    """Said at this step, once, before its answer: a command out of turn. Without a file the program is ended there, and taken
    up again two minutes later."""

    def means(self, id_: str, value: Value | None) -> bool:
        """Whether this value, asked back, is what was meant for this id."""
        parts = dict(p.split("=", 1) for p in self.value.split("; ") if "=" in p)
        meant = parts.get(id_, self.value if not parts and id_ == self.asking else None)
        return meant is not None and same_value(id_, meant, value)


@dataclass(frozen=True)
class Recording:
    """A folder of `demo_audio`."""

    folder: Path
    start: datetime
    rows: tuple[Row, ...]

    @property
    def name(self) -> str:
        return self.folder.resolve().name


def load(folder: Path) -> Recording:
    """A recorded call.

    Raises:
        ValueError: the folder or one of its files is missing or cannot be read; says which.
    """
    if not folder.is_dir():
        raise ValueError(f"there is no folder {folder}")
    for name in ("call.toml", "answers.csv"):
        if not (folder / name).is_file():
            raise ValueError(f"{folder} is no recorded call: {name} is missing")
    try:
        start = tomllib.loads((folder / "call.toml").read_text(encoding="utf-8"))["start"]
        with open(folder / "answers.csv", newline="", encoding="utf-8") as file:
            rows = tuple(
                Row(r["file"], r["asking"], r["value"], r["words"], r.get("step") or "") for r in csv.DictReader(file)
            )
    except KeyError as error:
        raise ValueError(f"{folder}: {error} is missing in call.toml or answers.csv") from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError, csv.Error) as error:
        raise ValueError(f"{folder}: call.toml or answers.csv cannot be read ({error})") from error
    if not isinstance(start, datetime) or start.tzinfo is None:
        raise ValueError(f"{folder / 'call.toml'}: start is a time with its offset")
    return Recording(folder, start, rows)


class Sounds:
    """The sound of a recording's answers, with a room's noise mixed in where that is asked for."""

    def __init__(self, folder: Path, noise: Path | None = None, snr_db: float | None = None) -> None:
        self._folder, self._snr_db = folder, snr_db
        self._noise = _read(noise) if noise else None
        self.seconds = 0.0
        """Sound given so far [s]."""

    def get(self, name: str, turn: int = 0) -> Samples:
        """An answer's sound; `turn` counts its repetitions: each lies on another stretch of the noise."""
        samples = _read(self._folder / name)
        self.seconds += len(samples) / RATE_HZ
        if self._noise is None or self._snr_db is None:
            return samples
        return mixed(samples, self._noise, self._snr_db, zlib.crc32(f"{name} {turn}".encode()))


def _read(path: Path) -> Samples:
    from assistant.sound.audio_file import AudioFault, read_audio

    try:
        return read_audio(path)
    except AudioFault as fault:
        raise ValueError(str(fault)) from fault


def mixed(speech: Samples, noise: Samples, snr_db: float, place: int) -> Samples:
    """Speech with noise under it, at a ratio measured where there is speech.

    Args:
        speech: int16, shape (n_samples,), mono, 16 kHz.
        noise: the same form, of any length; it is repeated where it is shorter.
        snr_db: power of the speech, in the frames within 25 dB of the loudest, over the noise's [dB].
        place: where in the noise it begins, any whole number.
    """
    frame = RATE_HZ // 50
    x = speech.astype(np.float64)
    rows = x[: len(x) // frame * frame].reshape(-1, frame)
    power = (rows**2).mean(axis=1) if len(rows) else np.array([0.0])
    active = float(power[power >= power.max() * 10**-2.5].mean())
    cut = np.take(noise, np.arange(len(x)) + place % len(noise), mode="wrap").astype(np.float64)
    under = float((cut**2).mean())
    if not active or not under:
        return speech
    both = x + cut * np.sqrt(active / under / 10 ** (snr_db / 10))
    return np.asarray(np.rint(both * min(1.0, 32767 / np.abs(both).max())), dtype=np.int16)


# ---- the front


class RecordedFront:
    """A recorded technician on the simulated clock."""

    def __init__(self, recording: Recording, sounds: Sounds, ear: FileEar, clock: Clock) -> None:
        self.sounds, self.ear, self.clock = sounds, ear, clock
        self.left = list(recording.rows)
        self.row: Row | None = None
        self.turn = self.turn_back = 0
        self.asked_back: tuple[str, Value | None] | tuple[()] = ()
        self.counted = True
        self.state = ""
        self.cut = False
        """The program was ended by the recording, to be taken up again."""
        self.trouble = ""
        """Why the recording ended before the call."""
        self.answers = 0
        self.heard: list[str] = []
        """What the ear made of the latest row, each time it was said."""

    def recorded(self, fact: Fact) -> None:
        self.counted = self.counted or isinstance(
            fact, ReadingTaken | StepDone | CautionAcknowledged | StepEntered | NoteTaken
        )

    def say(self, say: Say) -> None:
        self.clock.speak(say.text)

    def manner(self, word: str) -> None:
        pass

    def listen(self, listen: Listen) -> Heard | Unclear | None:
        file = self._file(listen)
        if file is None:
            return None
        samples = self.sounds.get(file, self.turn + self.turn_back)
        self.clock.advance(len(samples) / RATE_HZ)
        self.answers += 1
        return self.played(file, samples, listen)

    def played(self, file: str, samples: Samples, listen: Listen) -> Heard | Unclear:
        """What the ear makes of an answer's sound."""
        heard = self.ear.hear(samples, listen.question).fact(self.clock.now())
        self.heard.append(f"'{heard.words}'" if heard.words else "nothing clear")
        return heard

    def _file(self, listen: Listen) -> str | None:
        q = listen.question
        if q.asking == "confirm":
            return self._confirming(listen)
        self.asked_back = ()
        now = next((r for r in self.left if r.step and r.step == listen.step), None)
        if now is not None:
            self.left.remove(now)
            self.cut = not now.file
            self.row, self.counted = None, True
            return now.file or None
        if not self.counted and self.row is not None and self.row.asking == q.asking:
            self.turn += 1
            if self.turn > AGAIN:
                heard = ", ".join(self.heard[-AGAIN - 1 :])
                return self._ended_by(listen, f"'{self.row.words}' did not count, said {AGAIN + 1} times; heard: {heard}")
            return self.row.file
        row = next((r for r in self.left if not r.step and r.asking == q.asking and self._fits(r, q)), None)
        if row is None:
            return self._ended_by(listen, "the recording has no answer for it")
        self.left.remove(row)
        self.row, self.turn, self.counted = row, 0, False
        return row.file

    def _confirming(self, listen: Listen) -> str | None:
        q = listen.question
        meant = self.row is not None and self.row.means(q.of, q.value)
        now = (q.of, q.value)
        self.turn_back = self.turn_back + 1 if now == self.asked_back else 0
        self.asked_back = now
        if self.turn_back > AGAIN:
            return self._ended_by(listen, f"no yes or no to {q.of} was heard")
        return "yes.flac" if meant else "no.flac"

    @staticmethod
    def _fits(row: Row, question: Question) -> bool:
        """A go-ahead has words of its own: "reset" is none for a lock."""
        return question.asking != "command" or row.words in (*question.go_ahead, *question.other_words)

    def _ended_by(self, listen: Listen, why: str) -> str | None:
        self.trouble = f"step {listen.step}, asking {listen.question.asking}: {why}"
        return None

    def wait(self, wait: Wait) -> Silence:
        self.clock.advance((wait.until - self.clock.now()).total_seconds())
        return Silence(self.clock.now())

    def ended(self, state: str, call: Path) -> None:
        self.state = state


def replay(
    folder: Path, out: Out, noise: Path | None = None, snr_db: float | None = None, keep: Path | None = None, accept: bool = False
) -> int:
    """Run a recorded call and compare its log with the expected one.

    Args:
        folder: of a recorded call.
        out: takes each line: `- ` was expected, `+ ` was got.
        noise: a sound file to lay under every answer.
        snr_db: speech over that noise [dB].
        keep: the folder of calls where the run's own log stays; without it nothing stays.
        accept: what was got, after it was shown, is what is expected from now on, if the call came to its seal.

    Returns:
        0 when every fact that counts is the same, or was accepted, else 1.

    Raises:
        ValueError: the folder or one of its files is missing or cannot be read; says which.
        ModelMissing: there is no speech model.
    """
    if (folder / MANIFEST).is_file():
        return replay_phrases(folder, open_ear(), out)
    recording, file = load(folder), folder / "expected.jsonl"
    if not file.is_file() and not accept:
        raise ValueError(f"{folder} is no recorded call: expected.jsonl is missing; --accept writes it")
    expected = file.read_text(encoding="utf-8").splitlines() if file.is_file() else []
    clock = Clock(True, recording.start)
    front = RecordedFront(recording, Sounds(folder, noise, snr_db), open_ear(), clock)
    with tempfile.TemporaryDirectory() as passing:
        own = folder / "profile.toml"  # a recorded call may bring its site
        call = carry(front, clock, load_profile(own if own.is_file() else DEMO_SITE), keep or Path(passing))
        counting = that_count(call)
    parts = difference(expected, as_lines(counting))
    readings = sum(one.fact["kind"] == "reading_taken" for one in counting)
    if front.trouble:
        out(f"{recording.name}: {front.trouble}")
    elif not parts:
        out(f"{recording.name}: same, {readings} readings, {front.state}")
        return 0
    out(f"{recording.name}: different ('- ' expected, '+ ' got); {first_apart(expected, counting, recording.start)}")
    shown = len(parts) if accept else SHOWN
    for line in parts[:shown]:
        out(line)
    if len(parts) > shown:
        out(f"  and {len(parts) - shown} lines more")
    if keep:
        out(f"  its log: {call}")
    if not accept:
        return 1
    if front.trouble or front.state != "sealed":
        out(f"{recording.name}: not accepted, it did not come to its seal")
        return 1
    file.write_text("\n".join(as_lines(counting)) + "\n", encoding="utf-8")
    out(f"{recording.name}: accepted, {readings} readings, {front.state}")
    return 0


def replay_phrases(folder: Path, ear: FileEar, out: Out) -> int:
    """Hear each phrase of a folder again and compare its value with what was meant. 0 when all are the same, else 1.

    Raises:
        ValueError: the manifest or a file cannot be read.
    """
    with open(folder / MANIFEST, newline="", encoding="utf-8") as source:
        rows = list(csv.DictReader(source))
    different = 0
    for row in rows:
        asking = row.get("asking", "")
        if not row.get("file") or (asking != "command" and asking not in vocabulary()) or "value" not in row:
            raise ValueError(f"{folder / MANIFEST}: a row without file, known id or value")
        heard = ear.hear(_read(folder / row["file"]), Question(asking))
        got = getattr(heard, "value", None)
        same = got == row["value"] if asking == "command" else got is not None and same_value(asking, row["value"], got)
        if not same:
            different += 1
            out(f"- {row['file']}: {row['value']}")
            out(f"+ {row['file']}: {value_text(got)} ({getattr(heard, 'status', '')}: {getattr(heard, 'text', '')})")
    out(f"{folder.resolve().name}: {'different' if different else 'same'}, {len(rows)} phrases")
    return 1 if different else 0


class EndingFront(Front, Protocol):
    """A front that may end the program on purpose, to be taken up again."""

    cut: bool


def carry(front: EndingFront, clock: Clock, site: Site, calls: Path) -> Path:
    """Carry a recorded call to its end. Returns its folder.

    It stands alone: a recording has its answers once, and another run of it beside it would be a second trip.
    """
    dialogue, effects, log = new_call(site, calls, clock, alone=True)
    with log:
        run(dialogue, effects, log, front)
    while front.cut:
        front.cut = False
        clock.advance(AWAY_S)
        dialogue, effects, log = resumed_call(site, log.folder, clock)
        with log:
            run(dialogue, effects, log, front)
    return log.folder


# ---- the demo


class AloudFront(RecordedFront):
    """The same, shown and (where the machine has a speaker) heard."""

    def __init__(self, recording: Recording, sounds: Sounds, ear: FileEar, clock: Clock, out: Out) -> None:
        super().__init__(recording, sounds, ear, clock)
        self.out = out
        self.play = _speaker()
        self.voice = _voice() if self.play else None

    def say(self, say: Say) -> None:
        super().say(say)
        mark = {"caution": "! ", "conclusion": "= "}.get(say.purpose, "  ")
        self.out(f"{self.clock.now():%H:%M:%S} {mark}{say.text}")
        if self.play and self.voice:
            self.play(self.voice.render(say.text))

    def played(self, file: str, samples: Samples, listen: Listen) -> Heard | Unclear:
        if self.play:
            self.play(samples)
        heard = super().played(file, samples, listen)
        said = f'"{heard.words}"' if heard.words else "not clear"
        sure = f" ({heard.confidence:.0%})" if isinstance(heard, Heard) else ""
        self.out(f"{'':8}     > {said}{sure}")
        return heard


def _speaker() -> Callable[[Samples], None] | None:
    """Plays sound to its end; None where there is nothing to play it on."""
    from assistant.sound.devices import Mouth

    mouth = Mouth()
    if not mouth.wait():
        mouth.close()
        return None

    def play(samples: Samples) -> None:
        mouth.play(samples)
        while mouth.busy and not mouth.trouble:
            time.sleep(0.02)

    return play


def _voice() -> Any:
    from assistant.sound.narrator import Narrator
    from assistant.sound.voice import VoiceMissing

    try:
        return Narrator()
    except VoiceMissing:
        return None


DEMO_BEFORE = (
    "This is a recording: a technician's voice from files, at a store that is invented. Nothing is measured, nobody is called.",
    "On the left the time of that call. '! ' is a caution, '= ' a conclusion, '> ' what the technician said, with how sure",
    "the ear is in per cent.",
)
DEMO_AFTER = (
    "Next: open the report in a browser. 'rackcall type' is the same call from your keyboard, 'rackcall ready' tries your",
    "microphone, 'rackcall talk' is a live call. README, 'Your own site in five steps', is how to use it at work.",
)


def _megabytes(folder: Path) -> float:
    """Disk that a folder takes [MB]."""
    return sum(file.stat().st_size for file in folder.rglob("*") if file.is_file()) / 1e6


def demo(site: Site, calls: Path, out: Out) -> int:
    """A recorded call through recogniser, dialogue, log and report.

    Args:
        site: the demo site; another's profile is not used, and a line says so.
        calls: where the call's log is put.
        out: takes each line.

    Raises:
        ModelFault: the speech model is missing and cannot be fetched.
        ValueError: the recorded call is not installed.
    """
    from assistant.hearing.model import fetch
    from assistant.record.report import write_report

    for line in DEMO_BEFORE:
        out(line)
    with told(out, "Looking for the speech model; without one it is fetched, 41 MB"):
        model = fetch(out)
    recording = load(data_folder("demo_audio") / "coil_failed")
    known = load_profile(DEMO_SITE)
    if profile_hash(site) != profile_hash(known):
        out("The recorded call is the demo site's: your profile is not used.")
    clock = Clock(True, recording.start)
    with told(out, "Loading the recogniser"):
        ear = open_ear()
    front = AloudFront(recording, Sounds(recording.folder), ear, clock, out)
    call = carry(front, clock, known, calls)
    if front.trouble:
        out(f"The recording ended early: {front.trouble}")
    report = write_report(call, None)
    out(f"Log: {call}")
    out(f"Report: {report}")
    out(f"On disk: the speech model {_megabytes(model):.0f} MB in {model}, this call {_megabytes(call):.1f} MB.")
    for line in DEMO_AFTER:
        out(line)
    return 0 if front.state == "sealed" else 3
