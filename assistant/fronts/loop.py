"""The one loop that carries effects between the dialogue and the world."""

import hashlib
import secrets
from datetime import datetime, timedelta
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Protocol

from assistant.call.effects import Effect, Ended, Listen, Manner, Record, Say, Wait
from assistant.call.engine import Dialogue
from assistant.call.facts import CallOpened, Fact
from assistant.call.heard import Heard, Silence, Unclear
from assistant.call.judge import Judge
from assistant.call.procedure import Procedure, own_procedure
from assistant.profile import DEMO_SITE, Site
from assistant.record.earlier import earlier
from assistant.record.log import EVENTS, Log, LogDamaged, facts, read

WORDS_PER_S = 2.6
"""Pace of speech on the simulated clock: measured on the voice at 160 words a minute."""


class Clock:
    """Wall time, or simulated time that passes only as it is told."""

    def __init__(self, simulated: bool = False, start: datetime | None = None) -> None:
        self.simulated = simulated
        self._now = start or datetime.now().astimezone()
        self._offset = (self._now - datetime.now().astimezone()) if start else timedelta()

    def now(self) -> datetime:
        return self._now if self.simulated else datetime.now().astimezone() + self._offset

    def advance(self, seconds: float) -> None:
        """Let simulated time pass; wall time passes by itself."""
        if self.simulated:
            self._now += timedelta(seconds=max(0.0, seconds))

    def speak(self, words: str) -> None:
        """Let the time pass that these words take to say."""
        self.advance(len(words.split()) / WORDS_PER_S)


class Front(Protocol):
    """Where words come from and go to."""

    def recorded(self, fact: Fact) -> None: ...
    def say(self, say: Say) -> None: ...
    def manner(self, word: str) -> None: ...
    def listen(self, listen: Listen) -> Heard | Unclear | Silence | None:
        """What was heard; None when there is nobody any more."""

    def wait(self, wait: Wait) -> Heard | Unclear | Silence | None: ...
    def ended(self, state: str, call: Path) -> None: ...


def run(dialogue: Dialogue, effects: list[Effect], log: Log, front: Front) -> str:
    """Carry a call to its end. Returns `sealed`, or `interrupted` when nobody is there any more."""
    while True:
        heard: Heard | Unclear | Silence | None = None
        for effect in effects:
            match effect:
                case Record(fact=fact, at=at):
                    log.append(fact, at)
                    front.recorded(fact)
                case Say():
                    front.say(effect)
                case Manner(word=word):
                    front.manner(word)
                case Ended(state=state):
                    front.ended(state, log.folder)
                    return state
                case Listen():
                    heard = front.listen(effect)
                case Wait():
                    heard = front.wait(effect)
        if heard is None:
            front.ended("interrupted", log.folder)
            return "interrupted"
        effects = dialogue.receive(heard)


def new_call(
    site: Site, calls: Path, clock: Clock, procedure: Procedure | None = None
) -> tuple[Dialogue, list[Effect], Log]:
    """A new call and its log, in a folder of its own under `calls`; by the package's own procedure where none is given."""
    at = clock.now()
    dialogue = Dialogue(site, procedure or own_procedure(), Judge())
    log = Log(calls / f"{at:%Y%m%d-%H%M%S}-{secrets.token_hex(2)}")
    known = earlier(calls, site.name, at, log.folder)
    opened = CallOpened(
        site.name, profile_hash(site), program(), tuple(known.days_since_trip), tuple(known.additions),
        tuple(known.machine_trips), 
        tuple((*machine, id_, who) for machine, ids in known.left.items() for id_, who in ids),
        tuple(known.leaks_mended), technician_of(site),
    )  # fmt: skip
    return dialogue, dialogue.open(at, opened), log


def resumed_call(
    site: Site, call: Path, clock: Clock, procedure: Procedure | None = None
) -> tuple[Dialogue, list[Effect], Log]:
    """An interrupted call, taken up where its log ends.

    Raises:
        LogDamaged: the log is damaged or sealed.
    """
    log = Log(call)
    dialogue = Dialogue(site, procedure or own_procedure(), Judge())
    known = list(facts(call))
    if not known:
        opened = CallOpened(site.name, profile_hash(site), program(), technician=technician_of(site))
        return dialogue, dialogue.open(clock.now(), opened), log
    if isinstance(known[0][1], CallOpened) and known[0][1].profile != profile_hash(site):
        raise LogDamaged(call / EVENTS, 1, "the call was opened with another profile; give that one with --profile")
    try:
        dialogue.take_up(known)
    except (KeyError, RuntimeError, AttributeError) as error:
        raise LogDamaged(call / EVENTS, len(known), f"it does not fit this program's procedure ({error})") from error
    at = max(clock.now(), known[-1][0])
    return dialogue, dialogue.resume(at, "interrupted"), log


def technician_of(site: Site) -> str:
    """The site's only technician by name; nothing where it has none or several: then it is asked."""
    return site.technicians[0].name if len(site.technicians) == 1 else ""


def profile_hash(site: Site) -> str:
    """SHA-256 of the profile's text."""
    return hashlib.sha256(Path(site.source or DEMO_SITE).read_bytes()).hexdigest()


def program() -> str:
    try:
        return f"rackcall {version('rackcall')}"
    except PackageNotFoundError:
        return "rackcall (not installed)"


def latest_call(calls: Path) -> Path:
    """The call that was written to last.

    Raises:
        ValueError: there is none.
    """
    files = sorted(calls.glob(f"*/{EVENTS}"), key=lambda f: f.stat().st_mtime)
    if not files:
        raise ValueError(f"no call in {calls}")
    return files[-1].parent


def latest_open(calls: Path) -> Path | None:
    """The most recent call that is not sealed."""
    for file in sorted(calls.glob(f"*/{EVENTS}"), key=lambda f: f.stat().st_mtime, reverse=True):
        try:
            if not read(file.parent).sealed:
                return file.parent
        except (LogDamaged, OSError):
            continue
    return None
