"""Recordings that `replay` takes: a live call as it was answered, or single phrases."""

import csv
import math
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.fronts.comparing import value_text
from assistant.fronts.recording import MANIFEST
from assistant.fronts.tape import Tape, in_a_room, slug
from assistant.language.grammar import understand
from assistant.language.meaning import Answer, Command, Question
from assistant.language.vocabulary import vocabulary
from assistant.sound.audio_file import Samples, write_audio

if TYPE_CHECKING:
    from assistant.profile import Site

Out = Callable[[str], None]
LONGEST_S = 15.0

# ---- a call


def record_call(open_sites: Callable[[], "tuple[Site, ...]"], calls: Path, folder: Path, out: Out, headset: bool = False) -> int:
    """A live call into a folder that `replay` takes.

    Args:
        open_sites: gives the profiles; a copy goes with the recording.
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
    from assistant.fronts.choosing import site_of_call
    from assistant.fronts.loop import latest_call
    from assistant.fronts.microphone import talk
    from assistant.fronts.recording import replay
    from assistant.profile import DEMO_SITE

    new(folder)
    tape = Tape()
    sites = open_sites()
    talk(lambda: sites, calls, None, headset, tape=tape)
    for word in ("yes", "no"):  # a replay needs both
        if word not in tape.agreed:
            tape.agreed[word] = _phrases([(Question("confirm"), word)], out)[0]
    site = site_of_call(sites, latest_call(calls))
    count = tape.write(folder, latest_call(calls), Path(site.source or DEMO_SITE))
    out(f"{count} answers in {folder}")
    for words in tape.unlike:
        out(f'  "{words}" steers or corrects: a replay does not say it')
    return replay(folder, out)


def new(folder: Path) -> None:
    """Refuse a folder that has a recording already."""
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
    from assistant.fronts.microphone import TAIL_S, load_recogniser
    from assistant.fronts.turn import Turn
    from assistant.sound import tones
    from assistant.sound.devices import FIRST_S, Ear, Mouth, missing
    from assistant.sound.speech import Speech

    mouth, ear = Mouth(), Ear()
    speech = Speech(mouth)
    try:
        for part in (mouth, ear):
            if not part.wait():
                raise missing(part)
        speech.wait_started(FIRST_S)
        recogniser = load_recogniser()
        found = []
        for question, words in wanted:
            out(f'say "{words}"')
            speech.say(f"Say: {words}.")
            speech.sound(tones.LISTENING)
            recogniser.prepare(question)
            turn, block, until = Turn(recogniser, question, None), ear.blocks.get(timeout=FIRST_S), math.inf
            while block.at_s < until:  # so much sound, however late it is heard
                block = ear.blocks.get(timeout=FIRST_S)
                if speech.busy or block.at_s <= mouth.quiet_since_s + TAIL_S:
                    until = block.at_s + LONGEST_S
                elif turn.feed(block.samples):
                    break
            found.append(turn.sound())
            speech.at_once(tones.TAKEN)
        return found
    finally:
        speech.close()
        ear.close()
        mouth.close()
