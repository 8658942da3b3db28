"""A call on paper: what is said goes in as text, what the product says comes out. The one driver of the tests."""

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Self

from assistant.call.effects import Effect, Listen, Record, Say, Wait
from assistant.call.engine import Dialogue
from assistant.call.facts import CallOpened, Fact
from assistant.call.heard import Heard, Silence, Unclear
from assistant.call.judge import Judge
from assistant.call.procedure import Procedure, own_procedure
from assistant.fronts.pipe import ask_message
from assistant.profile import Site, load_profile
from assistant.record.log import Log
from assistant.safety.lines import lines
from assistant.safety.monitor import Monitor
from tests.simulated import Rack

NOON = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)


class Talk:
    """One call, from its opening."""

    waits_by_itself = True
    """A wait passes at once; else it stands as the last effect."""

    def __init__(
        self, site: Site | None = None, trips: tuple[tuple[str, str, float], ...] = (), procedure: Procedure | None = None,
        opened: CallOpened | None = None,
    ) -> None:  # fmt: skip
        self.site, self.procedure = site or load_profile(), procedure or own_procedure()
        self.dialogue = Dialogue(self.site, self.procedure, Judge())
        self.now = NOON
        self.effects: list[Effect] = []
        self.facts: list[tuple[datetime, Fact]] = []
        self.spoken: list[str] = []
        self.history: list[tuple[datetime, list[Effect]]] = []
        opened = opened or CallOpened("paper", "", "test", machine_trips=trips, technician="Robin Vale")
        self._take(self.dialogue.open(NOON, opened))

    def _take(self, effects: list[Effect]) -> None:
        self.effects = list(effects)
        self.history.append((self.now, self.effects))
        self.facts += [(x.at, x.fact) for x in effects if isinstance(x, Record)]
        self.spoken += [x.text for x in effects if isinstance(x, Say)]
        if self.waits_by_itself and effects and isinstance(effects[-1], Wait):
            self.now = effects[-1].until
            self._take(self.dialogue.receive(Silence(self.now)))

    def receive(self, heard: Heard | Unclear | Silence) -> Self:
        """What an ear made of something, at its time."""
        self.now = heard.at
        self._take(self.dialogue.receive(heard))
        return self

    def hear(self, *words: str, sure: bool = True, after_s: float = 4) -> Self:
        for said in words:
            self.receive(Heard(said, self.now + timedelta(seconds=after_s), sure))
        return self

    def wait(self, seconds: float) -> Self:
        return self.receive(Silence(self.now + timedelta(seconds=seconds)))

    def kill(self, after_s: float = 0, cut: int | None = None) -> Self:
        """The call is cut, and another program takes it up from its record, or from its first lines."""
        self.facts = self.facts[:cut]
        self.now = self.now if cut is None else self.facts[-1][0]
        self.dialogue = Dialogue(self.site, self.procedure, Judge())
        self.dialogue.take_up(self.facts)
        self.now += timedelta(seconds=after_s)
        self._take(self.dialogue.resume(self.now, "killed"))
        return self

    @property
    def asked(self) -> str:
        """The step and the id now asked."""
        last = self.effects[-1]
        assert isinstance(last, Listen)
        return f"{last.step}:{last.question.asking}"

    @property
    def said(self) -> str:
        return " | ".join(x.text for x in self.effects if isinstance(x, Say))

    @property
    def readings(self) -> dict[str, object]:
        return {i: r.value for i, r in self.dialogue.state.readings.items()}

    @property
    def open(self) -> set[str]:
        return set(self.dialogue.state.open)

    def words_of(self, rack: Rack) -> str:
        """What the simulated technician says to what is asked now."""
        last = self.effects[-1]
        assert isinstance(last, Listen), last
        return rack.answer({**ask_message(last), "said": self.said})

    def until(self, rack: Rack, asked: str) -> Self:
        """Let the simulated technician answer until a step is asked."""
        for _ in range(200):
            if self.dialogue.state.sealed or self.asked.split(":")[0] == asked:
                return self
            self.hear(self.words_of(rack))
        raise AssertionError(f"'{asked}' is never asked; last was {self.asked}")

    def to_the_seal(self, rack: Rack) -> Self:
        for _ in range(250):
            if self.dialogue.state.sealed:
                return self
            self.hear(self.words_of(rack))
        raise AssertionError(f"the call does not end; last asked {self.asked}")

    def broken(self) -> tuple[str, ...]:
        """Rules of safety that the call has broken, by the monitor."""
        monitor = Monitor(self.site)
        seen = monitor.begin()
        for now, effects in self.history:
            seen = monitor.watch(seen, lines(effects), now)
        return seen.complaints

    def write(self, folder: Path) -> Path:
        with Log(folder) as log:
            for at, fact in self.facts:
                log.append(fact, at)
        return folder
