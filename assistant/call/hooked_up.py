"""What opens, what clears it, what may not be done while it is open."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Obligation:
    """A thing left unsafe or temporary until somebody deals with it."""

    id: str
    say: str
    """As it is spoken after "Still hooked up:" or "Left for later:"."""
    blocks_start: bool
    hand_over: str
    """`never`; `locked` only with the machine locked and tagged out; `owner` by name and date."""
    within_hours: float = 0
    """For `owner`: the latest hour it may be taken over for; 0 for any."""


_TABLE = (
    Obligation("jumper_fitted", "jumper", True, "never"),
    Obligation("leads_on", "meter leads", True, "never"),
    Obligation("wire_lifted", "lifted wire", True, "never"),
    Obligation("start_blocked", "start block", True, "never"),
    Obligation("terminal_cover", "terminal cover off", True, "never"),
    Obligation("panel_cover", "panel cover off", True, "locked"),
    Obligation("clamp_left_on", "clamp", False, "never"),
    Obligation("hose_on", "hose", False, "never"),
    Obligation("liquid_section_closed", "liquid shut in", True, "never"),
    Obligation("valve_closed.discharge", "discharge valve closed", True, "locked"),
    Obligation("valve_closed.suction", "suction valve not fully open", True, "locked"),
    Obligation("valve_closed.injection", "injection hand valve closed", True, "locked"),
    Obligation("liquid_in_compressor", "liquid in the machine", True, "locked"),
    Obligation("locked_out", "your lock", True, "locked"),
    Obligation("switch_in_hand", "switch in hand", False, "owner", 24),
    Obligation("defrost_disabled", "defrost off", False, "owner", 24),
    Obligation("set_point_changed", "set point changed", False, "owner", 24),
    Obligation("capacity_forced", "loading forced", False, "owner", 24),
    Obligation("part_borrowed", "borrowed or temporary part", False, "owner"),
    Obligation("reset_substitute", "substitute reset", False, "owner"),
    Obligation("no_cause_reset", "left running, not settled", False, "owner", 48),
    Obligation("leak_open", "leak not repaired", False, "owner"),
)
OBLIGATIONS = {o.id: o for o in _TABLE}
"""In the order of danger, which is the order of clearing."""
