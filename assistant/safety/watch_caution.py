"""Watches the cautions: rule S36, and for their acknowledgement S39."""

from assistant.safety import words
from assistant.safety.tables import (
    ALONE,
    AT_THE_MACHINE,
    CARBON_DIOXIDE,
    CAUTIONS,
    FLAMMABLE,
    HANDS_IN,
    LIVE,
    ON_THE_ROOF,
    PROOF_IDS,
    REPAIR_CAUTIONS,
    SAME_SENTENCE_S,
)  # fmt: skip
from assistant.safety.turn import Line, Turn
from assistant.safety.watch_gas import gas_behind_the_probe, to_mend

_BY_ACT = {
    "jumper_in": ("jumper",), "valve_close": ("valves",), "valve_open": ("valves",), "hose_on": ("liquid_and_cold",),
    "hose_off": ("liquid_and_cold",), "charge": ("charging", "liquid_and_cold"), "touch_coil": ("coil",), "coil_off": ("coil",),
    "insulation": ("insulation_test",), "terminal_open": ("terminals",), "terminal_close": ("terminals",),
    "touch_probe": ("hot_line",), "take_probe_out": ("hot_line",), "leak_repair": ("liquid_and_cold", "brazing"),
    "pump_down": ("valves",), "climb": ("ladder",), "lock": ("lock_out",), "pressure_test": ("pressure_test",),
}  # fmt: skip
_BY_ID = {
    "fit_to_start": ("room",), "panel_tag": ("lock_out",), "locked_out": ("lock_out",),
    "second_source_locked": ("lock_out",), "jumper_fitted": ("jumper",), "fans_locked": ("fans",),
    "injection_coil_ohms": ("coil",), "ground_megohms": ("insulation_test",), "leak_repaired": ("liquid_and_cold", "brazing"),
    "cylinder_checked": ("charging",), "probe_ohms": ("hot_line",), "probe_cleaned": ("hot_line",),
    "probe_pipe_temperature": ("hot_line",), "start_prevented": ("jumper",),
    **dict.fromkeys(ON_THE_ROOF, ("fans",)),
}  # fmt: skip
_FIRST_AT_IT = frozenset({"reset_device", "injection_hand_valve", "coil_seated", "probe_condition"})
"""Looks at the machine itself, which may start by itself as long as no lock is on."""
_AGAIN = ("answer", "command: continue")
"""Words after which nothing that was said is said again."""


def before_its_step(t: Turn) -> None:
    """S36: each caution is spoken and acknowledged before what it belongs to."""
    w = t.w
    if w.correcting and not t.acts:
        return
    wanted = _wanted(t)
    if (t.unlock or t.lets_run) and "restart" in t.acknowledged:
        t.keeps("S36", set(t.acknowledged) == {"restart"}, f"'{t.step}': the restart caution was acknowledged with others")
    if wanted:
        t.came("S36")
    for caution in sorted(wanted - w.acknowledged):
        t.broke("S36", f"'{t.step}' is asked without the caution '{caution}'")
    if w.liquid_due and not {"control_power_off", "technician"} & t.ids and not (w.window() or w.safe_first or w.others_lock):
        t.broke("S36", f"'{t.step}' is asked and nobody said that liquid stands in the machine")


def _wanted(t: Turn) -> set[str]:
    wanted = {c for act in t.acts for c in _BY_ACT.get(act, ())} | {c for id_ in t.ids for c in _BY_ID.get(id_, ())}
    said_at = t.w.restart_said_at
    just_said = said_at is not None and (t.now - said_at).total_seconds() < SAME_SENTENCE_S
    just_said = just_said or (t.step == t.w.step and not t.w.interrupted)  # the question is said again, that was asked behind it
    if t.unlock or (t.lets_run and not just_said):  # before and after lock off, but not twice within a minute
        wanted |= {"restart"}
    if t.reset:
        wanted |= {"reset"}
    if "start" in t.acts and _supply_worked_on(t):
        wanted |= {"rotation"}
    if "repair" in t.acts and "leak_repair" not in t.acts:
        wanted |= {c for cause in to_mend(t) for c in REPAIR_CAUTIONS.get(cause, ())}
    if t.ids & _FIRST_AT_IT and not t.w.locked:
        wanted |= {"restart"}
    return wanted | _of_the_rack(t)


def _supply_worked_on(t: Turn) -> bool:
    w, rack = t.w, t.rack
    worked = w.value("phase_monitor_state") == "tripped" or "line_fuse_open" in w.told
    return worked and rack is not None and rack.machine_kind in ("scroll", "screw")


def _of_the_rack(t: Turn) -> set[str]:
    """The refrigerant's own caution, and that of a probe in the gas."""
    rack, wanted = t.rack, set()
    at_it = t.hands or t.live or t.power_on or t.ids & (AT_THE_MACHINE | HANDS_IN | LIVE | PROOF_IDS)
    if rack and at_it:
        wanted |= {"flammable"} if rack.refrigerant in FLAMMABLE else set()
        wanted |= {"carbon_dioxide"} if rack.refrigerant in CARBON_DIOXIDE else set()
    touches = t.acts & {"touch_probe", "take_probe_out"} or t.ids & {"probe_ohms", "probe_cleaned"}
    if rack and touches and gas_behind_the_probe(t):
        wanted |= {"probe_in_gas"}
    return wanted


def acknowledged(t: Turn, line: Line) -> None:
    """S36: spoken with its key phrases, in full the first time. S39: no acknowledgement without words."""
    w, name = t.w, str(line["caution"])
    forms = {form for spoken, form in w.spoken if spoken == name}
    if name in CAUTIONS:
        t.keeps("S36", bool(forms), f"the caution '{name}' was acknowledged and its words were not spoken")
        t.keeps("S36", not forms or "full" in forms, f"the caution '{name}' was never spoken in full before it was acknowledged")
    understood = bool(t.heard) and not t.meaning.startswith(("not understood", "no answer"))
    t.keeps("S39", understood, f"the caution '{name}' was acknowledged without words")


def stand_alone(t: Turn) -> None:
    """S36: lock-out, jumper and reset cautions are acknowledged on their own, the live one with its place only."""
    together = set(t.acknowledged)
    if len(together) > 1:
        mixed = together & ALONE or ("live" in together and together - {"live", "live_place"})
        t.keeps("S36", not mixed, f"acknowledged in one go: {', '.join(sorted(together))}")


def same_sentence(t: Turn, line: Line) -> None:
    """S36: the same caution is not said twice within a minute, unless somebody asked for it."""
    text = str(line["text"])
    before = t.w.said_at.get(text)
    anew = {name for name, _ in words.cautions_in(text)} - t.w.acknowledged  # to be acknowledged once more
    anew |= t.w.waited_for | ({"liquid_in_machine"} if t.w.liquid_due else set())
    if line.get("purpose") == "caution" and before and words.cautions_in(text) and not anew:
        soon = (t.now - before).total_seconds() < SAME_SENTENCE_S
        t.keeps("S36", not (soon and t.meaning in _AGAIN), f"said twice within a minute: {text}")


ASKED = (before_its_step,)
RECORDED = {"caution_acknowledged": (acknowledged,), "say": (same_sentence,)}
ENDED = (stand_alone,)
