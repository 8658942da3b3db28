"""A technician at a rack with one fault, who answers what is asked from the state of the machine.

The rack and its figures are invented. What a fault does to a reading is common practice.
"""

import json
import re
import subprocess
import sys
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

R25_OHM, BETA_K = 100_000, 4000
PIPE_DEGF = 75


def curve_ohm(degf: float) -> int:
    """The probe's ohms: beta equation, IEC 60539-1."""
    from math import exp

    kelvin = (degf - 32) / 1.8 + 273.15
    return round(R25_OHM * exp(BETA_K * (1 / kelvin - 1 / 298.15)))


NEVER_FEEDS = frozenset({"module_no_output", "module_no_supply", "module_output_fuse", "injection_wiring_open",
                         "injection_coil_failed", "injection_coil_shorted", "injection_valve_stuck_closed"})  # fmt: skip
"""Faults with which the injection stays dry, running too, until they are mended."""


@dataclass
class Rack:
    """The machine as it stands, with its fault."""

    fault: str
    words: dict[str, str] = field(default_factory=dict)
    """Answers that a test gives instead, by id."""
    locked: bool = False
    powered: bool = True
    stimulus: bool = False
    valve_shut: bool = False
    running: bool = False
    cleaned: bool = False
    charged: bool = False
    repaired: bool = False
    asked: list[str] = field(default_factory=list)

    def answer(self, ask: dict[str, Any]) -> str:
        """The words for one question."""
        self.asked.append(ask["asking"])
        id_ = ask["asking"]
        if id_ == "confirm":
            return self._confirm(ask)
        if id_ == "command":
            return self._command(ask)
        if id_ in self.words:
            return self.words[id_]
        if id_ == "panel_tag" and (elsewhere := re.search(r"This one is ([\w ]+)\. Find it", ask.get("said", ""))):
            return elsewhere[1]
        self._act(id_)
        also = [self._say(i) for i in ask.get("also", [])]
        return " ".join([self._say(id_), *also])

    def _confirm(self, ask: dict[str, Any]) -> str:
        """Yes when what is asked back is what was meant."""
        from assistant.language.grammar import understand
        from assistant.language.meaning import Answer, Question

        if ask["of"] in ("site", "rack", "compressor", "panel_tag", "skip", "back", "finish"):
            return "yes"
        if ask["of"] == "said so":
            return "no"  # on this rack nothing is wrong that he did not say himself
        meant = understand(Question(ask["of"]), self._say(ask["of"]))
        same = isinstance(meant, Answer) and meant.parts[0].value == ask["value"]
        return "yes" if same else "no"

    def _command(self, ask: dict[str, Any]) -> str:
        step = ask["step"]
        if step == "shut_hand_valve":
            self.valve_shut = True
        if step == "open_hand_valve":
            self.valve_shut = False
        if step == "start":
            self.running = True
        if step == "repaired":
            self.repaired = True
            return self.words.get("repaired", "repaired")
        if step == "one_reset_discharge":
            return self.words.get(step, "closed")
        if step in ("set_point_left", "loading_left"):
            return self.words.get(step, "no")
        return str(ask["choices"][0])

    def _act(self, id_: str) -> None:
        if id_ == "locked_out":
            self.locked, self.powered = True, False
        if id_ == "lock_removed":
            self.locked, self.powered = False, True
        if id_ == "control_power_on":
            self.powered = True
        if id_ == "control_power_off":
            self.powered = False
        if id_ == "jumper_fitted":
            self.stimulus = True
        if id_ == "jumper_removed":
            self.stimulus = False
        if id_ == "probe_cleaned":
            self.cleaned = True
        if id_ == "refrigerant_added":
            self.charged = self.fault == "refrigerant_low" and "leak_found" in self.asked

    def _output(self) -> bool:
        """The module drives its output."""
        dead = {"module_no_output", "module_no_supply", "module_output_fuse"}
        return self.powered and self.stimulus and self.fault not in dead

    def _coil_volts(self) -> bool:
        return self._output() and self.fault != "injection_wiring_open"

    def _click(self) -> bool:
        no = {"injection_coil_failed", "injection_coil_shorted", "injection_valve_stuck_closed", "injection_coil_loose"}
        return self._coil_volts() and self.fault not in no

    def _feed(self) -> str:
        if self.running and (self.repaired or self.fault not in NEVER_FEEDS):
            return "feeding"
        if not self._click() or self.valve_shut or self.fault in ("injection_hand_valve_closed", "injection_strainer_plugged"):
            return "dry"
        return "weak" if self.fault in ("refrigerant_low", "drier_plugged") and not self.charged else "feeding"

    def _say(self, id_: str) -> str:
        if id_ in self.words:
            return self.words[id_]
        fault, low = self.fault, self.fault == "refrigerant_low" and not self.charged
        several = fault in ("refrigerant_low", "drier_plugged")
        table: dict[str, str] = {
            "site": "north store", "rack": "a", "compressor": "two", "fit_to_start": "all good", "detector_state": "quiet",
            "ventilation_running": "yes", "protection_shown": "nothing", "tripped_count": "three" if several else "one",
            "alarm_minutes_ago": "two hours", "trip_spread": "hours", "first_to_trip": "two", "product_state": "holding",
            "product_temperature": "minus five", "load_shed": "some", "store_told": "done",
            "controller_calls": "no" if fault == "not_called" else "yes", "switch_position": "auto",
            "controller_mode": "auto", "running_now": "off", "running_count": "one" if several else "three",
            "rack_suction_pressure": "twelve", "rack_discharge_pressure": "two ten",
            "sight_glass": "bubbles" if several and not self.charged else "full",
            "receiver_level": "five" if low else "sixty", "defrost_state": "none",
            "drier_temperature_drop": "eight" if fault == "drier_plugged" else "one",
            "reset_device": "intact", "reset_history": "none",
            "head_fan_running": "yes", "injection_hand_valve": "closed" if fault == "injection_hand_valve_closed" else "open",
            "coil_seated": "loose" if fault == "injection_coil_loose" else "seated",
            "probe_condition": {"probe_fouled": "fouled", "probe_loose": "loose"}.get(fault, "clean"),
            "phase_monitor_state": "normal", "live_or_dead": "dead", "panel_tag": "a two",
            "locked_out": "locked", "meter_proved_before": "good", "meter_proved_after": "good",
            "dead_volts.power": "two oh eight" if self.powered else "zero", "dead_volts.control": "point two",
            "chain_dead_check": "discharge", "probe_pipe_temperature": "seventy five",
            "probe_ohms.module_end": self._probe("end"), "probe_ohms": self._probe("at"),
            "probe_ohms.cleaned": self._probe("cleaned"), "probe_cleaned": "yes",
            "injection_coil_ohms": {"injection_coil_failed": "open line", "injection_coil_shorted": "thirty"}.get(
                fault, "four ten"
            ),
            "module_output_fuse": "blown" if fault == "module_output_fuse" else "good",
            "start_prevented": "done", "jumper_fitted": "done", "leads_clipped": "done", "clothing_meets_label": "done",
            "ladder_kind": "fiberglass", "control_power_on": "power on", "injection_feed": self._feed(),
            "injection_coil_volts": "two oh eight" if self._coil_volts() else "no volts",
            "valve_click": "click" if self._click() else "silent", "control_power_off": "power off",
            "module_supply_volts": "no volts" if fault == "module_no_supply" else "two oh eight",
            "module_enabled": "run signal", "module_output_volts": "two oh eight" if self._output() else "no volts",
            "module_feed_volts": "two oh eight", "jumper_removed": "done",
            "injection_after": "feeding" if fault == "injection_valve_leaking" else "stopped",
            "injection_outlet_temperature": "twenty", "ambient_temperature": "ninety five",
            "strainer_temperature_drop": "nine" if fault == "injection_strainer_plugged" else "one",
            "liquid_pressure": "two hundred", "liquid_temperature": "ninety", "leak_found": "yes",
            "leak_place": "at the drier", "leak_repaired": "yes", "refrigerant_label": "r twenty two",
            "cylinder_checked": "done", "refrigerant_added": "forty pounds" if several else "none",
            "crankcase_heater": "on", "oil_level": "normal", "crankcase_temperature": "ninety",
            "service_valves_open": "done", "covers_on": "done", "others_clear": "done", "lock_removed": "done",
            "watch.suction_pressure": "ten", "watch.discharge_temperature": "two ten",
            "watch.discharge_pressure": "two hundred", "watch.amps": "twenty three", "capacity_control": "full",
            "part_left_in_use": "none", "follow_up_owner": "supervisor", "follow_up_in_hours": "twenty four",
            "close_consent": "close it", "technician": "sam", "supervisor_agreed": "yes", "lock_still_on": "yes",
            "everybody_safe": "yes", "room_safe": "yes", "other_lock_gone": "done", "second_source": "the other transformer",
            "second_source_locked": "done", "crankcase_and_heads": "warm", "machine_isolated": "done", "fans_locked": "done",
            "others_discharge_temperature": "two oh five", "head_pattern": "even", "controller_refrigerant": "r twenty two",
            "pump_down_low": "zero", "pump_down_rise": "one pound", "probe_response": "quick",
            "injection_coil_ohms.like": "four ten", "injection_as_found": "dry", "addition_reason": "leak",
            "days_since_last_addition": "two hundred", "subcooler_state": "none",
            "oil_color": "clear", "glass_moisture": "dry", "part_to_order": "one of the same", "product_lost": "forty pounds",
            "defrost_disabled": "no",
            "liquid_out_temperature": "ninety",
            "drive_hertz": "sixty", "condenser_fans_called": "all of them", "condenser_fans_running": "six",
            "condenser_face": "clean", "heat_reclaim": "off", "section_emptied": "done", "isolated_pressure": "zero",
            "refrigerant_recovered": "four pounds",
        }  # fmt: skip
        return table[id_]

    def _probe(self, where: str) -> str:
        good = curve_ohm(PIPE_DEGF)
        if self.fault == "probe_failed":
            return "open line"
        if self.fault == "probe_wiring_faulty" and where == "end":
            return "open line"
        off = self.fault == "probe_fouled" and not (self.cleaned and where == "cleaned")
        from assistant.language.numbers import spoken_number

        return spoken_number(float(round(good * (0.55 if off else 1), -2)), "ohms")


def drive(rack: Rack, calls: Path, extra: tuple[str, ...] = ()) -> list[dict[str, Any]]:
    """A whole call over the pipe. Returns every message."""
    command = [sys.executable, "-m", "assistant.cli", "pipe", "--calls", str(calls), "--clock", "simulated",
               "--start", "2026-03-01T22:10:00-05:00", *extra]  # fmt: skip
    messages: list[dict[str, Any]] = []
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        assert process.stdin is not None
        for line in process.stdout:
            message = json.loads(line)
            messages.append(message)
            if message["type"] == "ask":
                if len(rack.asked) > 250:
                    process.kill()
                    break
                process.stdin.write(json.dumps({"say": rack.answer(message)}) + "\n")
                process.stdin.flush()
    return messages


if __name__ == "__main__":
    import tempfile

    verbose = "-v" in sys.argv
    for name in [a for a in sys.argv[1:] if a != "-v"]:
        rack = Rack(name)
        got = drive(rack, Path(tempfile.mkdtemp()))
        if verbose:
            for m in got:
                print(m)
        ends = [m for m in got if m["type"] == "end"]
        causes = {
            m["cause"]: m["standing"] for m in got if m["type"] == "conclusion" and m["standing"] in ("proven", "supported")
        }
        print(name, len(rack.asked), "asked", ends[0]["state"] if ends else "NO END", causes)
