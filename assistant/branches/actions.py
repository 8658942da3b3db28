"""What to do about a cause, in the trade's words."""

from assistant.trade.case import Standing

ACTIONS: dict[str, tuple[str, str]] = {
    "probe_fouled": (
        "It reads right, now that it is clean: see that it sits tight.",
        "Clean the sensor and read it again.",
    ),
    "probe_failed": (
        "Replace the discharge sensor with the maker's.",
        "Read the sensor at the sensor itself.",
    ),
    "probe_loose": ("Put the sensor back in its well and secure it.", "Look at how the sensor sits."),
    "probe_wiring_faulty": (
        "Repair the sensor's lead or connector.",
        "Read the sensor at the sensor itself.",
    ),
    "injection_coil_failed": (
        "Replace the injection coil, same volts; find out why it went.",
        "Read the coil dead, one wire lifted, against a good one.",
    ),
    "injection_coil_loose": (
        "Power off, then seat the coil on its stem.",
        "Look at how the coil sits, power off.",
    ),
    "injection_hand_valve_closed": (
        "Ask why the injection hand valve was closed, then open it and see the feed.",
        "Look at the hand valve.",
    ),
    "injection_valve_stuck_closed": (
        "Leave it off; open or replace the injection valve and see the feed.",
        "Prove coil, volts and a full glass first.",
    ),
    "injection_valve_leaking": (
        "Leave it off. Close the injection hand valve; liquid is in the machine; replace the valve.",
        "Power off, read the line after the valve at five minutes.",
    ),
    "injection_wiring_open": (
        "Find the break between module and coil.",
        "Read the volts at the coil and at the module.",
    ),
    "module_no_supply": (
        "Find the fuse, transformer or wire that feeds the module.",
        "Read the module's supply.",
    ),
    "module_no_output": (
        "Replace the injection module, set as the old one.",
        "Check run signal, timer, fuse and feed before the module.",
    ),
    "module_output_stuck_on": (
        "Leave it off. The module feeds all the time: replace it.",
        "Read the coil on low impedance.",
    ),
    "module_output_fuse": (
        "Find the short first; then replace the output fuse.",
        "Read the coil's ohms before a new fuse goes in.",
    ),
    "module_false_trip": (
        "Replace the module's protection; the sensor is good and cool.",
        "One reset only; if it stays open it is the module.",
    ),
    "injection_strainer_plugged": ("Clean or replace the injection strainer.", "Open the strainer and look."),
    "liquid_feed_restricted": (
        "Tell them apart: drop across the strainer, hand valve, drier.",
        "Look at strainer, hand valve and drier.",
    ),
    "injection_wrong_size": (
        "Check orifice and setting of the injection valve against this refrigerant.",
        "Check the injection valve's size.",
    ),
    "head_fan_failed": ("Repair the head fan before it runs again.", "Look at the head fan while it runs."),
    "refrigerant_low": (
        "Leak search before any charge; then weigh it in.",
        "Read receiver and drier before any charge.",
    ),
    "drier_plugged": (
        "Change the drier cores; the charge is not the fault.",
        "Read the drier's drop again at load.",
    ),
    "liquid_valve_closed": (
        "Ask why, then open the liquid valve fully.",
        "Look for a full glass before the valve.",
    ),
    "liquid_line_hot": (
        "Find what warms the liquid line: insulation, sun, reclaim.",
        "Read receiver and drier as well.",
    ),
    "wrong_refrigerant": (
        "Stop charging. Find out what is in the rack.",
        "Read the label and the standing pressure.",
    ),
    "seal_leak_retrofit": ("Replace the shrunk gasket or seal, and its sisters.", "Find where it leaks."),
    "return_gas_hot": (
        "Find where the return gas gets warm: one circuit, insulation, a starved valve.",
        "Read suction pressure and temperature with it running.",
    ),
    "head_high": (
        "Work on the head: face, fans, then air in the system.",
        "Read the head with every fan called.",
    ),
    "suction_low": ("Find why suction is low: load, ice, filter, charge.", "Read the rack's suction."),
    "discharge_valves_leaking": (
        "Leave it off and open it: valves or gasket.",
        "Do the holding test, twice, where the machine allows it.",
    ),
    "controller_wrong_refrigerant": (
        "Set the controller's chart to this refrigerant, with the store's agreement.",
        "Compare controller and gauge.",
    ),
    "after_defrost": ("Watch it through the next defrost.", "Watch it through the next defrost."),
    "capacity_control_stuck": (
        "Repair the unloader or drive: it is held back.",
        "Compare suction and its set point.",
    ),
    "upper_stage_down": ("Go to the other stage first.", "Look at the other stage first."),
    "not_called": ("It has not tripped: it is satisfied or switched off.", "See if it is called for."),
    "controller_fault": (
        "Work on the rack controller: it is not staging.",
        "Compare suction and its set point.",
    ),
    "control_supply_lost": (
        "Find the fuse or transformer of the control power, and what took it out.",
        "Read the control voltage.",
    ),
    "phase_monitor_open": (
        "Find the supply event before the reset: read the three lines.",
        "Look at the phase monitor.",
    ),
    "common_supply_lost": (
        "Find the shared fuse or transformer of the modules.",
        "See whether the other modules have supply.",
    ),
    "starter_coil_failed": ("Replace the starter coil.", "Read the starter coil dead, one wire lifted."),
    "chain_wiring_open": (
        "Mend the wire or terminal there, and walk the string again.",
        "Walk the string again.",
    ),
    "liquid_slugged": (
        "Leave it off. Feed proven off, heater on, oil normal, crankcase warm, then short bumps.",
        "Look at oil and crankcase before any start.",
    ),
    "no_fault_found": (
        "One reset only; set a trend and come back at the hour of the trip.",
        "No cause found, not settled. Come back within two days at the hour of the trip.",
    ),
    "condenser_fouled": ("Clean the condenser, fans locked out.", "Look at the split with every fan called."),
    "condenser_fan_failed": (
        "Repair the fan: motor, blade or its control.",
        "Count the fans that run and those called.",
    ),
    "head_control_fault": (
        "Work on the head control or its sensor, not on the fans.",
        "Compare head and fans called.",
    ),
    "non_condensables": (
        "Plan to take the air out: recover, evacuate, charge.",
        "Read the condenser at rest, whole rack off.",
    ),
    "overcharge": ("Recover the surplus by weight.", "Rule out air in the system first: it looks the same."),
    "condenser_flooded": (
        "Work on the head control valve.",
        "Look whether the winter valve holds liquid back.",
    ),
    "discharge_restricted": (
        "Find the valve, check or separator that drops.",
        "Read both ends of the discharge line.",
    ),
    "pressure_control_faulty": (
        "Set it right on a good gauge and try it. Replace one that will not hold.",
        "Check it on a good gauge, after its reset.",
    ),
    "evaporator_load_low": (
        "Find why the load is gone: ice, doors, defrost, fans.",
        "Compare suction with the cutout.",
    ),
    "suction_restricted": ("Change the suction filter.", "Read the suction filter's drop at load."),
    "evaporator_fan_or_defrost": (
        "Repair the case fans or the defrost before the thaw.",
        "Find why it iced before the thaw.",
    ),
    "liquid_branch_closed": (
        "Find the closed solenoid, valve or regulator of that circuit.",
        "Compare the circuits.",
    ),
    "low_pressure_normal": ("It starts by itself when the suction rises.", "See if it is satisfied."),
    "oil_level_low": ("Find where the oil went before you add any.", "Look at the oil glass."),
    "oil_supply_failed": ("Work on the oil regulator, reservoir or strainer.", "Look at the oil feed."),
    "oil_diluted": (
        "Stop the liquid coming back, then warm the crankcase.",
        "Look for foam; read the crankcase.",
    ),
    "oil_pump_worn": (
        "Leave it off. Work on the oil pump or its pickup.",
        "Level, foam and crankcase first; then the pump.",
    ),
    "oil_control_faulty": ("Replace the oil control.", "Read the net oil pressure as it opens."),
    "oil_separator_stuck": ("Repair the separator's float.", "Feel the separator's return line."),
    "oil_logged": ("Bring the oil back: defrost, then load.", "See whether defrost or load was lost."),
    "oil_wrong": ("Change the oil to the maker's.", "Find out which oil is in it."),
    "oil_overfilled": ("Work on the equalising line or the regulator.", "Look at the other glasses."),
    "supply_unbalanced": (
        "Leave it off: find the connection, or call the utility.",
        "Read the three line volts.",
    ),
    "phase_lost": (
        "Leave it off: find the open fuse, contact or supply.",
        "Read amps, or volts across each fuse.",
    ),
    "contactor_faulty": ("Replace the starter or its contacts.", "Read each pole under load."),
    "winding_failed": (
        "Leave it off and locked: the motor is gone.",
        "Let it cool and read the windings again.",
    ),
    "winding_grounded": (
        "Leave it off and locked: the motor is grounded. Stay clear of its terminals.",
        "Warm it and read it again.",
    ),
    "motor_overloaded": (
        "Find the load: head, suction or mechanical.",
        "Read amps again at set-point suction.",
    ),
    "motor_poorly_cooled": (
        "Bring the return gas down: it does not cool the motor.",
        "Read amps and suction temperature.",
    ),
    "motor_protection_faulty": (
        "Replace the motor protection.",
        "Wait it out, cycle once, read string and windings.",
    ),
    "overload_still_hot": ("Find out why it was hot.", "Let it cool."),
    "short_cycling": ("Find what cycles it: set points or load.", "Count the starts."),
    "phase_reversed": ("Stop. Two lines are changed: lock out and put them right.", "Look at the rotation."),
    "drive_faulted": ("Read the drive's fault first.", "Look at the drive."),
    "compressor_seized": ("Leave it off and locked.", "Read the windings, try the shaft."),
}
"""Cause to (what to do about it, how to prove it)."""
_BEFORE_IT_IS_CONDEMNED = {
    "winding_failed": "Leave it off. Read it at the motor's terminals before it is condemned.",
    "winding_grounded": "Leave it off. Read it again warm before it is condemned.",
    "starter_coil_failed": "Read its volts before it is replaced.",
    "contactor_faulty": "See what jams the starter before it is replaced.",
    "suction_restricted": "Ask who left the suction valve shut.",
    "compressor_seized": "Leave it off. Amps and windings before it is condemned.",
    "phase_lost": "Leave it off: find the open fuse, lead or contact, and what opened it.",
}
"""What is said of a cause that is supported and whose part is not condemned by that."""


def action(cause: str, standing: Standing) -> str:
    """One short spoken sentence for a cause at its standing."""
    do, prove = ACTIONS[cause]
    if standing == "ruled_out":
        return "Not the cause: look further."
    if standing == "supported":
        return _BEFORE_IT_IS_CONDEMNED.get(cause, do)
    return prove if standing == "suspected" else do
