"""A call over the pipe of the published commands, on the simulated clock: what is said, asked, recorded, left open.

Nothing of the product is known here but its commands and its messages. A test speaks as a technician would; where it has
nothing to say, a simulated technician answers by id until a given question is asked.
"""

import json
import queue
import re
import sys
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from assistant.cli import main
from tests.attacks.technician import Technician

START = datetime.fromisoformat("2026-03-01T22:10:00-05:00")
PATIENCE_S = 120
"""Longest time for the product to say what is next, on a busy machine."""
DEMO_SITE = Path(__file__).parents[2] / "assistant" / "demo_site.toml"


class _Killed(BaseException):
    """The program ends in the middle of a question."""


@dataclass(frozen=True)
class Ask:
    """One question, with everything that was said since the last answer."""

    id: str
    """A vocabulary id, `command` or `confirm`."""
    of: str
    """For `confirm`: what is asked back."""
    value: Any
    also: tuple[str, ...]
    choices: tuple[str, ...]
    kind: str
    said: str
    """All sentences since the last answer."""
    prompt: str
    """The last sentence of them that asks."""
    raw: dict[str, Any]

    @property
    def ids(self) -> tuple[str, ...]:
        return (self.id, *self.also)

    @property
    def is_caution(self) -> bool:
        return self.id == "command" and "understood" in self.choices and not re.search(r"say understood", self.prompt, re.I)

    def __str__(self) -> str:
        return f"{self.id}{f' of {self.of}' if self.of else ''} [{self.said}]"


@dataclass
class Wire:
    """Both ends of the pipe of one process of the product."""

    out: "queue.Queue[dict[str, Any] | BaseException | None]" = field(default_factory=queue.Queue)
    into: "queue.Queue[str | None]" = field(default_factory=queue.Queue)

    # what the product writes
    def write(self, text: str) -> int:
        for line in text.splitlines():
            if line.startswith("{"):
                self.out.put(json.loads(line))
        return len(text)

    def flush(self) -> None:
        pass

    # what the product reads
    def __iter__(self) -> Iterator[str]:
        return self

    def __next__(self) -> str:
        line = self.into.get()
        if line is None:
            raise _Killed
        return line

    def readline(self, limit: int = -1) -> str:
        return next(self, "")


class Call:
    """One call, from its first question; `kill` and `resume` go on with what its log holds."""

    def __init__(
        self,
        folder: Path,
        fault: str = "none",
        words: dict[str, str] | None = None,
        profile: Path | None = None,
        start: datetime = START,
    ) -> None:
        self.folder, self.profile = folder, profile
        self.man = Technician(fault, dict(words or {}))
        self.messages: list[dict[str, Any]] = []
        self.asks: list[Ask] = []
        self.log: list[tuple[str, str]] = []
        self.ended = ""
        self.died = ""
        self.earlier = set(folder.glob("*/events.jsonl"))
        """Logs of other calls in this folder."""
        self._begin(["pipe", "--calls", str(folder)], start)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        self.kill()

    # ---- the process

    def _begin(self, words: list[str], start: datetime) -> None:
        self.wire = Wire()
        command = [*words, "--clock", "simulated", "--start", start.isoformat()]
        if self.profile:
            command += ["--profile", str(self.profile)]
        wire, kept = self.wire, (sys.stdin, sys.stdout)

        def process() -> None:
            try:
                code = main(command)
                wire.out.put(None if code == 0 else RuntimeError(f"exit code {code}"))
            except _Killed:
                wire.out.put(None)
            except BaseException as error:
                wire.out.put(error)

        sys.stdin, sys.stdout = wire, wire  # type: ignore[assignment]
        try:
            self.thread = threading.Thread(target=process, daemon=True)
            self.thread.start()
            self._take()
        finally:
            sys.stdin, sys.stdout = kept

    def _take(self) -> None:
        """What the product says until it asks or ends."""
        said: list[str] = []
        prompt = ""
        while True:
            message = self.wire.out.get(timeout=PATIENCE_S)
            if message is None:
                return
            if isinstance(message, BaseException):
                self.died = repr(message)
                raise AssertionError(f"the program broke off with {message!r} after: {self.tail()}") from message
            self.messages.append(message)
            match message["type"]:
                case "say":
                    said.append(message["text"])
                    self.log.append(("says", message["text"]))
                    prompt = message["text"] if message["purpose"] in ("ask", "readback", "caution") else prompt
                case "ask":
                    self.asks.append(
                        Ask(
                            message["asking"],
                            message.get("of", ""),
                            message.get("value"),
                            tuple(message.get("also", ())),
                            tuple(message.get("choices", ())),
                            message.get("kind", ""),
                            " ".join(said),
                            prompt or " ".join(said[-1:]),
                            message,
                        )
                    )
                    self.log.append(("asks", message["asking"] + (f" of {message['of']}" if message.get("of") else "")))
                    return
                case "end":
                    self.ended = message["state"]
                    self.log.append(("ends", self.ended))
                    self.wire.into.put(None)
                    return

    def kill(self) -> Self:
        """The program dies at the question that stands."""
        self.wire.into.put(None)
        self.thread.join(PATIENCE_S)
        return self

    def resume(self, after_s: float = 120) -> Self:
        """Another program takes the log up, `after_s` seconds later."""
        self.kill()
        self.log.append(("killed", f"and resumed after {after_s:.0f} s"))
        self.messages.append({"type": "resumed"})
        self._begin(["resume", str(self.path), "--pipe"], self.written[-1] + timedelta(seconds=after_s))
        return self

    # ---- in

    def say(self, *words: str, after_s: float = 0) -> Self:
        """These words, one utterance after the other."""
        for one in words:
            if self.ended:
                raise AssertionError(f"the call has ended ({self.ended}), nobody hears '{one}': {self.tail()}")
            self.log.append(("hears", one))
            line: dict[str, Any] = {"say": one}
            if "emergency" in one.split():
                self.messages.append({"type": "emergency"})
            if after_s:
                line["after_s"] = after_s
                self.messages.append({"type": "passed", "seconds": after_s})
            self.wire.into.put(json.dumps(line))
            self._take()
        return self

    def tell(self, words: str, after_s: float = 0) -> Self:
        """These words, and yes to whatever they were taken for."""
        self.say(words, after_s=after_s)
        while not self.ended and self.ask.id == "confirm":
            self.say("yes")
        return self

    def correct(self, id_: str, name: str, said: str) -> Self:
        """A reading on record is corrected by its spoken name."""
        self.say(f"correction {name}")
        assert id_ in self.ask.ids, f"'correction {name}' is not understood, or refused: {self.ask}; {self.tail(6)}"
        return self.tell(said)

    def answer(self) -> Self:
        """The simulated technician answers the question that stands."""
        return self.say(self.man.answer({**self.ask.raw, "prompt": self.ask.prompt, "said": self.ask.said}))

    def never(self, unwanted: "Callable[[Ask], bool]", rule: str, limit: int = 80) -> Self:
        """However long the technician goes on answering, this is not asked."""
        if self.reaches(unwanted, limit):
            raise AssertionError(f"{rule} Yet it asks: {self.ask}; {self.tail()}")
        return self

    def until(self, wanted: "str | Callable[[Ask], bool]", limit: int = 250) -> Self:
        """The technician answers until this is asked; it must be asked."""
        if not self.reaches(wanted, limit):
            raise AssertionError(f"never asked: {wanted if isinstance(wanted, str) else wanted.__name__}; {self.tail()}")
        return self

    def reaches(self, wanted: "str | Callable[[Ask], bool]", limit: int = 250) -> bool:
        """Whether this is asked before the call ends, or before so many answers."""
        is_it = (lambda a: wanted in a.ids) if isinstance(wanted, str) else wanted
        for _ in range(limit):
            if self.ended:
                return False
            if is_it(self.ask):
                return True
            self.answer()
        return False

    def to_the_end(self, limit: int = 300) -> Self:
        """The technician answers until the call ends; it must end."""
        for _ in range(limit):
            if self.ended:
                return self
            self.answer()
        raise AssertionError(f"the call does not end: {self.tail()}")

    # ---- out

    @property
    def ask(self) -> Ask:
        assert not self.ended, f"the call has ended ({self.ended}): {self.tail()}"
        return self.asks[-1]

    @property
    def said(self) -> str:
        """All that was spoken since the last words that were heard."""
        last = max((i for i, (who, _) in enumerate(self.log) if who in ("hears", "killed")), default=-1)
        return " ".join(text for who, text in self.log[last + 1 :] if who == "says")

    @property
    def spoken(self) -> str:
        """All that was spoken in the call."""
        return " ".join(m["text"] for m in self.messages if m["type"] == "say")

    @property
    def readings(self) -> dict[str, Any]:
        """The last value of each id."""
        return {m["id"]: m["value"] for m in self.messages if m["type"] == "reading" and m["status"] != "withdrawn"}

    @property
    def obligations(self) -> dict[str, str]:
        """The last state of each."""
        return {m["id"]: m["state"] for m in self.messages if m["type"] == "obligation"}

    @property
    def open(self) -> set[str]:
        return {i for i, state in self.obligations.items() if state == "open"}

    @property
    def conclusions(self) -> dict[str, str]:
        """The last standing of each cause."""
        return {m["cause"]: m["standing"] for m in self.messages if m["type"] == "conclusion"}

    @property
    def path(self) -> Path:
        mine = set(self.folder.glob("*/events.jsonl")) - self.earlier
        assert len(mine) == 1, f"this call has one log in {self.folder}: {mine}"
        return next(iter(mine)).parent

    @property
    def written(self) -> list[datetime]:
        """The times of the log's whole lines."""
        lines = (self.path / "events.jsonl").read_text(encoding="utf-8").splitlines()
        return [datetime.fromisoformat(json.loads(line)["at"]) for line in lines if line.endswith("}")]

    def tail(self, lines: int = 24) -> str:
        """What happened last, for the message of a test."""
        return "\n  " + "\n  ".join(f"{who}: {text}" for who, text in self.log[-lines:])
