"""What a live call leaves for a recording: each answer's sound, and what it counted as."""

import csv
import re
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from assistant.call.effects import Listen
from assistant.call.facts import CautionAcknowledged, Fact, NoteTaken, ReadingTaken, StepDone
from assistant.fronts.comparing import as_lines, that_count, value_text
from assistant.sound.audio_file import RATE_HZ, Samples, write_audio

if TYPE_CHECKING:
    from assistant.hearing.decision import Hearing

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
