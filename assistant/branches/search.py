"""How far the search for the cause has come: what counts as found, which contacts are followed, what is mended."""

from assistant.branches.head.causes import RULES as HEAD
from assistant.branches.injection.causes import RULES as INJECTION
from assistant.branches.liquid.causes import RULES as LIQUID
from assistant.branches.motor.causes import RULES as MOTOR
from assistant.branches.oil.causes import RULES as OIL
from assistant.branches.suction.causes import RULES as SUCTION
from assistant.trade.case import Case

CONTACT_IDS = {"oil": "oil_pressure", "high pressure": "high_pressure", "low pressure": "low_pressure",
               "motor": "motor_protection", "discharge": "discharge_temperature"}  # fmt: skip
"""A contact's name on the panel to its name in the ids of the vocabulary."""
SHARED = frozenset({
    "refrigerant_low", "drier_plugged", "liquid_valve_closed", "liquid_line_hot", "liquid_feed_restricted",
    "common_supply_lost", "return_gas_hot", "head_high", "suction_low",
})  # fmt: skip
"""Causes that several machines of a rack have in common."""
FRONT = frozenset({"not_called", "controller_fault"})
"""Causes behind which there is nothing to look for at the machine: it did not trip."""
LEAD_ONLY = frozenset({"head_fan_failed", "liquid_slugged", "after_defrost", "oil_level_low", "overload_still_hot"})
"""Causes that do not by themselves explain the trip: the search goes on."""
SEARCH_ON = frozenset({"phase_monitor_open", "head_high", "suction_low", "short_cycling"})
"""Causes that count, but have one behind them: the rest of their branch is still asked."""


ALL = frozenset(CONTACT_IDS)
_EXPLAINS: dict[str, frozenset[str]] = {
    **dict.fromkeys(INJECTION, frozenset({"discharge"})),
    **dict.fromkeys(LIQUID, frozenset({"discharge", "low pressure", "high pressure"})),
    **dict.fromkeys(("refrigerant_low", "seal_leak_retrofit", "liquid_line_hot"), frozenset({"discharge", "low pressure"})),
    **dict.fromkeys(HEAD, frozenset({"high pressure", "discharge"})),
    **dict.fromkeys(SUCTION, frozenset({"low pressure", "discharge"})),
    **dict.fromkeys(MOTOR, frozenset({"motor"})),
    **dict.fromkeys(OIL, frozenset({"oil"})),
    "pressure_control_faulty": frozenset({"high pressure", "low pressure"}),
    "return_gas_hot": frozenset({"discharge", "motor"}),
    "upper_stage_down": frozenset({"discharge", "high pressure"}),
    "discharge_valves_leaking": frozenset({"discharge"}),
    "capacity_control_stuck": frozenset({"discharge"}),
    "controller_wrong_refrigerant": frozenset({"discharge"}),
    "common_supply_lost": frozenset({"discharge"}),
}
"""Which protections a cause trips; one that is not named may trip any."""


def explains(cause: str, contact: str) -> bool:
    """Whether this cause trips this protection."""
    return contact in _EXPLAINS.get(cause, ALL)


def standing(case: Case, cause: str) -> bool:
    """Proven or supported."""
    return case.standings.get(cause) in ("proven", "supported")


def proven(case: Case, cause: str) -> bool:
    return case.standings.get(cause) == "proven"


def found(case: Case) -> list[str]:
    """Causes proven or supported, that explain the trip, in the order they were concluded."""
    return [
        cause
        for cause, held in case.standings.items()
        if held in ("proven", "supported")
        and cause not in LEAD_ONLY
        and cause != "no_fault_found"
        # From the module's end it may be the lead: the probe counts as found only when it was read itself.
        and not (cause == "probe_failed" and not {"probe_ohms", "probe_ohms.cleaned"} & set(case.readings))
    ]


def explained(case: Case, contact: str = "") -> bool:
    """A cause was found, behind which no other is looked for, that trips this contact; without one named, every open one."""
    causes = set(found(case)) - SEARCH_ON
    if contact:
        return any(explains(cause, contact) for cause in causes)
    return bool(causes) and all(explained(case, one) for one in open_contacts(case))


def to_mend(case: Case) -> tuple[str, ...]:
    """The causes that are asked about before a restart: those that have none behind them, else all found; low oil and a broken
    head fan explain no trip, and are mended all the same."""
    causes = found(case)
    last = [c for c in causes if c not in SEARCH_ON] or causes
    fan = ["head_fan_failed"] if proven(case, "head_fan_failed") else []
    return (*last, *fan) or (("oil_level_low",) if standing(case, "oil_level_low") else ())


def liquid_explained(case: Case) -> bool:
    """A cause was found for vapour in the liquid."""
    return bool(set(found(case)) & set(LIQUID))


def head_explained(case: Case) -> bool:
    """A cause was found for a head out of line."""
    return bool(set(found(case)) & set(HEAD) - SEARCH_ON)


def several(case: Case) -> bool:
    return (case.number("tripped_count") or 0) >= 2


def in_question(case: Case) -> bool:
    """Nothing at the front, and nothing that several machines share, explains it."""
    causes = found(case)
    return not (any(c in FRONT for c in causes) or (several(case) and any(c in SHARED for c in causes)))


def decided(case: Case, contact: str = "") -> bool:
    """A cause of this machine was found, or one that its rack shares with others that are off; with a contact named, one
    that trips it."""
    return _decide(case, found(case), contact)


def decided_still(case: Case, contact: str) -> bool:
    """The same by causes that are still there: what was repaired explains no line that is hot after it."""
    return _decide(case, [c for c in found(case) if c not in case.mended], contact)


def _decide(case: Case, causes: list[str], contact: str) -> bool:
    own = [c for c in causes if c not in SHARED or several(case)]
    return any(not contact or explains(c, contact) for c in own)


def open_contacts(case: Case) -> list[str]:
    """Contacts whose branch is followed. One that a powered module holds reads open when it is dead: it counts when
    no other is open, when it was read live, or when its own control says that it tripped; not where that says that it did not."""
    contacts = [c for c in case.contacts if c != "oil" or not case.has("oil_control_not_tripped")]
    sure = [c for c in contacts if c not in case.site.held_contacts or _read_live(case, c)]
    return sure or contacts


def _read_live(case: Case, contact: str) -> bool:
    """A held contact that is sure: read with its module powered, or its own control says that it tripped."""
    return f"safety_volts.{CONTACT_IDS[contact]}" in case.readings or (contact == "oil" and case.has("oil_control_tripped"))


def in_branch(case: Case, contact: str) -> bool:
    """Whether this contact's branch is followed."""
    return in_question(case) and contact in open_contacts(case)


def none_open(case: Case) -> bool:
    """Every contact was found closed; a held one that its own control says did not trip counts as closed."""
    return case.says("chain_dead_check", "none") or (bool(case.contacts) and not open_contacts(case))
