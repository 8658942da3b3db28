"""A technician at a rack whose fault is not the injection's: motor, control supply, oil, high or low pressure.

The rack and its figures are invented. What a fault does to a reading is common practice.
"""

from dataclasses import dataclass
from typing import Any

from tests.simulated import Rack

HEALTHY_LOOKS = {
    "set_point_left": "no", "loading_left": "no",
    "motor_shell": "cool", "line_fuses": "good", "poles": "all closed", "low_ohm_meter": "low ohm meter",
    "modules_off": "unplugged", "window_pull": "pulls in", "oil_control_look": "tripped", "oil_others": "others normal",
    "oil_others_high": "others normal", "oil_separator": "right", "oil_fell": "no", "oil_kind": "the new one",
    "high_winter": "open", "high_valves": "all open", "high_standing_offer": "leave it", "low_case_fans": "fans running",
    "low_circuits": "all fed", "repair_or_leave": "repair now", "leak_mend_or_leave": "work on it",
}  # fmt: skip
"""What is said at a look where nothing is wrong."""
CONTACT_WORDS = {"motor": "contact four", "oil": "contact one", "high pressure": "contact two",
                 "low pressure": "contact three", "none": "none"}  # fmt: skip


AMPS = ("line_amps.a", "line_amps.b", "line_amps.c")
ICED = {"case_load": "iced", "rack_suction_pressure": "one"}


@dataclass(frozen=True)
class Fault:
    """What one fault changes: in readings, in looks, once it runs."""

    contact: str
    says: dict[str, str]
    looks: dict[str, str]
    running: dict[str, str]
    """Readings of the running machine, where they are not healthy."""
    repaired: str = "repaired"


def fault(contact: str, says: dict[str, str] | None = None, looks: dict[str, str] | None = None,
          running: dict[str, str] | None = None, repaired: str = "repaired") -> Fault:  # fmt: skip
    return Fault(contact, says or {}, looks or {}, running or {}, repaired)


FAULTS: dict[str, Fault] = {
    "none at the motor": fault("motor"),
    "winding open": fault("motor", {"winding_ohms.ab": "four point one", "winding_ohms.bc": "open", "winding_ohms.ca": "open"},
                          repaired="leave it locked"),
    "lead to the motor broken": fault("motor", {"winding_ohms.bc": "open", "winding_ohms.ca": "open"}),
    "winding grounded": fault("motor", {"ground_megohms": "point two"}, repaired="leave it locked"),
    "starter pole open": fault("motor", looks={"poles": "one open"}),
    "line fuse open": fault("motor", looks={"line_fuses": "one open"}),
    "line lost": fault("motor", {"line_volts.bc": "two ninety", "line_volts.ca": "two eighty"}),
    "supply unbalanced": fault("motor", {"line_volts.ab": "four eighty", "line_volts.bc": "four sixty",
                                         "line_volts.ca": "four fifty"}, repaired="leave it locked"),
    "single phasing when it runs": fault("motor", running={"line_amps.a": "nothing", "line_amps.b": "forty one",
                                                          "line_amps.c": "forty"}),
    "overloaded": fault("motor", running=dict.fromkeys((*AMPS, "watch.amps"), "thirty nine")),
    "poorly cooled": fault("motor", running={"suction_temperature": "seventy"}),
    "motor protection failed": fault("motor", {"overload_state": "open"}, repaired="leave it locked"),
    "still hot": fault("motor", {"alarm_minutes_ago": "ten minutes"}, {"motor_shell": "warm"}),
    "short cycling": fault("motor", {"starts_last_hour": "fourteen"}),
    "seized": fault("motor", {"mechanical_state": "seized"},
                    running=dict.fromkeys(AMPS, "locked")),
    "turns backwards": fault("none", {"phase_monitor_state": "tripped"}, running={"rotation": "backwards"}),  # a scroll
    "drive fault": fault("motor", {"drive_fault": "yes"}),  # a rack with a drive
    "control supply lost": fault("none", {"control_volts": "no volts", "chain_point.supply": "no volts"}),
    "control fuse blown": fault("none", {"control_fuse": "blown"}),
    "starter coil open": fault("none", {"starter_coil_ohms": "open"}),
    "wire of the string open": fault("none", {"contactor_coil_volts": "no volts", "chain_point.motor_protection": "no volts",
                                              "chain_point.discharge_temperature": "no volts"}),
    "starter jammed": fault("none", looks={"window_pull": "stays out"}),
    "phase monitor": fault("none", {"phase_monitor_state": "tripped"}),
    "oil low": fault("oil", {"oil_level": "low"}),
    "oil feed starved": fault("oil", {"oil_level": "low", "oil_supply": "starved"}),
    "oil diluted": fault("oil", {"oil_level": "foaming"}),
    "oil pump worn": fault("oil", running={"oil_pump_pressure": "nineteen"}),
    "oil control failed": fault("oil", running={"running_now": "just tripped"}),
    "separator stuck": fault("oil", {"oil_level": "low"}, {"oil_others": "all low", "oil_separator": "wrong"}),
    "oil logged": fault("oil", {"oil_level": "low"}, {"oil_others": "all low", "oil_fell": "they fell"}),
    "oil wrong": fault("oil", {"oil_level": "low"}, {"oil_kind": "mineral"}),
    "oil overfilled": fault("oil", {"oil_level": "high"}, {"oil_others_high": "others low"}),
    "none at the oil": fault("oil"),
    "condenser fouled": fault("high pressure", {"condenser_face": "matted", "rack_discharge_pressure": "three ten"}),
    "condenser fan": fault("high pressure", {"condenser_fans_running": "four", "rack_discharge_pressure": "three ten"}),
    "air in the system": fault("high pressure", {"rack_discharge_pressure": "three ten", "liquid_out_temperature": "one fifteen",
                                                 "idle_condenser_pressure": "two ten"}, {"high_standing_offer": "all so"},
                               repaired="leave it locked"),
    "air suspected": fault("high pressure", {"rack_discharge_pressure": "three ten", "liquid_out_temperature": "one fifteen"},
                           running={"discharge_pressure": "three twelve", "watch.discharge_pressure": "three twelve"}),
    "overcharged": fault("high pressure", {"rack_discharge_pressure": "three ten", "liquid_out_temperature": "one fifteen",
                                           "receiver_level": "ninety five"}),
    "head control": fault("high pressure", {"condenser_fans_called": "two", "condenser_fans_running": "two",
                                            "rack_discharge_pressure": "three ten"}),
    "condenser flooded": fault("high pressure", {"ambient_temperature": "twenty", "liquid_out_temperature": "sixty"},
                               {"high_winter": "holding"}),
    "discharge shut": fault("high pressure", looks={"high_valves": "one closed"}),
    "discharge drops when it runs": fault("high pressure", running={"discharge_pressure": "two eighty"}),
    "high cutout will not hold": fault("high pressure", {"control_reset": "will not hold", "discharge_pressure": "two ten"},
                                       repaired="leave it locked"),
    "high cutout opens early": fault("high pressure", {"control_trip_pressure": "two sixty"},
                                     running={"discharge_pressure": "it tripped"}),
    "none at the high pressure": fault("high pressure"),
    "cases off": fault("low pressure", {"case_load": "off", "rack_suction_pressure": "one"}),
    "case fans stopped": fault("low pressure", ICED, {"low_case_fans": "fans stopped"}),
    "defrost stuck": fault("low pressure", ICED | {"defrost_state": "stuck"}),
    "suction filter": fault("low pressure", {"suction_filter_drop": "six pounds"}),
    "circuit shut": fault("low pressure", looks={"low_circuits": "one dry"}),
    "satisfied": fault("low pressure", {"rack_suction_pressure": "one"}),
    "low cutout will not hold": fault("low pressure", {"control_reset": "will not hold", "suction_pressure": "twelve"},
                                      repaired="leave it locked"),
    "charge low": fault("low pressure", {"sight_glass": "bubbles", "receiver_level": "five", "drier_temperature_drop": "one"}),
    "none at the low pressure": fault("low pressure"),
}  # fmt: skip


@dataclass
class BranchRack(Rack):
    """The machine as it stands, with a fault of `FAULTS`."""

    heated: bool = False

    @property
    def its(self) -> Fault:
        return FAULTS[self.fault]

    def answer(self, ask: dict[str, Any]) -> str:
        if ask["asking"] == "crankcase_heater":
            self.heated = True
        return super().answer(ask)

    def _command(self, ask: dict[str, Any]) -> str:
        step = ask["step"]
        if step == "repaired" and "repaired" not in self.words:
            self.words = {**self.words, "repaired": self.its.repaired}
        if step == "stop_now":
            self.running = False
        if step in HEALTHY_LOOKS:
            return self.words.get(step, self.its.looks.get(step, HEALTHY_LOOKS[step]))
        return super()._command(ask)

    def _say(self, id_: str) -> str:
        if id_ in self.words:
            return self.words[id_]
        if self.running and id_ in self.its.running:
            return self.its.running[id_]
        if id_ == "oil_level" and self.repaired and self.its.repaired == "repaired":
            return "normal"
        at_terminals = self.fault == "lead to the motor broken" and self.asked.count("winding_ohms.ab") > 1
        if self.fault == "charge low" and id_ == "refrigerant_added":
            return "forty pounds"
        if self.fault == "charge low" and "refrigerant_added" in self.asked and id_ in ("sight_glass", "receiver_level"):
            return {"sight_glass": "full", "receiver_level": "sixty"}[id_]
        if id_ in self.its.says and not at_terminals and not (self.repaired and id_ == "condenser_face"):
            return self.its.says[id_]
        table = {
            "chain_dead_check": CONTACT_WORDS.get(self.its.contact, "none"), "drive_fault": "no", "dead_volts.drive": "zero",
            "winding_ohms.ab": "four point one", "winding_ohms.bc": "four point one", "winding_ohms.ca": "four point two",
            "shell_pressure": "thirty pounds", "protector_string_ohms": "two eighty", "ground_megohms": "two hundred",
            "starts_last_hour": "two", "overload_state": "closed", "line_volts.ab": "four eighty",
            "line_volts.bc": "four seventy eight", "line_volts.ca": "four seventy six", "line_amps.a": "twenty three",
            "line_amps.b": "twenty three point five", "line_amps.c": "twenty four", "suction_temperature": "twelve",
            "rotation": "right", "running_now": "running" if self.running else "off", "control_fuse": "good",
            "starter_coil_ohms": "one twenty", "control_volts": "two oh eight", "contactor_coil_volts": "two oh eight",
            "chain_point.supply": "two oh eight", "chain_point.oil_pressure": "two oh eight",
            "chain_point.high_pressure": "two oh eight", "chain_point.low_pressure": "two oh eight",
            "chain_point.motor_protection": "two oh eight", "chain_point.discharge_temperature": "two oh eight",
            "oil_level": "normal", "crankcase_temperature": "ninety", "oil_supply": "feeding", "oil_added": "two quarts",
            "reservoir_pressure": "twenty six", "oil_pump_pressure": "fifty five", "crankcase_pressure": "twelve",
            "cutout_pressure": "three fifty" if self.its.contact == "high pressure" else "six pounds",
            "condenser_fans_called": "all of them", "heat_reclaim": "off", "condenser_fans_running": "six",
            "condenser_face": "clean", "ambient_temperature": "ninety five", "liquid_out_temperature": "ninety five",
            "receiver_level": "sixty", "fan_rotation": "right", "control_reset": "holds", "discharge_pressure": "two fifteen",
            "suction_pressure": "twelve", "suction_filter_drop": "one pound", "case_load": "normal",
            "control_trip_pressure": "three fifty", "mechanical_state": "free", "idle_condenser_pressure": "one sixty five",
        }  # fmt: skip
        return table[id_] if id_ in table else super()._say(id_)
