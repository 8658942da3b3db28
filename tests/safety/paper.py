"""A call on paper: what is asked, answered and said, line by line, as the monitor reads it."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

from assistant.profile import Site, load_profile
from assistant.safety.monitor import Monitor

NOON = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)
WORDS = {  # the cautions as they are spoken here, in short and in full
    "room": ("Detector lit and quiet? Fan running?", "At least 19.5 percent oxygen. No detector: stay out."),
    "lock_out": ("Read the tag. Your own lock.", "Your own lock, your own key. Control power comes from elsewhere."),
    "live": ("Live. Gloves, shield, one hand.", "Label read, clothing meets it. Leathers. No label, water, damage: stop."),
    "live_place": ("Not from metal, not wet, not touching pipe.", "No metal ladder, no wet gloves, no hand on the line."),
    "restart": ("It can start by itself.", "This machine and the fans can start without warning."),
    "hot_line": ("Pipe is hot. Gloves.", "It stays at 200 degrees. Give me its temperature before you touch it."),
    "probe_in_gas": ("Unplug only. Do not take out.", "Unscrewed, it opens the system."),
    "jumper": ("Start blocked first. Jumper for the test only.", "Block the starter first. Every second feeds liquid into it."),
    "liquid_and_cold": ("Liquid burns cold. Gloves, glasses.", "In a closed room it takes the air. It needs the licence."),
    "flammable": ("No sparks. Fan on. No live work.", "Rated detector and tools, ventilation on."),
    "valves": ("Suction only. Never close discharge running.", "It bursts a head in seconds. Never shut liquid in."),
    "fans": ("Fans start by themselves.", "Count them from arm's length. Clean only with them locked out."),
    "ladder": ("Three points. Tied. Mind the edge.", "Ladder tied, no ice on the rungs, 15 feet from the roof edge."),
    "coil": ("Never powered off its stem.", "It burns in seconds. Power off before it is lifted."),
    "insulation_test": ("No vacuum. Modules off. Discharge after.", "500 volts. Disconnect drive and module."),
    "terminals": ("Stand aside. Terminals can blow out.", "Burning oil. Never power with the cover off."),
    "acid": ("Acid oil. Gloves, glasses.", "Burn-out oil hurts skin and eyes."),
    "charging": ("Read rack and cylinder. Same refrigerant?", "Blends leave as liquid. Cylinder 80 percent full. Weigh it."),
    "brazing": ("Recover. Nitrogen flow. Permit. Fire watch.", "Chlorinated refrigerant in a flame makes phosgene."),
    "reset": ("One reset only.", "A second trip: stop, lock, leave it off."),
}  # fmt: skip


def demo(**panel: Any) -> Site:
    """The demo site; its first rack with other panel data."""
    site = load_profile()
    rack = site.racks[0]
    return replace(site, racks=(replace(rack, panel=replace(rack.panel, **panel)), *site.racks[1:]))


def with_rack(**changes: Any) -> Site:
    site = load_profile()
    return replace(site, racks=(replace(site.racks[0], **changes), *site.racks[1:]))


class Paper:
    """One call, watched as it is written down."""

    def __init__(self, site: Site | None = None) -> None:
        self.site = site or load_profile()
        self.monitor = Monitor(self.site)
        self.seen = self.monitor.begin()
        self.now = NOON
        self.buffer: list[dict[str, Any]] = []
        self.id = ""

    # ---- one line after the other

    def fact(self, kind: str, **fields: Any) -> "Paper":
        self.buffer.append({"kind": kind, **fields})
        return self

    def says(self, text: str, purpose: str = "info") -> "Paper":
        return self.fact("say", purpose=purpose, text=text)

    def asks(self, id_: str, words: str = "?", *also: str, quiet: bool = True, step: str = "") -> "Paper":
        """A question, which ends the turn."""
        self.id = id_
        self.says(words, "ask")
        self.fact("ask", step=step or id_, asking=id_, also=list(also), of="", go_ahead=["done"], unit=None, quiet=quiet)
        return self.turn()

    def turn(self) -> "Paper":
        self.seen = self.monitor.watch(self.seen, self.buffer, self.now)
        self.buffer = []
        return self

    def after(self, seconds: float = 4) -> "Paper":
        self.now += timedelta(seconds=seconds)
        return self

    def hears(self, said: str, meaning: str = "answer") -> "Paper":
        return self.after().fact("words_heard", said=said, meaning=meaning)

    def answers(self, value: Any, said: str = "", id_: str = "", **more: Any) -> "Paper":
        """What was asked is answered with a reading."""
        said = said or ("done" if value is True else "a hundred" if isinstance(value, (int, float)) else str(value))
        if not self.buffer:
            self.hears(said)
        fields = {"unit": None, "step": self.id, "confirmed": "read back", "corrected": False, "low": None, "high": None}
        self.fact("reading_taken", id=id_ or self.id, value=value, said=said, **{**fields, **more})
        return self.opens("panel_cover") if self.id == "dead_volts.power" else self

    def done(self, said: str = "done", **more: Any) -> "Paper":
        return self.hears(said, "command: continue").fact("step_done", step=self.id, said=said, **more)

    def reads(self, **values: Any) -> "Paper":
        """Readings that were asked for and answered, each on its own; `__` stands for the dot of an id."""
        for name, value in values.items():
            id_ = name.replace("__", ".")
            self.asks(id_).answers(value)
        return self

    def opens(self, *ids: str) -> "Paper":
        for id_ in ids:
            self.fact("obligation_opened", id=id_, step=self.id, detail="", who="Ada")
        return self

    def clears(self, *ids: str) -> "Paper":
        for id_ in ids:
            self.fact("obligation_cleared", id=id_, step=self.id, who="Ada")
        return self

    def finds(self, cause: str, standing: str = "proven") -> "Paper":
        return self.fact("concluded", cause=cause, standing=standing, evidence=[], action="")

    # ---- stories

    def cautions(self, *names: str, form: str = "full") -> "Paper":
        """Each spoken, and acknowledged in words."""
        for name in names:
            short, full = WORDS[name]
            self.fact("caution_given", caution=name, form=form).says(f"{short} {full}" if form == "full" else short, "caution")
            self.fact("ask", step=f"next/{name}", asking="command", also=[], of="", go_ahead=[], unit=None, quiet=True)
            self.turn().hears("understood", "command: continue").fact("caution_acknowledged", caution=name, said="understood")
        return self

    def arrives(self) -> "Paper":
        """The machine is named, and who is there."""
        self.reads(technician="Ada", site=self.site.name, rack="a", compressor="two")
        return self.cautions("room").reads(detector_state="quiet")

    def locks(self) -> "Paper":
        self.cautions("lock_out").asks("panel_tag", "Read me the tag.").answers("a two")
        return self.asks("locked_out", "Your own lock on. Locked?").answers(True, "locked").opens("locked_out")

    def measures(self, power: Any = 0.0, control: Any = 0.2) -> "Paper":
        self.asks("meter_proved_before", "Meter good?").answers(True, "good")
        self.asks("dead_volts.power", "Cover off. Volts on power?").answers(power, "zero")
        self.asks("dead_volts.control", "Volts on control?").answers(control, "point two")
        return self.asks("meter_proved_after", "Meter good again?").answers(True, "good")

    def proves_dead(self) -> "Paper":
        return self.arrives().cautions("restart", "hot_line", "coil", "jumper").locks().measures()

    def ready_for_live_work(self) -> "Paper":
        self.reads(live_or_dead="live", clothing_meets_label=True, ladder_kind="fiberglass")
        return self.cautions("live", "live_place")

    def in_the_feed_test(self) -> "Paper":
        """Control power on, stimulus in, start blocked, leads on the coil."""
        self.proves_dead().asks("start_prevented", "Block the start.").answers(True).opens("start_blocked")
        self.asks("jumper_fitted", "Fit the jumper.").answers(True).opens("jumper_fitted")
        self.asks("leads_clipped", "Clip it on the coil.").answers(True).opens("leads_on").ready_for_live_work()
        return self.asks("control_power_on", "Hands out. Power on. Say power on.").answers(True, "power on")

    def made_ready(self) -> "Paper":
        """The lock may come off."""
        self.reads(service_valves_open=True, covers_on=True).clears("panel_cover")
        self.after(60)
        return self.reads(others_clear=True).cautions("restart", form="short")

    def wire_back(self) -> "Paper":
        return self.asks("command", "Put the wire back. Say done.").done().clears("wire_lifted")

    def runs(self) -> "Paper":
        self.made_ready().asks("lock_removed", "Your lock off?").answers(True).clears("locked_out")
        return self.asks("command", "Switch to auto, start. Say started.").done("started")

    # ---- what the monitor found

    @property
    def complaints(self) -> tuple[str, ...]:
        return self.seen.complaints

    @property
    def broken(self) -> set[str]:
        """The rules that were complained of, in what was written down so far."""
        return {complaint.split()[0] for complaint in self.complaints}
