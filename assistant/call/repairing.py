"""What a repair needs before anybody's hands are on it, and before anything is let in or started again (S31)."""

from collections.abc import Callable

from assistant.branches.search import found, proven, standing, to_mend
from assistant.branches.steps import Repair
from assistant.call.known import case_of
from assistant.call.state import State


def in_the_gas(s: State) -> bool:
    """The probe is threaded into the gas, or nobody knows of which rack."""
    return s.rack is None or s.rack.probe.mount == "in_gas"


def repair(s: State) -> Repair:
    """What the repair needs before anybody's hands are on it (S31): that of the cause that is asked about, and of every other
    one that is proven, since "repaired" is taken for all of them."""
    case = case_of(s)
    in_gas = in_the_gas(s)
    causes = dict.fromkeys((*to_mend(case), *(cause for cause in found(case) if proven(case, cause))))
    rules = [s.procedure.repairs.get(cause, Repair((), ("dead",))) for cause in causes]
    # Whatever else has a standing may be worked on in the same breath: its cautions come too.
    others = [s.procedure.repairs[cause] for cause in case.standings if standing(case, cause) and cause in s.procedure.repairs]
    rules = rules or others  # none is to be mended before a restart, and what is only supported is what may be
    wanted = (need for rule in rules for need in (rule.needs_in_gas if in_gas and rule.needs_in_gas else rule.needs))
    needs = tuple(dict.fromkeys(wanted))
    opened = ("liquid_and_cold",) if {"isolated", "section"} & set(needs) else ()  # of a circuit that was emptied, too
    cautions = (*(name for rule in (*rules, *others) for name in rule.cautions), *opened)
    return Repair(tuple(causes), needs, tuple(dict.fromkeys(cautions)))


def repair_needs(need: str) -> Callable[[State], bool]:
    """Whether what is repaired needs this, and is not left."""
    return lambda s: need in repair(s).needs and s.choice != "left" and not s.finishing


def at_zero(s: State) -> bool:
    """The gauge of the isolated machine or section stands at zero and holds."""
    psig = s.us("isolated_pressure")
    return psig is not None and abs(psig) <= s.limits.at_zero_psi


def emptied(s: State) -> bool:
    """The machine is isolated, what it held is recovered, and a gauge stands at zero: now a probe may come out of it (S28)."""
    return s.value("machine_isolated") is True and _recovered(s) and at_zero(s)


def _recovered(s: State) -> bool:
    """What the machine held was recovered, and its valves were not opened since."""
    return s.number("refrigerant_recovered") is not None and not s.full_again


def repair_prepared(s: State) -> bool:
    """Everything that the repair needs, but for lock and proof, was done (S31)."""
    needs = set(repair(s).needs)
    isolated = "isolated" not in needs or (s.value("machine_isolated") is True and at_zero(s))
    section = "section" not in needs or (s.value("section_emptied") is True and at_zero(s))
    fans = "fans" not in needs or s.value("fans_locked") is True
    return fans and isolated and section and ("recovered" not in needs or _recovered(s))


def opened_for_repair(s: State) -> bool:
    """The circuit was opened for what was repaired: it is proved tight before anything is let in again."""
    emptied = bool({"machine_isolated", "section_emptied"} & set(s.readings))  # for whichever cause stands now
    return "circuit_open" in s.open or (s.has("repaired") and (emptied or opens_the_circuit(s)))


def opens_the_circuit(s: State) -> bool:
    """Whether what is repaired stands open to the room; where a rack's charge is recovered or put right, only hoses go on."""
    return bool({"isolated", "section"} & set(repair(s).needs))


def wants_the_licence(s: State) -> bool:
    """Whether refrigerant is let out of what is repaired, or recovered from it."""
    return opens_the_circuit(s) or "recovered" in repair(s).needs


def circuit_closed(s: State) -> bool:
    """Nothing is open to the room: what was isolated or emptied was repaired and proved tight, or nobody opened it after all."""
    if not {"machine_isolated", "section_emptied"} & set(s.readings) or s.has("repaired"):
        return not opened_for_repair(s) or s.has("tight")
    leak = "machine_isolated" not in s.readings and s.has("leak_mended_now")
    return leak and s.value("leak_repaired") != "no" and not s.has("repair_now")
