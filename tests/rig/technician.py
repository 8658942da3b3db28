"""A technician who answers what is asked from the plant, the parts and what is seen, with his meters' errors, in his words."""

from dataclasses import dataclass, field, replace
from random import Random
from typing import Any

from assistant.language.numbers import spoken_number
from tests.branch_rack import FAULTS, BranchRack, Fault
from tests.rig.plant import Plant, Point, balance, standing_psig
from tests.rig.scenes import Scene
from tests.simulated import PIPE_DEGF, Rack, curve_ohm

STYLES = ("{}", "it's {}", "about {}")
"""Ways of saying a number: bare, in a sentence, with a hedge."""
SPOKEN = {"R22": "r twenty two", "R404A": "r four oh four a", "R507A": "r five oh seven a", "R407A": "r four oh seven a",
          "R744": "r seven forty four"}  # fmt: skip
HOLDS_DEGF = {"R22": 215.0, "R404A": 155.0, "R507A": 155.0}
"""Where each refrigerant's injection holds the line, 35 under its trip."""
STOPS_THE_FEED = frozenset({
    "injection_hand_valve_closed", "injection_coil_failed", "injection_coil_shorted", "injection_coil_loose",
    "injection_valve_stuck_closed", "injection_strainer_plugged", "injection_wiring_open", "module_no_output",
    "module_no_supply", "module_output_fuse",
})  # fmt: skip
"""Parts whose fault leaves a running machine without injection."""
_STEP = {"pressure": 1.0, "temperature": 1.0, "amps": 0.5}


@dataclass
class Rig(BranchRack):
    """A rack with one scene, or two."""

    scenes: tuple[Scene, ...] = ()
    seed: int = 0
    refrigerant: str = "R22"
    meters: Random = field(default_factory=Random)
    said: dict[str, str] = field(default_factory=dict)
    """What was last said of each reading."""
    step: str = ""
    """The step that asks: two cutouts share one id."""
    found: set[str] = field(default_factory=set)
    """Causes that the product holds for proven or supported by now."""
    mended: set[str] = field(default_factory=set)
    """Causes of them that were there when "repaired" was said: a technician repairs what was found, and nothing else."""

    def __post_init__(self) -> None:
        self.meters = Random(self.seed)
        self._name_fault()

    def _name_fault(self) -> None:
        names = [one.part for one in self._ill if one.part != "none"] + [one.site for one in self._ill if one.site]
        self.fault = names[0] if names else "none"

    @property
    def _ill(self) -> list[Scene]:
        """The scenes whose fault is still there."""
        return [one for one in self.scenes if one.cause not in self.mended]

    @property
    def its(self) -> Fault:
        faults = [one.fault for one in self._ill]
        return Fault(
            "; ".join(dict.fromkeys(f.contact for f in faults)), _joined([f.says for f in faults]),
            _joined([f.looks for f in faults]), _joined([f.running for f in faults]),
            "leave it locked" if any(one.fault.repaired != "repaired" for one in self.scenes) else "repaired",
        )  # fmt: skip

    @property
    def plant(self) -> Plant:
        """As it is now: what was repaired is healthy again. Injection that a broken part stops does not cool the line."""
        healthy = Plant(self.refrigerant, holds_degf=HOLDS_DEGF[self.refrigerant])
        changed = _joined([one.plant for one in self._ill])
        starved = any(one.part in STOPS_THE_FEED for one in self._ill)
        return replace(healthy, **changed, **({"feeds": False} if starved else {}))

    @property
    def point(self) -> Point:
        three_off = self.its.says.get("running_count") == "one"
        return balance(self.plant, 4 if self.running else 1 if three_off else 3)

    def _say(self, id_: str) -> str:
        if id_ in self.words:
            return self.words[id_]
        if id_ == "chain_dead_check":
            return self._contact()
        if id_ == "cutout_pressure" and id_ not in self.its.says and len(self.scenes) > 1:
            return "three fifty" if "high pressure" in self.its.contact and "low" not in self.step else "six pounds"
        if id_ == "running_now" and self.running and id_ not in self.its.running:
            return "running"
        own = self.its.running if self.running else {}
        if id_ not in own and id_ not in self.its.says:
            measured = self._measured(id_)
            if measured:
                self.said[id_] = measured
                return measured
        part = self._part(id_)
        if part:
            return part
        if self.fault not in FAULTS and id_ not in own and id_ not in self.its.says:
            try:
                return Rack._say(self, id_)
            except KeyError:
                pass
        return super()._say(id_)

    def _confirm(self, ask: dict[str, Any]) -> str:
        """What was said is confirmed, not what the meter shows by now."""
        before, self.words = self.words, {**self.words, **self.said}
        try:
            return super()._confirm(ask)
        finally:
            self.words = before

    def _feed(self) -> str:
        return "dry" if self.running and not self.plant.feeds else super()._feed()

    def _command(self, ask: dict[str, Any]) -> str:
        if ask["step"] == "repaired" and self.its.repaired == "repaired":
            self.mended |= self.found
            self._name_fault()
        looks = {"one_reset_discharge": "open" if self.fault == "false trip" else "closed", **self.its.looks}
        return looks[ask["step"]] if ask["step"] in looks else super()._command(ask)

    def _contact(self) -> str:
        words = {"motor": "contact four", "oil": "contact one", "high pressure": "contact two", "low pressure": "contact three",
                 "discharge": "contact five", "none": "none"}  # fmt: skip
        open_ = [c for c in self.its.contact.split("; ") if c != "none"]
        if len(open_) < 2:
            return words[open_[0] if open_ else "none"]
        turn = self.asked.count("chain_dead_check") - 1
        return ["more than one", *(words[c] for c in open_)][min(turn, len(open_))]

    def _part(self, id_: str) -> str:
        """What the parts of these scenes read, that the smaller simulators do not have."""
        standing = not self.running
        if id_ in ("controller_refrigerant", "refrigerant_label") and id_ not in self.its.says:
            return SPOKEN[self.refrigerant]
        if id_.startswith("fuse_volts."):
            return "zero"
        if id_.startswith("safety_volts."):
            contact = {"discharge_temperature": "discharge", "oil_pressure": "oil", "motor_protection": "motor"}
            name = id_.partition(".")[2]
            return "two oh eight" if contact.get(name, name.replace("_", " ")) in self.its.contact else "zero"
        if self.fault == "stuck on" and standing:
            table = {"injection_as_found": "feeding", "injection_coil_volts": "two oh eight",
                     "injection_after": "stopped"}  # fmt: skip
            return table.get(id_, "")
        if self.fault == "injection_valve_leaking" and standing and id_ == "injection_as_found":
            return "feeding"
        if self.fault == "probe drifted" and id_ in ("probe_ohms.module_end", "probe_ohms", "probe_ohms.cleaned"):
            return spoken_number(float(round(curve_ohm(PIPE_DEGF) * 0.6, -2)), "ohms")
        return ""

    def _measured(self, id_: str) -> str:
        """A reading of the plant, by a meter with its error and its last digit."""
        plant, point = self.plant, self.point
        running = self.running
        values = {
            "rack_suction_pressure": ("pressure", point.suction_psig), "rack_discharge_pressure": ("pressure", point.head_psig),
            "suction_pressure": ("pressure", point.own_suction_psig),
            "watch.suction_pressure": ("pressure", point.own_suction_psig),
            "discharge_pressure": ("pressure", point.own_discharge_psig if running else point.head_psig),
            "watch.discharge_pressure": ("pressure", point.own_discharge_psig),
            "suction_temperature": ("temperature", point.gas_degf), "discharge_temperature": ("temperature", point.line_degf),
            "watch.discharge_temperature": ("temperature", point.line_degf),
            "others_discharge_temperature": ("temperature", point.neighbour_line_degf),
            "liquid_pressure": ("pressure", point.header_psig), "liquid_temperature": ("temperature", point.header_degf),
            "liquid_out_temperature": ("temperature", point.liquid_out_degf),
            "ambient_temperature": ("temperature", plant.air_degf),
            "idle_condenser_pressure": ("pressure", standing_psig(plant)), "watch.amps": ("amps", point.amps),
            "line_amps.a": ("amps", point.amps), "line_amps.b": ("amps", point.amps), "line_amps.c": ("amps", point.amps),
            "suction_filter_drop": ("pressure", plant.filter_psi + 0.5),
            "condenser_fans_called": ("count", float(plant.fans_called)),
            "condenser_fans_running": ("count", float(plant.fans_turning)),
        }  # fmt: skip
        if id_ not in values:
            return ""
        kind, value = values[id_]
        step = _STEP.get(kind, 1.0)
        error = {"pressure": 0.6, "temperature": 1.0, "amps": 0.1}.get(kind, 0.0)
        read = round((value + self.meters.uniform(-error, error)) / step) * step
        if kind == "pressure" and read < 0:
            return f"{spoken_number(float(max(1, round(-read * 2.036))), 'count')} inches of vacuum"
        return spoken_number(read, kind)

    def answer(self, ask: dict[str, Any]) -> str:
        self.step = ask["step"]
        said = super().answer(ask)
        plain = ask.get("kind") in ("pressure", "temperature", "ohms") and not ask.get("also") and ask["asking"] in self.asked
        return self.meters.choice(STYLES).format(said) if plain and said[:1].isalpha() and "line" not in said else said


def _joined(tables: list[Any]) -> dict[str, Any]:
    return {key: value for table in tables for key, value in table.items()}
