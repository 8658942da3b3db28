"""The safety rules of motor, oil and pressure branches, watched from outside as those of `rules.py`."""

from collections.abc import Mapping
from typing import Protocol

from assistant.call.procedure import Step

_BEFORE_A_RESET = {
    "oil": ("oil_level", "crankcase_temperature"), "high pressure": ("condenser_fans_running", "condenser_face"),
    "motor": ("winding_ohms.ab", "winding_ohms.bc", "winding_ohms.ca", "ground_megohms"),
}  # fmt: skip
"""S22: what is read before the one reset of these protections."""
_WINDINGS = ("winding_ohms.ab", "winding_ohms.bc", "winding_ohms.ca")
CONTACT = "open contact: "
"""How a contact that was found open stands among what the monitor was told."""
_RESETS = ("reset", "pressure_reset", "motor_reset")


_RESET_AT = {"motor_reset": {"motor"}, "pressure_reset": {"high pressure", "low pressure"}}


class Seen(Protocol):
    """What a monitor keeps of a call."""

    @property
    def values(self) -> Mapping[str, object]: ...
    @property
    def told(self) -> frozenset[str]: ...
    @property
    def resets(self) -> frozenset[str]: ...
    @property
    def open(self) -> frozenset[str]: ...


def broken(seen: Seen, step: Step, held: frozenset[str]) -> list[str]:
    """Rules that are broken when this step is asked; each complaint begins with its number.

    Args:
        seen: what the monitor keeps of the call.
        step: what is asked.
        held: contacts that a powered module holds: with another one open they say nothing.
    """
    found: list[str] = []
    if step.act in ("power_on", "unlock", "start"):
        found += _energising(seen, step)
    if "ground_megohms" in (step.asking, *step.also):
        found += _insulation(seen, step)
    if "terminal_cover" in step.opens and not _over(seen, "ground_megohms", 1.0):
        found.append(f"S27 '{step.id}' opens the terminals and no ground fault is ruled out")
    if step.asking == "protector_string_ohms" and step.asking != "ground_megohms" and "leads_on" in seen.open:
        found.append(f"S26 '{step.id}' with the insulation tester's leads on")
    if step.id in _RESETS:
        missing = [i for i in _before(seen, held) if i not in seen.values]
        found += [f"S22 '{step.id}' before {', '.join(missing)}"] if missing else []
    if step.asking == "idle_condenser_pressure" and "idle_test_valid" not in seen.told:
        found.append("S33 a standing test without its conditions")
    return found


def second_reset(seen: Seen, step: str) -> bool:
    """Whether a reset at this step is a protection's second (S22): one is due to each contact that was found open."""
    if step in seen.resets or "reset" in seen.resets:
        return True
    had = {contact for before in seen.resets for contact in _RESET_AT[before]}
    contacts = {fact.removeprefix(CONTACT) for fact in seen.told if fact.startswith(CONTACT)}
    return step == "reset" and bool(had) and not contacts - had


def _before(seen: Seen, held: frozenset[str]) -> list[str]:
    contacts = {fact.removeprefix(CONTACT) for fact in seen.told if fact.startswith(CONTACT)}
    if "oil_control_not_tripped" in seen.told:
        contacts -= {"oil"}
    contacts = contacts - held or contacts
    return [id_ for contact in contacts for id_ in _BEFORE_A_RESET.get(contact, ())]


def _energising(seen: Seen, step: Step) -> list[str]:
    found = []
    if "terminal_cover" in seen.open:
        found.append(f"S17 '{step.id}' with a terminal cover off")
    if "line_fuse_open" in seen.told:
        tested = all(_over(seen, i, 0.0) and seen.values.get(i) != "over_range" for i in _WINDINGS)
        if not (tested and _over(seen, "ground_megohms", 1.0)):
            found.append(f"S18 '{step.id}' and the motor's circuit, whose fuse opened, is not tested and good")
    if seen.values.get("control_fuse") == "blown" and not _over(seen, "starter_coil_ohms", 0.0):
        found.append(f"S18 '{step.id}' and the coil, whose fuse blew, is not tested")
    return found


def _insulation(seen: Seen, step: Step) -> list[str]:
    found = []
    shell = seen.values.get("shell_pressure")
    if not isinstance(shell, (int, float)) or isinstance(shell, bool) or shell < 0:
        found.append(f"S25 '{step.id}' in a vacuum, or with the pressure not read")
    if "modules_off" not in seen.told or "charge_unknown" in seen.told:
        found.append(f"S25 '{step.id}' with the modules on the windings, or the charge unknown")
    return found


def _over(seen: Seen, id_: str, limit: float) -> bool:
    value = seen.values.get(id_)
    return value == "over_range" or (isinstance(value, (int, float)) and not isinstance(value, bool) and value >= limit)
