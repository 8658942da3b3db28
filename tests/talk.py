"""A call on paper: what is said goes in as text, what the product says comes out."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

from assistant.call.effects import Effect, Listen, Record, Say, Wait
from assistant.call.engine import Dialogue
from assistant.call.facts import CallOpened, Fact
from assistant.call.heard import Heard, Silence
from assistant.call.judge import Judge
from assistant.call.procedure import own_procedure
from assistant.fronts.pipe import ask_message
from assistant.profile import Site, load_profile
from assistant.record.log import Log
from assistant.safety.lines import lines
from assistant.safety.monitor import Monitor
from tests.simulated import Rack

NOON = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)


class Talk:
    def __init__(self, site: Site | None = None, trips: tuple[tuple[str, str, float], ...] = ()) -> None:
        self.dialogue = Dialogue(site or load_profile(), own_procedure(), Judge())
        self.now = NOON
        self.effects: list[Effect] = []
        self.facts: list[tuple[datetime, Fact]] = []
        self.spoken: list[str] = []
        self.history: list[tuple[datetime, list[Effect]]] = []
        self._take(self.dialogue.open(NOON, CallOpened("paper", "", "test", machine_trips=trips, technician="Robin Vale")))

    def _take(self, effects: list[Effect]) -> None:
        self.effects = list(effects)
        self.history.append((self.now, self.effects))
        self.facts += [(x.at, x.fact) for x in effects if isinstance(x, Record)]
        self.spoken += [x.text for x in effects if isinstance(x, Say)]
        if effects and isinstance(effects[-1], Wait):
            self.now = effects[-1].until
            self._take(self.dialogue.receive(Silence(self.now)))

    def hear(self, *words: str, sure: bool = True, after_s: float = 4) -> "Talk":
        for said in words:
            self.now += timedelta(seconds=after_s)
            self._take(self.dialogue.receive(Heard(said, self.now, sure)))
        return self

    def wait(self, seconds: float) -> "Talk":
        self.now += timedelta(seconds=seconds)
        self._take(self.dialogue.receive(Silence(self.now)))
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

    def until(self, rack: Rack, asked: str) -> "Talk":
        """Let the simulated technician answer until a step is asked."""
        for _ in range(200):
            if self.dialogue.state.sealed or self.asked.split(":")[0] == asked:
                return self
            last = self.effects[-1]
            assert isinstance(last, Listen)
            self.hear(rack.answer(ask_message(last)))
        raise AssertionError(f"'{asked}' is never asked; last was {self.asked}")

    def to_the_seal(self, rack: Rack) -> "Talk":
        for _ in range(250):
            if self.dialogue.state.sealed:
                return self
            last = self.effects[-1]
            assert isinstance(last, Listen), last
            self.hear(rack.answer(ask_message(last)))
        raise AssertionError(f"the call does not end; last asked {self.asked}")

    def broken(self) -> tuple[str, ...]:
        """Rules of safety that the call has broken, by the monitor."""
        monitor = Monitor(self.dialogue.state.site)
        seen = monitor.begin()
        for now, effects in self.history:
            seen = monitor.watch(seen, lines(effects), now)
        return seen.complaints

    def write(self, folder: Path) -> Path:
        with Log(folder) as log:
            for at, fact in self.facts:
                log.append(fact, at)
        return folder
