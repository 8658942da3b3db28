"""Recordings that `replay` takes: a live call as it was answered, or single phrases."""

import csv
import re
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from assistant.call.effects import Listen
from assistant.call.facts import CautionAcknowledged, Fact, NoteTaken, ReadingTaken, StepDone
from assistant.fronts.recording import Ear, as_lines, same_value, that_count, value_text
from assistant.language.grammar import understand
from assistant.language.meaning import Answer, Command, Question
from assistant.language.vocabulary import vocabulary
from assistant.sound.audio_file import RATE_HZ, Samples, read_audio, write_audio

if TYPE_CHECKING:
    from assistant.hearing.decision import Hearing
    from assistant.profile import Site

Out = Callable[[str], None]
MANIFEST = "manifest.csv"
LONGEST_S = 15.0
COUNTS = (ReadingTaken, StepDone, CautionAcknowledged, NoteTaken)


@dataclass
class Said:
    """One answer of a call that is being recorded."""

    asking: str
    words: str
    sound: Samples
    values: dict[str, str] = field(default_factory=dict)
    counted: bool = False


class Tape:
    """What was asked, heard and put on record in a live call, in order."""

    def __init__(self) -> None:
        self.start: datetime | None = None
        self.said: list[Said] = []
        self.agreed: dict[str, Samples] = {}
        """`yes` and `no`, as they were said to a value asked back."""
        self.unlike: list[str] = []
        """What a replay has no answer for: commands, and values put right while they were asked back."""

    def hear(self, listen: Listen, found: "Hearing", sound: Samples) -> str:
        """Takes an answer; a front's keeper. No file goes beside the log."""
        asking = listen.question.asking
        if found.status == "unclear":
            return ""
        if asking == "confirm" and found.value in ("yes", "no"):
            self.agreed.setdefault(str(found.value), sound)
        elif asking == "confirm" or (found.status == "command" and found.value != "continue"):
            self.unlike.append(found.text)
        else:
            self.said.append(Said(asking, found.text, sound))
        return ""

    def fact(self, fact: Fact, at: datetime) -> None:
        """Takes what went on record: it tells which answers counted, and as what."""
        self.start = self.start or at
        if self.said and isinstance(fact, COUNTS):
            self.said[-1].counted = True
            if isinstance(fact, ReadingTaken):
                self.said[-1].values[fact.id] = value_text(fact.value)

    def write(self, folder: Path, call: Path, profile: Path) -> int:
        """The recording as files. Returns the number of answers.

        Raises:
            AudioFault: a file cannot be written.
        """
        folder.mkdir(parents=True, exist_ok=True)
        rows = []
        for number, said in enumerate((one for one in self.said if one.counted), 1):
            file = f"{number:03d}_{slug(said.words)}.flac"
            write_audio(folder / file, in_a_room(said.sound))
            parts = list(said.values.items())
            value = parts[0][1] if len(parts) == 1 else "; ".join(f"{id_}={v}" for id_, v in parts) or said.words
            rows.append((file, said.asking, value, said.words))
        for word, sound in self.agreed.items():
            write_audio(folder / f"{word}.flac", in_a_room(sound))
        with open(folder / "answers.csv", "w", newline="", encoding="utf-8") as sink:
            writer = csv.writer(sink, lineterminator="\n")
            writer.writerow(("file", "asking", "value", "words"))
            writer.writerows(rows)
        start = (self.start or datetime.now().astimezone()).replace(microsecond=0)
        (folder / "call.toml").write_text(f'story = "A recorded call."\nstart = {start.isoformat()}\n', encoding="utf-8")
        (folder / "profile.toml").write_bytes(profile.read_bytes())
        (folder / "expected.jsonl").write_text("\n".join(as_lines(that_count(call))) + "\n", encoding="utf-8")
        return len(rows)


def slug(words: str) -> str:
    return re.sub(r"[^a-z0-9]+", "_", words.lower()).strip("_")[:40] or "answer"


def in_a_room(sound: Samples) -> Samples:
    """An answer with the room after it: its recording ended where the ear was sure, a replay waits longer to be."""
    edge = sound[: RATE_HZ // 5]
    if not len(edge):
        return sound
    room = np.concatenate([edge, edge[::-1]])
    return np.concatenate([sound, np.resize(room, RATE_HZ)])


# ---- a call


def record_call(open_site: Callable[[], "Site"], calls: Path, folder: Path, out: Out, headset: bool = False) -> int:
    """A live call into a folder that `replay` takes.

    Args:
        open_site: gives the profile; a copy goes with the recording.
        calls: where the call itself is kept.
        folder: of the recording, new or empty.
        out: takes each line.
        headset: as in a live call.

    Returns:
        0 when a replay of it gives the same log, else 1.

    Raises:
        ValueError: there is a recording in the folder already.
        SoundMissing, ModelMissing, VoiceMissing, DiskTrouble: as in a live call.
    """
    from assistant.fronts.loop import latest_call
    from assistant.fronts.microphone import talk
    from assistant.fronts.recording import replay
    from assistant.profile import DEMO_SITE

    _new(folder)
    tape = Tape()
    site = open_site()
    talk(lambda: site, calls, None, headset, tape=tape)
    for word in ("yes", "no"):  # a replay needs both
        if word not in tape.agreed:
            tape.agreed[word] = _phrases([(Question("confirm"), word)], out)[0]
    count = tape.write(folder, latest_call(calls), Path(site.source or DEMO_SITE))
    out(f"{count} answers in {folder}")
    for words in tape.unlike:
        out(f'  "{words}" steers or corrects: a replay does not say it')
    return replay(folder, out)


def _new(folder: Path) -> None:
    if folder.is_dir() and any((folder / name).exists() for name in ("answers.csv", MANIFEST)):
        raise ValueError(f"there is a recording in {folder} already; give a new folder")


# ---- single phrases


def record_phrases(folder: Path, asking: str, phrases: Sequence[str], out: Out) -> int:
    """Single phrases into a folder that `replay` takes, and `hear --manifest` too.

    Args:
        folder: new, or with phrases of before: they are added to.
        asking: id of the vocabulary that they answer, or `command`.
        phrases: words to be said.
        out: takes each line.

    Raises:
        ValueError: the id is not known, or words are no answer to it.
        SoundMissing, ModelMissing, VoiceMissing: as in a live call.
    """
    if asking != "command" and asking not in vocabulary():
        raise ValueError(f"'{asking}' is not an id of the vocabulary")
    question = Question(asking)
    values = [meant(question, words) for words in phrases]
    sounds = _phrases([(question, words) for words in phrases], out)
    folder.mkdir(parents=True, exist_ok=True)
    manifest = folder / MANIFEST
    fresh = not manifest.is_file()
    with open(manifest, "a", newline="", encoding="utf-8") as sink:
        writer = csv.writer(sink, lineterminator="\n")
        if fresh:
            writer.writerow(("file", "asking", "value", "words"))
        for words, value, sound in zip(phrases, values, sounds, strict=True):
            number = sum(1 for _ in folder.glob("*.flac")) + 1
            file = f"{number:03d}_{slug(words)}.flac"
            write_audio(folder / file, in_a_room(sound))
            writer.writerow((file, asking, value, words))
    out(f"{len(phrases)} phrases in {folder}")
    return 0


def meant(question: Question, words: str) -> str:
    """The value of these words, as `answers.csv` writes it.

    Raises:
        ValueError: they are no answer to the question.
    """
    match understand(question, words):
        case Answer(parts=(part, *_)):
            return value_text(part.value)
        case Command(name=name):
            return name
    raise ValueError(f"'{words}' is no answer to {question.asking}")


def _phrases(wanted: Sequence[tuple[Question, str]], out: Out) -> list[Samples]:
    """Asks aloud for each phrase and takes its sound."""
    from assistant.fronts.microphone import TAIL_S, Turn, load_recogniser
    from assistant.sound import tones
    from assistant.sound.devices import Ear, Mouth, missing
    from assistant.sound.speech import Speech

    mouth, ear = Mouth(), Ear()
    speech = Speech(mouth)
    try:
        for part in (mouth, ear):
            if not part.wait(8):
                raise missing(part)
        speech.wait_started(8)
        recogniser = load_recogniser()
        found = []
        for question, words in wanted:
            out(f'say "{words}"')
            speech.say(f"Say: {words}.")
            speech.sound(tones.LISTENING)
            recogniser.prepare(question)
            turn, until = Turn(recogniser, question, None), 0.0
            while not until or time.monotonic() < until:
                block = ear.blocks.get(timeout=5)
                if speech.busy or block.at_s <= mouth.quiet_since_s + TAIL_S:
                    until = time.monotonic() + LONGEST_S
                elif turn.feed(block.samples):
                    break
            found.append(turn.sound())
            speech.at_once(tones.TAKEN)
        return found
    finally:
        speech.close()
        ear.close()
        mouth.close()


def replay_phrases(folder: Path, ear: Ear, out: Out) -> int:
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
        heard = ear.hear(read_audio(folder / row["file"]), Question(asking))
        got = getattr(heard, "value", None)
        same = got == row["value"] if asking == "command" else got is not None and same_value(asking, row["value"], got)
        if not same:
            different += 1
            out(f"- {row['file']}: {row['value']}")
            out(f"+ {row['file']}: {value_text(got)} ({getattr(heard, 'status', '')}: {getattr(heard, 'text', '')})")
    out(f"{folder.resolve().name}: {'different' if different else 'same'}, {len(rows)} phrases")
    return 1 if different else 0
