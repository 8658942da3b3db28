"""The one loop that carries effects between the dialogue and the world."""

import contextlib
import hashlib
import platform
import sys
import time
from collections.abc import Callable
from datetime import datetime, timedelta
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Protocol

from assistant.call.effects import Effect, Ended, Listen, Manner, Record, Say, Wait
from assistant.call.engine import Dialogue
from assistant.call.facts import CallOpened, CallSealed, Fact
from assistant.call.heard import Heard, Silence, Unclear
from assistant.call.judge import Judge
from assistant.call.procedure import Procedure, own_procedure
from assistant.fronts.stopped import Stopped
from assistant.profile import DEMO_SITE, ProfileFaults, Site, load_profile
from assistant.record.earlier import Earlier, earlier, overtaken_by
from assistant.record.index import Index
from assistant.record.ledger import enter
from assistant.record.log import EVENTS, DiskTrouble, Log, LogDamaged, facts, read, write_private, writer
from assistant.sites import differences

PROFILE = "profile.toml"
"""The copy of the profile beside the log."""
WORDS_PER_S = 2.6
"""Pace of speech on the simulated clock: measured on the voice at 160 words a minute."""


def _even_s() -> float:
    """Seconds that run on evenly whatever is done to the clock on the wall, a laptop's sleep included where it is counted."""
    if hasattr(time, "CLOCK_BOOTTIME"):
        return time.clock_gettime(time.CLOCK_BOOTTIME)
    if sys.platform == "darwin":
        return time.clock_gettime(time.CLOCK_MONOTONIC)
    return time.monotonic()


def _wall() -> datetime:
    return datetime.now().astimezone()


JUMP_S = 2.0
"""A wall clock this far from the call's was set; less is its drift and its gentle correction."""


class Clock:
    """The time of a call: the wall's when it begins, and from then on evenly; or simulated time, that passes only as it is told.

    The clock on the wall may be set during a call, by hand or by the network. How long ago a proof was, how long liquid was
    fed and how long a wait still lasts must not hang on that.
    """

    def __init__(
        self, simulated: bool = False, start: datetime | None = None, wall: Callable[[], datetime] = _wall,
        even_s: Callable[[], float] = _even_s,
    ) -> None:  # fmt: skip
        self.simulated = simulated
        self._wall, self._even_s = wall, even_s
        self._now = start or wall()
        self._from_s = even_s()
        self._off_s = (wall() - self._now).total_seconds()

    def now(self) -> datetime:
        if self.simulated:
            return self._now
        return self._now + timedelta(seconds=self._even_s() - self._from_s)

    def jumped_s(self) -> float:
        """How far the clock on the wall was set since this was last asked [s]; 0 where it was not."""
        if self.simulated:
            return 0.0
        off = (self._wall() - self.now()).total_seconds()
        if abs(off - self._off_s) < JUMP_S:
            return 0.0
        jump, self._off_s = off - self._off_s, off
        return jump

    def not_before(self, at: datetime) -> None:
        """Go on from a time on record where the wall's lies before it: what ran before an interruption never runs back."""
        behind = (at - self.now()).total_seconds()
        if behind > 0:
            self._now += timedelta(seconds=behind)
            if behind < JUMP_S:
                self._off_s -= behind

    def advance(self, seconds: float) -> None:
        """Let simulated time pass; wall time passes by itself."""
        if self.simulated:
            self._now += timedelta(seconds=max(0.0, seconds))

    def speak(self, words: str) -> None:
        """Let the time pass that these words take to say."""
        self.advance(len(words.split()) / WORDS_PER_S)


class Front(Protocol):
    """Where words come from and go to."""

    clock: Clock

    def recorded(self, fact: Fact) -> None: ...
    def say(self, say: Say) -> None: ...
    def manner(self, word: str) -> None: ...
    def listen(self, listen: Listen) -> Heard | Unclear | Silence | None:
        """What was heard; None when there is nobody any more."""

    def wait(self, wait: Wait) -> Heard | Unclear | Silence | None: ...
    def ended(self, state: str, call: Path) -> None: ...


def run(dialogue: Dialogue, effects: list[Effect], log: Log, front: Front) -> str:
    """Carry a call to its end. Returns `sealed`, or `interrupted` when nobody is there any more.

    Raises:
        KeyboardInterrupt, Stopped: it was ended from outside; its front was told so.
    """
    try:
        return _run(dialogue, effects, log, front)
    except (KeyboardInterrupt, Stopped):
        front.ended("interrupted", log.folder)
        raise


def _run(dialogue: Dialogue, effects: list[Effect], log: Log, front: Front) -> str:
    while True:
        heard: Heard | Unclear | Silence | None = None
        for effect in effects:
            match effect:
                case Record(fact=fact, at=at):
                    log.append(fact, at)
                    front.recorded(fact)
                    if isinstance(fact, CallSealed):
                        _enter(log, at)
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
        if jump := front.clock.jumped_s():
            for record in dialogue.clock_set(heard.at, jump):
                if isinstance(record, Record):
                    log.append(record.fact, record.at)
        effects = dialogue.receive(heard)


def _enter(log: Log, at: datetime) -> None:
    """Put a sealed call into the ledger; where that cannot be written now, the next call in the folder enters it."""
    with contextlib.suppress(DiskTrouble):
        enter(log.folder.parent, log.folder.name, log.prev, log.seq, at)


def new_call(
    site: Site, calls: Path, clock: Clock, procedure: Procedure | None = None, alone: bool = False
) -> tuple[Dialogue, list[Effect], Log]:
    """A new call and its log, in a folder of its own under `calls`; by the package's own procedure where none is given.

    A call that stands alone takes no trip, addition or lock from the calls before it, only its place in their chain.
    """
    at = clock.now()
    dialogue = Dialogue(site, procedure or own_procedure(), Judge())
    log = Log.begin(calls, at)
    write_private(log.folder / PROFILE, profile_text(site))
    known = earlier(calls, site.name, at, log.folder)
    before = known.sealed_last
    if alone:
        known = Earlier()
    opened = CallOpened(
        site.name, profile_hash(site), program(), tuple(known.days_since_trip), tuple(known.additions),
        tuple(known.machine_trips),
        tuple((*machine, id_, who) for machine, ids in known.left.items() for id_, who in ids),
        tuple(known.leaks_mended), technician_of(site),
        *((before.call, before.head, before.hash) if before else ()),
    )  # fmt: skip
    effects = dialogue.open(at, opened)
    if known.unread:
        effects.insert(_after_records(effects), Say("info", f"{known.unread} earlier calls are not read yet."))
    return dialogue, effects, log


def _after_records(effects: list[Effect]) -> int:
    """Where the first sentence stands."""
    return next((n for n, effect in enumerate(effects) if not isinstance(effect, Record)), len(effects))


class Overtaken(ValueError):
    """A call that is of a machine as it was before a later one."""


def _overtaken(later: str) -> str:
    return f"{later} came later at this machine, took over what was left there, and is sealed"


def resumed_call(
    site: Site, call: Path, clock: Clock, procedure: Procedure | None = None
) -> tuple[Dialogue, list[Effect], Log]:
    """An interrupted call, taken up where its log ends, by the profile that it keeps a copy of.

    Raises:
        LogDamaged: the log is damaged or sealed, or was begun by a profile that is neither this site's nor beside it.
        Overtaken: a later call about its machine is sealed.
    """
    log = Log(call)
    try:
        if later := log.seq and overtaken_by(call):
            raise Overtaken(f"{call.name}: {_overtaken(later)}. Begin a new call")
        return _taken_up(site, log, clock, procedure)
    except BaseException:
        log.close()
        raise


def _taken_up(site: Site, log: Log, clock: Clock, procedure: Procedure | None) -> tuple[Dialogue, list[Effect], Log]:
    known = list(facts(log.folder))
    if not known:
        opened = CallOpened(site.name, profile_hash(site), program(), technician=technician_of(site))
        dialogue = Dialogue(site, procedure or own_procedure(), Judge())
        return dialogue, dialogue.open(clock.now(), opened), log
    differs: list[str] = []
    if isinstance(known[0][1], CallOpened) and known[0][1].profile != profile_hash(site):
        kept = kept_profile(log.folder, known[0][1].profile)
        differs, site = differences(kept, site), kept
    dialogue = Dialogue(site, procedure or own_procedure(), Judge())
    try:
        dialogue.take_up(known)
    except (KeyError, RuntimeError, AttributeError) as error:
        raise LogDamaged(log.folder / EVENTS, len(known), f"it does not fit this program's procedure ({error})") from error
    clock.not_before(known[-1][0])
    effects = dialogue.resume(clock.now(), "interrupted")
    if differs:
        effects.insert(_after_records(effects), Say("info", _said_to_differ(differs)))
    return dialogue, effects, log


def kept_profile(call: Path, wanted: str) -> Site:
    """The profile that a call was begun with, from the copy that it keeps.

    Raises:
        LogDamaged: there is none, it is another one, or it has faults.
    """
    path = call / PROFILE
    try:
        kept = load_profile(path)
        if profile_hash(kept) == wanted:
            return kept
        why = "its copy was changed"
    except ProfileFaults as faults:
        why = faults.faults[0] if path.is_file() else "it keeps no copy of it"
    why = f"the call was opened with another profile, and {why}; give that one with --profile"
    raise LogDamaged(call / EVENTS, 1, why)


_NAMED = 3
"""So many differences are named; of more their number is said."""


def _said_to_differ(differs: list[str]) -> str:
    more = f", and {len(differs) - _NAMED} more" if len(differs) > _NAMED else ""
    named = "; ".join(differs[:_NAMED]) + more
    return f"The profile was changed since. This call goes on with the old one. Today differs: {named}."


def technician_of(site: Site) -> str:
    """The site's only technician by name; nothing where it has none or several: then it is asked."""
    return site.technicians[0].name if len(site.technicians) == 1 else ""


def profile_hash(site: Site) -> str:
    """SHA-256 of the profile's text."""
    return hashlib.sha256(profile_text(site)).hexdigest()


def profile_text(site: Site) -> bytes:
    return Path(site.source or DEMO_SITE).read_bytes()


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


def latest_open(calls: Path, out: Callable[[str], None] = lambda words: None) -> Path | None:
    """The call of this computer that is not sealed and was heard last.

    Args:
        calls: where calls are kept.
        out: takes a line for each call that is passed over because its log is damaged or empty.
    """
    found: list[tuple[datetime, Path]] = []
    with Index(calls) as index:
        known = index.sealed()  # of 100,000 calls a few are open: the others are not read for it
    for file in sorted(calls.glob(f"*/{EVENTS}")):
        call = file.parent
        if call.name in known or writer(call).get("host", platform.node()) != platform.node():
            continue
        try:
            log = read(call)
        except (LogDamaged, OSError) as error:
            out(f"passed over: {error}")
            continue
        if not log.lines:
            out(f"passed over: {call} holds no whole line")
        elif not log.sealed:
            found.append((log.lines[-1].at, call))
    for _, call in sorted(found, reverse=True):
        if not (later := overtaken_by(call)):
            return call
        out(f"passed over: {call}: {_overtaken(later)}")
    return None
