"""When a cause on the low side holds. Rules: section 9, "Low side"."""

from collections.abc import Callable

from assistant.trade.case import Case, Verdict


def _below_cutout(case: Case) -> bool:
    suction, cutout = case.number("rack_suction_pressure"), case.number("cutout_pressure")
    if cutout is None or (case.has("contact_open:high_pressure") and not case.has("contact_open:low_pressure")):
        cutout = case.site.low_cutout_psig
    return suction is not None and cutout is not None and suction < cutout


def _its_contact_open(case: Case) -> bool:
    return case.has("contact_open:low_pressure") or case.says("chain_dead_check", "low pressure")


def evaporator_load_low(case: Case) -> Verdict | None:
    """Cases iced or off with suction under the cutout."""
    if case.says("case_load", "normal"):
        return "ruled_out", ("case_load",)
    if not case.says("case_load", "iced", "off"):
        return None
    evidence = case.known("case_load", "rack_suction_pressure", "cutout_pressure")
    return ("proven" if _below_cutout(case) else "suspected"), evidence


def suction_restricted(case: Case) -> Verdict | None:
    """Drop of the suction filter over its limit; the machine's own suction valve found shut behind a low-pressure trip."""
    drop = case.number("suction_filter_drop")
    if case.has("suction_valve_found_shut") and _its_contact_open(case):
        known = ("suction_valve_found_shut", *case.known("chain_dead_check", "contact_open:low_pressure"))
        return ("supported", (*known, "settled")) if case.has("settled") else ("suspected", known)  # opened, it runs as it should
    if drop is None:
        return None
    if drop > case.site.limits.suction_filter_limit_delta_psi:
        return "proven", ("suction_filter_drop",)
    return ("ruled_out", ("suction_filter_drop", "at_load")) if case.has("at_load") else None


def evaporator_fan_or_defrost(case: Case) -> Verdict | None:
    """Iced, with the defrost stuck or the fans stopped."""
    if not case.says("case_load", "iced"):
        return None
    if case.says("defrost_state", "stuck") or case.has("case_fans_stopped"):
        return "proven", case.known("case_load", "defrost_state", "case_fans_stopped")
    return "suspected", ("case_load",)


def liquid_branch_closed(case: Case) -> Verdict | None:
    """One circuit without feed, the others normal."""
    return ("proven", ("one_circuit_dry",)) if case.has("one_circuit_dry") else None


def low_pressure_normal(case: Case) -> Verdict | None:
    """The contact is open because the rack is satisfied and suction is under its setting."""
    if not (_its_contact_open(case) and _below_cutout(case) and (case.says("controller_calls", "no") or _satisfied(case))):
        return None
    return "proven", case.known(
        "contact_open:low_pressure", "chain_dead_check", "rack_suction_pressure", "cutout_pressure",
        "controller_calls", "case_load", "sight_glass", "circuits_fed",
    )  # fmt: skip


def _satisfied(case: Case) -> bool:
    """Called by its staging, but nothing asks for it: suction at or under its set point, cases normal, circuits fed."""
    suction, wanted = case.number("rack_suction_pressure"), case.site.suction_set_point_psig
    at = suction is not None and wanted is not None and suction <= wanted
    return at and case.says("case_load", "normal") and case.says("sight_glass", "full") and case.has("circuits_fed")


def suction_low(case: Case) -> Verdict | None:
    """The suction's dew point is under the design. Where the low-pressure control is open its own causes are looked for, and
    bubbles in the glass say why it is low."""
    under = case.derived.get("suction_under_design")
    if under is None or case.has("contact_open:low_pressure"):
        return None
    if not case.has("contact_open:discharge_temperature"):
        return None  # before it is known what tripped, a low suction may be nothing else than a rack that is satisfied
    if case.has("two_contacts_open") and len(case.contacts) < 2:
        return None
    evidence = case.known("suction_under_design", "sight_glass", "defrost_state", "running_count")
    if under <= case.site.limits.suction_low_delta_degf:
        return "ruled_out", evidence
    loaded = case.runs() or (case.number("running_count") or 0.0) > 0.0  # with all off the header says nothing
    if not loaded or case.says("controller_calls", "no"):
        return None
    return ("proven" if case.says("sight_glass", "full") else "supported"), evidence


def suction_asks(case: Case, id_: str = "rack_suction_pressure") -> bool:
    """Whether the suction is over its set point (the profile's, else the controller's)."""
    suction, wanted = case.number(id_), case.site.suction_set_point_psig
    wanted = case.number("suction_set_point") if wanted is None else wanted
    return suction is not None and wanted is not None and suction > wanted + case.site.limits.suction_band_delta_psi


RULES: dict[str, Callable[[Case], Verdict | None]] = {
    rule.__name__: rule
    for rule in (
        evaporator_load_low,
        suction_restricted,
        evaporator_fan_or_defrost,
        liquid_branch_closed,
        low_pressure_normal,
        suction_low,
    )
}
