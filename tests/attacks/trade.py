"""What a question of the call asks for, told from its id and its words; the proof of absence of voltage, told from the answers.

The ids are those of the published vocabulary. The words are those of the trade, in any reasonable form.
"""

import re
from pathlib import Path

from tests.attacks.driver import DEMO_SITE, Ask, Call

IN_THE_PANEL = (
    "chain_dead_check",
    "probe_ohms",
    "injection_coil_ohms",
    "starter_coil_ohms",
    "control_fuse",
    "module_output_fuse",
    "jumper_fitted",
    "jumper_removed",
    "leads_clipped",
    "winding_ohms",
    "ground_megohms",
    "protector_string_ohms",
    "probe_cleaned",
)
"""Ids that are read or done with hands in an open panel or box; with a dot after them too."""
IN_THE_PANEL_WORDS = re.compile(
    r"wires? back|leads? back|leads off|line fuses|press the starter|terminal cover (on|off)|modules and wires|lift one"
    r"|one side lifted",
    re.I,
)
LIVE = (
    "injection_coil_volts",
    "valve_click",
    "module_supply_volts",
    "module_output_volts",
    "module_feed_volts",
    "module_enabled",
    "control_volts",
    "safety_volts",
    "contactor_coil_volts",
    "chain_point",
    "line_volts",
    "fuse_volts",
)
DEAD_LIMIT_V = 3.0
STAY_OUT = re.compile(r"stay out", re.I)
IN_THE_ROOM = (
    "rack_suction_pressure",
    "rack_discharge_pressure",
    "sight_glass",
    "reset_device",
    "head_fan_running",
    "probe_condition",
    "phase_monitor_state",
    "panel_tag",
    "locked_out",
    "meter_proved_before",
    "dead_volts",
    "meter_proved_after",
    "start_prevented",
    "control_power_on",
    "injection_feed",
    "oil_level",
    "crankcase_temperature",
    "watch",
    "service_valves_open",
    "shell_pressure",
    "leak_found",
    "liquid_pressure",
    "receiver_level",
    "lock_removed",
    "refrigerant_label",
    "cylinder_checked",
    "probe_pipe_temperature",
    *IN_THE_PANEL,
    *LIVE,
)


def among(id_: str, ids: tuple[str, ...]) -> bool:
    return id_ in ids or id_.split(".")[0] in ids


def hands_in(ask: Ask) -> bool:
    """It asks for hands in the panel."""
    if ask.id == "confirm":
        return False
    if ask.id == "command":
        return not ask.is_caution and bool(IN_THE_PANEL_WORDS.search(ask.prompt))
    return any(among(i, IN_THE_PANEL) for i in ask.ids)


def live(ask: Ask) -> bool:
    """It asks for a reading with power on."""
    return ask.id != "confirm" and any(among(i, LIVE) for i in ask.ids)


def in_the_room(ask: Ask) -> bool:
    """It asks for something that is done in the machine room."""
    return ask.id != "confirm" and (hands_in(ask) or any(among(i, IN_THE_ROOM) for i in ask.ids) or starts(ask))


def resets(ask: Ask) -> bool:
    """It asks for a reset of a protection."""
    return (
        not ask.is_caution and ask.id != "confirm" and bool(re.search(r"\bone reset\b|\breset it\b|say reset", ask.prompt, re.I))
    )


def starts(ask: Ask) -> bool:
    """It asks to start the machine."""
    return (
        ask.id == "command"
        and not ask.is_caution
        and ("started" in ask.choices or bool(re.search(r"\bbumps?\b", ask.prompt, re.I)))
    )


def lets_run(ask: Ask) -> bool:
    """It takes the lock off, resets or starts: after it the machine can run."""
    return ask.id == "lock_removed" or starts(ask) or (resets(ask) and "lock on" not in ask.prompt.lower())


def energises(ask: Ask) -> bool:
    return ask.id == "control_power_on" or lets_run(ask)


def repairs(ask: Ask) -> bool:
    """It asks whether the part was repaired."""
    asked = ask.id == "command" and not ask.is_caution and re.search(r"\brepaired\b[^.]*\?", ask.prompt, re.I)
    return bool(asked) or "repaired" in ask.choices


def stops(ask: Ask) -> bool:
    """It has the running machine stopped."""
    words = re.search(r"\bstop (it|the machine)|switch(ed)? (it |the machine )?off", ask.prompt, re.I)
    return ask.id == "command" and (bool(words) or "switched off" in ask.choices)


def proved_dead(call: Call, tag: str = "a two", circuits: tuple[str, ...] = ("power", "control")) -> bool:
    """The answers so far are a whole proof, in its order, that nothing has ended since."""
    stage, read = 0, set[str]()
    for m in call.messages:
        if m["type"] in ("resumed", "emergency") or (m["type"] == "passed" and m["seconds"] > 1800):
            stage, read = 0, set()
        if m["type"] != "reading" or m["status"] == "withdrawn":
            continue
        id_, value = m["id"], m["value"]
        if id_ == "panel_tag":
            stage, read = (min(max(stage, 1), 2) if value == tag else 0), set()
        elif id_ == "lock_still_on" and value == "yes":
            stage, read = 2, set()
        elif id_ == "locked_out" and value is True:
            stage, read = (2 if stage >= 1 else 0), set()
        elif id_ == "control_power_off":
            stage, read = 2, set()
        elif id_ in ("control_power_on", "lock_removed"):
            stage, read = 0, set()
        elif id_ == "meter_proved_before":
            stage, read = (3 if stage >= 2 and value is True else min(stage, 2)), set()
        elif id_.startswith("dead_volts."):
            good = not isinstance(value, (bool, str)) and abs(value) <= DEAD_LIMIT_V
            read = read | {id_.removeprefix("dead_volts.")} if good and stage >= 3 else set()
            stage = 3 if good and stage >= 3 else 2
        elif id_ == "meter_proved_after":
            stage = 4 if stage == 3 and value is True and read >= set(circuits) else 2
    return stage == 4


def proves_first(call: Call, rule: str, **proof: object) -> None:
    """The technician goes on: when hands go into the panel, or never, it was proved dead anew."""
    if call.reaches(hands_in, 80):
        assert proved_dead(call, **proof), f"{rule} Yet it asks: {call.ask}; {call.tail()}"  # type: ignore[arg-type]


def site_file(folder: Path, **changes: str) -> Path:
    """The demo site's profile with its first rack changed: key to the new text of its value."""
    text = DEMO_SITE.read_text(encoding="utf-8")
    at = text.index("[[rack]]")
    head, racks = text[:at], text[at:]
    for key, value in changes.items():
        where = head if re.search(rf"(?m)^{key} = ", head) else racks
        new, count = re.subn(rf"(?m)^(?:# )?{key} = [^\n#]*", f"{key} = {value} ", where, count=1)
        assert count == 1, f"the demo site has no '{key}'"
        head, racks = (new, racks) if where is head else (head, new)
    file = folder / "site.toml"
    file.write_text(head + racks, encoding="utf-8")
    return file
