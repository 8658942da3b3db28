"""Words typed or piped in, sentences out as text: the pipe (JSON Lines) and the keyboard."""

import json
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import IO, Any

from assistant.call.effects import Listen, Say, Wait
from assistant.call.facts import (
    Concluded,
    Fact,
    ObligationCleared,
    ObligationHandedOver,
    ObligationOpened,
    ReadingTaken,
    ReadingWithdrawn,
    ValueDerived,
)
from assistant.call.heard import Heard, Silence, Unclear
from assistant.fronts.loop import Clock
from assistant.language.grammar import commas_apart
from assistant.language.offered import choices
from assistant.terminal import plain

MOST_CHARACTERS = 65_536
"""Of one line that comes in: a note of an hour is half of that."""
TOO_LONG = f"a line has at most {MOST_CHARACTERS} characters"


def bounded(source: IO[str]) -> Iterator[str]:
    """The lines of a source, as they come; of one that is too long only the beginning, longer than it may be, and the rest of it
    is let go without being kept."""
    while line := source.readline(MOST_CHARACTERS + 1):
        whole = line.endswith("\n")
        while not whole and len(line) > MOST_CHARACTERS and (rest := source.readline(MOST_CHARACTERS)):
            whole = rest.endswith("\n")
        yield line


HearsFile = Callable[[Path, Listen], Heard | Unclear]
"""A sound file and what is listened for, to what was heard; its time is set by the front."""


def ask_message(listen: Listen) -> dict[str, Any]:
    """The `ask` line of the pipe."""
    q = listen.question
    message: dict[str, Any] = {
        "type": "ask", "step": listen.step, "asking": q.asking, "kind": listen.kind, "unit": listen.unit,
        "choices": choices(q) if listen.kind in ("choice", "yes_no", "acknowledge") else [],
    }  # fmt: skip
    if q.also and q.asking != "command":
        message["also"] = list(q.also)
    if q.asking == "confirm":
        message |= {"of": q.of, "value": q.value}
    return message


def fact_message(fact: Fact) -> dict[str, Any] | None:
    """The line of the pipe for a fact, where it has one."""
    match fact:
        case ReadingTaken():
            status = "corrected" if fact.corrected else "logged"
            return {"type": "reading", "id": fact.id, "value": fact.value, "unit": fact.unit, "status": status}
        case ReadingWithdrawn(id=id_):
            return {"type": "reading", "id": id_, "value": None, "unit": None, "status": "withdrawn"}
        case ObligationOpened(id=id_):
            return {"type": "obligation", "id": id_, "state": "open"}
        case ObligationCleared(id=id_):
            return {"type": "obligation", "id": id_, "state": "cleared"}
        case ObligationHandedOver(id=id_):
            return {"type": "obligation", "id": id_, "state": "handed_over"}
        case ValueDerived():
            band = {} if fact.low is None else {"low": fact.low, "high": fact.high}
            return {"type": "derived", "id": fact.id, "value": fact.value, "unit": fact.unit, "from": list(fact.source), **band}
        case Concluded():
            return {
                "type": "conclusion", "cause": fact.cause, "standing": fact.standing,
                "evidence": list(fact.evidence), "action": fact.action, "uncertain": list(fact.uncertain),
            }  # fmt: skip
        case _:
            return None


class PipeFront:
    """JSON Lines on stdin and stdout."""

    def __init__(self, clock: Clock, source: IO[str], sink: IO[str], ear: HearsFile | None = None) -> None:
        self.clock, self.source, self.sink, self.ear = clock, source, sink, ear
        # Where the other end may not know more than ASCII, JSON has its own way to write the rest.
        self._ascii = "utf" not in (getattr(sink, "encoding", None) or "utf-8").lower()

    def _send(self, message: dict[str, Any]) -> None:
        self.sink.write(json.dumps(message, ensure_ascii=self._ascii) + "\n")
        self.sink.flush()

    def recorded(self, fact: Fact) -> None:
        message = fact_message(fact)
        if message:
            self._send(message)

    def say(self, say: Say) -> None:
        self._send({"type": "say", "purpose": say.purpose, "text": say.text})
        self.clock.speak(say.text)

    def manner(self, word: str) -> None:
        pass

    def listen(self, listen: Listen) -> Heard | Unclear | Silence | None:
        self._send(ask_message(listen))
        for line in bounded(self.source):
            if not line.strip():
                continue
            answer = self._read(line, listen) if len(line) <= MOST_CHARACTERS else TOO_LONG
            if isinstance(answer, str):
                self._send({"type": "error", "error": answer})
                continue
            return answer
        return None

    def _read(self, line: str, listen: Listen) -> Heard | Unclear | str:
        try:
            message = json.loads(line)
        except (ValueError, RecursionError) as error:
            return f"not JSON: {error}"
        if not isinstance(message, dict) or not ({"say", "audio"} & set(message)):
            return 'a line is {"say": "words"} or {"audio": "file"}, with "after_s" if time passes first'
        after = message.get("after_s", 0)
        if isinstance(after, bool) or not isinstance(after, (int, float)) or not 0 <= after <= 7 * 86400:
            return "after_s is a number of seconds, 0 to 604800"
        if "say" in message and not isinstance(message["say"], str):
            return "say is text"
        self.clock.advance(float(after))
        if "say" in message:
            said = message["say"].encode("utf-8", "replace").decode()  # half a pair of escapes is no text
            words = commas_apart(said.lower())
            self.clock.advance(0.8)
            self.clock.speak(words)
            return Heard(words, self.clock.now()) if words else Unclear(self.clock.now())
        return self._hear(Path(str(message["audio"])), listen)

    def _hear(self, file: Path, listen: Listen) -> Heard | Unclear | str:
        if self.ear is None:
            return "no recogniser here"
        try:
            heard = self.ear(file, listen)
        except Exception as error:
            if type(error).__name__ not in ("AudioFault", "ModelMissing", "ModelFault"):
                raise
            return str(error)
        self.clock.advance(2.0)
        return replace(heard, at=self.clock.now())

    def wait(self, wait: Wait) -> Heard | Unclear | Silence | None:
        if self.clock.simulated:
            self.clock.advance((wait.until - self.clock.now()).total_seconds())
            return Silence(self.clock.now())
        return self.listen(Listen(_waiting(), wait.step, "acknowledge", None))

    def ended(self, state: str, call: Path) -> None:
        self._send({"type": "end", "state": state, "call": str(call)})


def _waiting() -> Any:
    from assistant.language.meaning import Question

    return Question("command", go_ahead=("continue",))


class KeyboardFront:
    """The same call from the keyboard."""

    def __init__(self, clock: Clock, lines: Iterator[str] | None = None, sink: IO[str] = sys.stdout) -> None:
        self.clock, self.sink = clock, sink
        self.lines = lines if lines is not None else bounded(sys.stdin)

    def recorded(self, fact: Fact) -> None:
        pass

    def say(self, say: Say) -> None:
        mark = {"caution": "! ", "conclusion": "= ", "readback": "  "}.get(say.purpose, "")
        print(f"{mark}{plain(say.text)}", file=self.sink)
        self.clock.speak(say.text)

    def manner(self, word: str) -> None:
        pass

    def listen(self, listen: Listen) -> Heard | Unclear | Silence | None:
        unit = f" [{listen.unit}]" if listen.unit not in (None, "", "1") else ""  # "[1]" at a count looks like a default
        print(f"{unit}> ", end="", file=self.sink, flush=True)
        line = next(self.lines, "")
        if not line:
            return None
        if len(line) > MOST_CHARACTERS:
            print(f"  ({TOO_LONG})", file=self.sink)
            return Unclear(self.clock.now())
        words = commas_apart(line.lower())
        now = self.clock.now()
        return Heard(words, now) if words else Unclear(now)

    def wait(self, wait: Wait) -> Heard | Unclear | Silence | None:
        minutes = (wait.until - self.clock.now()).total_seconds() / 60
        left = f"{minutes:.0f} min" if minutes >= 1 else "less than a minute"
        print(f"  ({left} to go; press Enter when they have passed, or type a command)", file=self.sink)
        heard = self.listen(Listen(_waiting(), wait.step, "acknowledge", None))
        return Silence(self.clock.now()) if isinstance(heard, Unclear) else heard

    def ended(self, state: str, call: Path) -> None:
        print(f"The call is {state}. Log: {call}", file=self.sink)
