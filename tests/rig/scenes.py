"""For each cause the machine that has it: what its plant does, what its parts read, what is seen.

Pressures, temperatures and amps of a running or standing rack come from the plant; what a fault does to a part is common
practice. The rack and its figures are invented.
"""

from dataclasses import dataclass, field
from typing import Any

from tests.branch_rack import FAULTS, Fault, fault
from tests.test_branches import FOUND
from tests.test_faults import FAULTS as OF_THE_INJECTION

DISCHARGE = fault("discharge")
THREE_OFF = {"tripped_count": "three", "running_count": "one", "sight_glass": "bubbles"}


@dataclass(frozen=True)
class Scene:
    """A machine with a fault."""

    cause: str
    fault: Fault
    part: str = "none"
    """The fault of the injection's parts, by its name in `tests/simulated.py`."""
    plant: dict[str, Any] = field(default_factory=dict)
    """What differs from a healthy plant."""
    site: str = ""
    """Fault of `tests/test_branches.py` whose rack it takes."""
    true_too: frozenset[str] = frozenset()
    """What may be proven beside the cause: it is true as well."""
    best: str = "proven"
    """The best standing that the trade's rules allow without opening the machine."""
    shows: str = "standing"
    """What it takes to see it: a `standing` machine, a `running` one, or a `reset`."""

    @property
    def leaves_it_off(self) -> bool:
        """The machine is not started again on this call."""
        return self.fault.repaired != "repaired" or self.cause in ("compressor_seized", "injection_valve_leaking")


_PLANTS: dict[str, dict[str, Any]] = {
    "condenser fouled": {"face": 0.33}, "condenser fan": {"fans_turning": 2},
    "head control": {"fans_turning": 2, "fans_called": 2},
    "air in the system": {"air_psi": 60.0}, "air suspected": {"air_psi": 60.0}, "overcharged": {"flooded": 0.6},
    "condenser flooded": {"flooded": 0.7, "air_degf": 25.0}, "discharge drops when it runs": {"discharge_psi": 65.0},
    "cases off": {"cases_w_per_k": 1500.0}, "case fans stopped": {"cases_w_per_k": 1500.0},
    "defrost stuck": {"cases_w_per_k": 1500.0}, "suction filter": {"filter_psi": 6.0}, "satisfied": {"cases_w_per_k": 1700.0},
    "poorly cooled": {"superheat_k": 42.0},
}  # fmt: skip
_OF_THE_PLANT = frozenset({
    "rack_suction_pressure", "rack_discharge_pressure", "suction_pressure", "discharge_pressure", "suction_temperature",
    "liquid_out_temperature", "ambient_temperature", "watch.suction_pressure", "watch.discharge_pressure",
    "idle_condenser_pressure", "suction_filter_drop", "condenser_fans_called", "condenser_fans_running",
})  # fmt: skip
"""What the plant says instead of the fault's own words."""
_BEST = {"oil_logged": "supported", "injection_wrong_size": "supported", "liquid_feed_restricted": "supported"}


def _branch_scene(name: str, cause: str, standing: str, also: set[str]) -> Scene:
    its, plant = FAULTS[name], _PLANTS.get(name, {})
    physical = plant and name not in ("discharge drops when it runs",)
    says = {i: w for i, w in its.says.items() if not (physical and i in _OF_THE_PLANT)}
    running = {i: w for i, w in its.running.items() if not (physical and i in _OF_THE_PLANT)}
    own = Fault(its.contact, says, its.looks, running, its.repaired)
    shows = "running" if name == "poorly cooled" or (its.running and not its.says and not its.looks) else "standing"
    return Scene(cause, own, plant=plant, site=name, true_too=frozenset(also), best=standing, shows=shows)


def hot(cause: str, says: dict[str, str] | None = None, best: str = "supported", too: str = "", **plant: Any) -> Scene:
    """A machine that tripped on its discharge and is hot again in the watch."""
    shows = "standing" if "cases_w_per_k" in plant or "face" in plant else "running"
    its = fault("discharge", says)
    return Scene(cause, its, plant={"over_degf": 28.0, **plant}, best=best, true_too=frozenset(too.split()), shows=shows)


SCENES: list[Scene] = [
    *(_branch_scene(name, cause, standing, also) for name, cause, standing, also in FOUND),
    *(
        Scene(cause, DISCHARGE, part, true_too=frozenset({"liquid_slugged"} if "leaking" in part else set()), best=best)
        for part, cause, best in OF_THE_INJECTION
    ),
    Scene("injection_coil_failed", DISCHARGE, "injection_coil_shorted"),
    hot("return_gas_hot", superheat_k=46.0),
    hot("suction_low", best="proven", cases_w_per_k=2200.0),
    hot("discharge_valves_leaking", {"pump_down_low": "six pounds"}, "proven", valves_leak=0.5, over_degf=0.0),
    hot("controller_wrong_refrigerant", {"controller_refrigerant": "r four oh seven a"}, "proven"),
    hot("injection_wrong_size", over_degf=0.0, own_over_degf=28.0),
    hot("capacity_control_stuck", {"capacity_control": "unloaded"}, "proven", unloaded=2.4, box_degf=20.0, over_degf=0.0,
        own_over_degf=28.0),
    hot("head_high", best="proven", too="condenser_fouled", face=0.3, says={"condenser_face": "fouled"}),
    Scene("after_defrost", fault("discharge", {"defrost_state": "within the hour"}), best="suspected"),
    Scene("head_fan_failed", fault("discharge", {"head_fan_running": "no"}, {"head_fan_look": "broken"})),
    Scene("controller_fault", fault("discharge", {"controller_mode": "dead", "rack_suction_pressure": "eighteen"})),
    Scene("common_supply_lost", fault("discharge", {"tripped_count": "three", "running_count": "one", "trip_spread": "together"},
                                      {"module_lamps": "several dark"}), "module_no_supply", best="supported",
          true_too=frozenset({"module_no_supply"})),
    Scene("module_output_stuck_on", fault("discharge", {"live_or_dead": "live", "control_volts": "two oh eight"}), "stuck on"),
    Scene("module_false_trip", DISCHARGE, "false trip", shows="reset"),
    Scene("liquid_feed_restricted", fault("discharge", {"strainer_temperature_drop": "one"}), "injection_strainer_plugged",
          best="supported", true_too=frozenset({"injection_strainer_plugged"})),
    Scene("probe_failed", DISCHARGE, "probe drifted"),
    Scene("liquid_line_hot", fault("discharge", {**THREE_OFF, "receiver_level": "sixty", "drier_temperature_drop": "one"}),
          plant={"line_heat_degf": 15.0}),
    Scene("liquid_valve_closed", fault("discharge", {**THREE_OFF, "receiver_level": "sixty", "drier_temperature_drop": "one"},
                                       {"line_valves": "one part closed", "glass_ahead": "full"}), plant={"line_psi": 45.0}),
    Scene("seal_leak_retrofit", fault("discharge", {"leak_place": "at the gasket of the head"}, {"leak_oil_changed": "yes"}),
          "refrigerant_low", true_too=frozenset({"refrigerant_low"})),
    Scene("wrong_refrigerant", fault("discharge", {"refrigerant_label": "r four oh seven a"}), "refrigerant_low",
          true_too=frozenset({"refrigerant_low"})),
    Scene("liquid_slugged", fault("oil", {"oil_level": "foaming", "crankcase_temperature": "minus ten"}),
          true_too=frozenset({"oil_diluted"})),
    Scene("upper_stage_down", fault("high pressure", {"cascade_state": "tripped"}), site="other stage", best="supported"),
    Scene("no_fault_found", DISCHARGE, best="suspected"),
]  # fmt: skip
"""One scene or more for each cause."""


def cannot_stand_together(first: Scene, second: Scene) -> str:
    """Why two faults make no machine that both can be found on; empty where they do."""
    for one, other in ((first, second), (second, first)):
        if one.cause in ("not_called", "controller_fault"):
            return f"with {one.cause} nothing at the machine has tripped"
        if one.leaves_it_off and other.shows != "standing":
            when = "at its reset" if other.shows == "reset" else "while it runs"
            return f"{one.cause} leaves the machine off, {other.cause} shows only {when}"
        if one.cause in STOPS_IT and one.shows == other.shows == "running":
            return f"{one.cause} stops the machine before {other.cause} can be read"
    if {first.site, second.site} == {"starter coil open", "starter jammed"}:
        return "without its coil nobody sees that the starter is jammed"
    if first.part != "none" and second.part != "none":
        return "both change the same parts of the injection"
    same = set(first.fault.says) & set(second.fault.says) or set(first.plant) & set(second.plant)
    return f"both change {', '.join(sorted(same))}" if same else ""


STOPS_IT = frozenset({"oil_pump_worn", "oil_control_faulty", "phase_lost", "compressor_seized", "discharge_valves_leaking"})
"""Found on the running machine, it is stopped at once: by its own control, or over its trip at the first round."""
