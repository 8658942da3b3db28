"""Calls in which what is seldom asked is asked: it takes a site, an answer or a moment that no fault alone brings.

The sites and their figures are invented.
"""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Any

from assistant.call.effects import Listen
from assistant.call.facts import CallOpened
from assistant.profile import Site, load_profile
from tests.branch_rack import BranchRack
from tests.rig.scenes import SCENES
from tests.rig.technician import Rig
from tests.simulated import Rack
from tests.talk import Talk

SITE = load_profile()
HOT = {"watch.discharge_temperature": "two thirty eight", "discharge_temperature": "two thirty eight",
       "others_discharge_temperature": "two oh five"}  # fmt: skip
"""Hot in the watch, and under its trip."""
PROBE = ("probe_ohms.module_end", "probe_ohms", "probe_ohms.cleaned")
LONGEST = 250


def site(contact: str = "", **changed: Any) -> Site:
    """The demo site with another rack A; `contact` is held by a powered module there."""
    rack = replace(SITE.racks[0], **changed)
    if contact:
        contacts = tuple(replace(one, kind="held") if one.name == contact else one for one in rack.panel.contacts)
        rack = replace(rack, panel=replace(rack.panel, contacts=contacts))
    return replace(SITE, racks=(rack, *SITE.racks[1:]))


def rig(cause: str, words: dict[str, str] | None = None) -> Rig:
    """The rack with physics of its own and the first scene of a cause, or of a fault by its name."""
    return Rig("none", words or {}, scenes=(next(s for s in SCENES if cause in (s.cause, s.site)),))


@dataclass(frozen=True)
class Seldom:
    """A call, and what is asked in it."""

    steps: tuple[str, ...]
    rack: Callable[[], Rack]
    site: Site = SITE
    says: dict[str, str] = field(default_factory=dict)
    """What is answered at a step instead."""
    before: dict[str, Callable[[Talk], object]] = field(default_factory=dict)
    """What happens once before a step is answered."""
    opens: str = ""
    """The obligation that opens."""
    cautions: str = ""
    """The caution that is given."""
    opened: CallOpened | None = None


_PANEL, _PROBE, _INJECTION = SITE.racks[0].panel, SITE.racks[0].probe, SITE.racks[0].injection
SELDOM: dict[str, Seldom] = {
    "a phase is lost, and it is looked for live": Seldom(
        ("live_fuses",), lambda: rig("line lost", {"live_or_dead": "live"})
    ),
    "two contacts are open": Seldom(
        ("which_contact_first", "which_contact_second"), lambda: BranchRack("oil low"),
        says={"which_contact": "more than one", "which_contact_first": "contact one", "which_contact_second": "contact two"},
    ),
    "nobody knows what a good coil has": Seldom(
        ("coil_like",), lambda: BranchRack("none at the oil", {"chain_dead_check": "contact five"}),
        site=site(injection=replace(_INJECTION, coil_ohms=None)),
    ),
    "the injection line is out of sight": Seldom(
        ("strap_thermocouple", "clamp_off"), lambda: Rack("injection_valve_stuck_closed"),
        site=site(injection=replace(_INJECTION, line_in_sight=False)), opens="clamp_left_on",
    ),
    "a probe is off while its pipe is hot": Seldom(
        ("probe_after_the_wait", "pipe_after_the_wait"),
        lambda: Rack("probe_failed", {"alarm_minutes_ago": "ten minutes", "probe_pipe_temperature": "one ninety",
                                      **dict.fromkeys(PROBE, "fourteen k")}),
    ),
    "hot on a rack with a drive": Seldom(
        ("why_speed",), lambda: rig("injection_wrong_size", {**HOT, "dead_volts.drive": "zero", "drive_fault": "no"}),
        site=site(panel=replace(_PANEL, drive=True)),
    ),
    "a closed suction is not pulled down": Seldom(
        ("pump_down", "pump_down_again"), lambda: rig("injection_wrong_size", {**HOT, "pump_down_low": "six pounds"}),
    ),
    "a suction valve was found shut before the repair": Seldom(
        ("open_suction_again",), lambda: BranchRack("oil low"), opens="valve_closed.suction",
        before={"repaired": lambda talk: talk.hear("the suction valve is shut")},
    ),
    "a held motor module says nothing without its power": Seldom(
        ("window_motor",), lambda: BranchRack("none at the motor"), site=site("motor"),
    ),
    "the pressure in the shell was read long before the test": Seldom(
        ("shell_now",), lambda: BranchRack("none at the motor"),
        before=dict.fromkeys(("modules_off", "sensor_string"), lambda talk: talk.hear("say again", after_s=1000)),
    ),
    "no feel for the filter until it runs": Seldom(
        ("run_filter",), lambda: BranchRack("none at the low pressure"), says={"low_filter": "skip this"},
    ),
    "liquid comes back and its valve is not found": Seldom(
        ("flooding_valve",), lambda: rig("return_gas_hot", {"suction_temperature": "minus fourteen"}),
        says={"flooding_valve": "not found"}, opens="floodback",
    ),
    "a set point stays changed": Seldom(
        ("levers", "set_point_left"), lambda: rig("return_gas_hot"), says={"set_point_left": "yes"}, opens="set_point_changed",
    ),
    "the loading stays forced": Seldom(
        ("loading_left",), lambda: rig("capacity_control_stuck", HOT), says={"loading_left": "yes"}, opens="capacity_forced",
    ),
    "the probe stands in the gas": Seldom(
        (), lambda: Rack("probe_fouled"), site=site(probe=replace(_PROBE, mount="in_gas")), cautions="probe_in_gas",
    ),
    "charged again on a rack that was charged before": Seldom(
        ("why_added_again",), lambda: Rack("refrigerant_low"),
        opened=CallOpened("paper", "", "test", additions=(("a", 40.0, 30.0),), technician="Robin Vale"),
    ),
}  # fmt: skip


def seldom_call(one: Seldom) -> Talk:
    """The whole call. Raises AssertionError where it does not come to its seal."""
    talk, rack, happened = Talk(one.site, opened=one.opened), one.rack(), set[str]()
    for _ in range(LONGEST):
        if talk.dialogue.state.sealed:
            return talk
        listen = talk.effects[-1]
        assert isinstance(listen, Listen), listen
        if listen.step in one.before and listen.step not in happened and listen.question.asking != "confirm":
            happened.add(listen.step)
            one.before[listen.step](talk)
            continue
        words = talk.words_of(rack)
        talk.hear(words if listen.question.asking == "confirm" else one.says.get(listen.step, words))
    raise AssertionError(f"the call does not end; last asked {talk.asked}")
