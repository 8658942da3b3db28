"""When a cause on the high side holds. Rules: section 9, "Head"."""

from collections.abc import Callable

from assistant.trade.case import Case, Verdict


def _split_high(case: Case) -> bool:
    return case.over("condensing_difference", case.site.limits.condensing_limit_delta_degf)


def _fans(case: Case) -> tuple[float | None, float | None]:
    return case.number("condenser_fans_running"), case.number("condenser_fans_called")


def condenser_fouled(case: Case) -> Verdict | None:
    """Face fouled or blocked and the split high."""
    if case.says("condenser_face", "clean"):
        return "ruled_out", ("condenser_face",)
    if not case.says("condenser_face", "fouled", "blocked"):
        return None
    if not _split_high(case):
        return "suspected", case.known("condenser_face", "condensing_difference")
    # With fans cycled, reclaim on, or the head held at its minimum, a wide split is normal.
    return ("proven" if head_is_judged(case) else "supported"), case.known(
        "condenser_face", "condensing_difference", "condenser_fans_called", "every_fan_called", "heat_reclaim",
        "rack_discharge_pressure", "head_set_point",
    )  # fmt: skip


def condenser_fan_failed(case: Case) -> Verdict | None:
    """Fewer fans run than are called."""
    running, called = _fans(case)
    if running is None or called is None:
        return None
    return ("proven" if running < called else "ruled_out"), (
        "condenser_fans_running",
        "condenser_fans_called",
    )


def head_control_fault(case: Case) -> Verdict | None:
    """Fewer fans called than fitted with the head well over its set point; those that are called, run."""
    (running, called), fitted = _fans(case), case.site.condenser_fans
    head, wanted = case.number("rack_discharge_pressure"), head_minimum(case)
    if running is None or called is None or fitted is None or head is None or wanted is None or running < called:
        return None
    asks = head >= wanted + case.site.limits.head_over_minimum_delta_psi
    evidence = case.known("condenser_fans_called", "condenser_fans_running", "rack_discharge_pressure", "head_set_point")
    return ("proven", evidence) if asks and called < fitted else None


def non_condensables(case: Case) -> Verdict | None:
    """A condenser at rest warmer by its pressure than the air, with the whole rack off."""
    excess = case.derived.get("standing_excess")
    if excess is None:
        return _apparent_subcooling(case)
    evidence = case.known("standing_excess", "idle_test_valid")
    if excess > case.site.limits.noncondensables_delta_degf:
        return ("proven" if case.has("idle_test_valid") else "suspected"), evidence
    return ("ruled_out", evidence) if case.has("idle_test_valid") else None


def _apparent_subcooling(case: Case) -> Verdict | None:
    """Subcooling and split high with face and fans good: air as likely as too much refrigerant, until the rack stands."""
    running, called = _fans(case)
    fans = running is not None and called is not None and running >= called
    subcooled = case.over("condenser_subcooling", case.site.limits.subcooling_high_delta_degf)
    if subcooled and _split_high(case) and case.says("condenser_face", "clean") and fans:
        return "suspected", case.known("condenser_subcooling", "condensing_difference", "condenser_face")
    return None


def overcharge(case: Case) -> Verdict | None:
    """Subcooling and split high, face clean, fans running, receiver full. Air looks the same."""
    running, called = _fans(case)
    fans = running is not None and called is not None and running >= called
    subcooled = case.over("condenser_subcooling", case.site.limits.subcooling_high_delta_degf)
    if not (subcooled and _split_high(case) and case.says("condenser_face", "clean") and fans):
        return None
    evidence = case.known(
        "condenser_subcooling", "condensing_difference", "condenser_face", "condenser_fans_running",
        "condenser_fans_called", "receiver_level", "standing_excess", "idle_test_valid",
    )  # fmt: skip
    air, full = non_condensables(case), case.at_least("receiver_level", case.site.limits.receiver_full_percent)
    clean = air is not None and air[0] == "ruled_out"
    return ("proven" if full and clean else "supported" if full else "suspected"), evidence


def condenser_flooded(case: Case) -> Verdict | None:
    """The winter valve holds liquid in the condenser."""
    if not case.over("condenser_subcooling", case.site.limits.subcooling_high_delta_degf):
        return None
    evidence = case.known("condenser_subcooling", "winter_valve_holding", "ambient_temperature")
    if case.has("winter_valve_holding"):
        return "proven", evidence
    return ("suspected", evidence) if case.under("ambient_temperature", case.site.limits.warm_air_degf) else None


def discharge_restricted(case: Case) -> Verdict | None:
    """A drop between compressor and condenser."""
    if case.has("discharge_drop_found"):
        return "proven", ("discharge_drop_found",)
    if drops_before_the_header(case):
        return "supported", ("discharge_pressure", "rack_discharge_pressure")
    return None


def head_is_judged(case: Case) -> bool:
    """Whether the split over the air may be judged: every fan called, head over its minimum, reclaim off."""
    called, fitted = case.number("condenser_fans_called"), case.site.condenser_fans
    every_fan = case.has("every_fan_called") or (fitted is not None and called is not None and called >= fitted)
    head, minimum = case.number("rack_discharge_pressure"), head_minimum(case)
    above = head is not None and minimum is not None and head >= minimum + case.site.limits.head_over_minimum_delta_psi
    return every_fan and above and case.says("heat_reclaim", "off", "none")


def drops_before_the_header(case: Case) -> bool:
    """The running machine's discharge is well over the header: something between them, and no fault of the head."""
    one_round = case.together("discharge_pressure", "rack_discharge_pressure")
    header = case.number("rack_discharge_pressure") if case.runs() and one_round else None
    return header is not None and case.over("discharge_pressure", header + case.site.limits.discharge_restricted_delta_psi)


def head_high(case: Case) -> Verdict | None:
    """The split over the air is over its limit, judged only where it can be."""
    split = case.derived.get("condensing_difference")
    if split is None:
        return None
    evidence = case.known(
        "condensing_difference", "condenser_fans_called", "every_fan_called", "heat_reclaim",
        "rack_discharge_pressure", "head_set_point",
    )  # fmt: skip
    over = split > case.site.limits.condensing_limit_delta_degf
    if head_is_judged(case):
        return ("proven" if over else "ruled_out"), evidence
    return None


def head_minimum(case: Case) -> float | None:
    """The head control's minimum [psig]: the profile's, else as read at the controller."""
    site = case.site.head_minimum_psig
    return case.number("head_set_point") if site is None else site


RULES: dict[str, Callable[[Case], Verdict | None]] = {
    rule.__name__: rule
    for rule in (
        condenser_fouled,
        condenser_fan_failed,
        head_control_fault,
        non_condensables,
        overcharge,
        condenser_flooded,
        discharge_restricted,
        head_high,
    )
}
