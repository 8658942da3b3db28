"""A recording for `replay` from a call that kept its sound."""

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from assistant.call.facts import CautionAcknowledged, Fact, NoteTaken, ReadingTaken, StepDone, WordsHeard
from assistant.fronts.comparing import value_text
from assistant.fronts.loop import PROFILE
from assistant.fronts.recorder import new
from assistant.fronts.recording import replay
from assistant.fronts.tape import COUNTS, Said, Tape
from assistant.record.log import read
from assistant.sound.audio_file import read_audio

Turn = tuple[WordsHeard, list[Fact]]
"""What was heard, and what it put on record."""


def record_kept(call: Path, folder: Path, out: Callable[[str], None]) -> int:
    """A call that was spoken with `--keep-audio`, into a folder that `replay` takes.

    Args:
        call: its folder.
        folder: of the recording, new or empty.
        out: takes each line.

    Returns:
        0 when a replay of it gives the same log, else 1.

    Raises:
        ValueError: the call kept no sound, or there is a recording in the folder already.
        LogDamaged, AudioFault: its log or a file cannot be read.
    """
    new(folder)
    lines = read(call).lines
    tape = Tape()
    tape.start = lines[0].at if lines else None
    turns = list(_turns([line.fact for line in lines]))
    for number, (words, facts) in enumerate(turns):
        _take(tape, call, words, facts, turns[number - 1][0] if number else None)
    if not tape.said:
        raise ValueError(f"{call} kept no sound of an answer: it was not spoken with --keep-audio, or its sound is forgotten")
    count = tape.write(folder, call, call / PROFILE)
    out(f"{count} answers in {folder}")
    for said in tape.unlike:
        out(f'  "{said}" steers or corrects: a replay does not say it')
    for word in ("yes", "no"):
        if word not in tape.agreed:
            out(f"  nobody said {word} to a value asked back: a replay that asks one back needs {word}.flac beside the others")
    return replay(folder, out)


def _turns(facts: Sequence[Fact]) -> Iterator[Turn]:
    turn: Turn | None = None
    for fact in facts:
        if isinstance(fact, WordsHeard):
            if turn:
                yield turn
            turn = (fact, [])
        elif turn:
            turn[1].append(fact)
    if turn:
        yield turn


def _take(tape: Tape, call: Path, words: WordsHeard, facts: list[Fact], before: WordsHeard | None) -> None:
    """Put one turn on the tape. A value that was asked back belongs to what was said before the yes."""
    if not words.audio or not (call / words.audio).is_file():
        return
    sound = read_audio(call / words.audio)
    agreed = bool(before and before.meaning == "asked back" and words.meaning == "answer" and tape.said)
    taken = [fact for fact in facts if isinstance(fact, ReadingTaken) and not fact.corrected]
    counted = [fact for fact in facts if isinstance(fact, COUNTS)]
    if agreed and taken and all(fact.confirmed == "asked back" for fact in taken):
        tape.agreed.setdefault("yes", sound)
    elif counted or words.meaning == "asked back":
        tape.said.append(Said("", words.said, sound))
    else:
        if words.meaning.startswith("command"):
            tape.unlike.append(words.said)
        return
    if counted:
        said = tape.said[-1]
        said.counted, said.asking = True, _asked(counted[0])
        said.values |= {fact.id: value_text(fact.value) for fact in taken}


def _asked(fact: Fact) -> str:
    match fact:
        case ReadingTaken(id=id_):
            return id_
        case NoteTaken():
            return "note"
        case StepDone() | CautionAcknowledged():
            return "command"
    raise ValueError(f"{fact} answers nothing")
