"""How hot the discharge is without injection, and how much liquid it takes to cool it."""

from contextlib import suppress
from dataclasses import dataclass, replace
from functools import lru_cache

from assistant.trade import refrigerant as fluid
from assistant.trade.circuit import compression_ratio
from assistant.trade.limits import USUAL, Limits
from assistant.trade.units import degf_from_k, k_from_degf, pa_from_psig
from assistant.trade.validity import OutOfRange, check

VALVE_OVER_LINE_DELTA_DEGF = 75.0
"""The discharge valve is about this much hotter than the line 3 to 6 inches away. Trade press."""


@dataclass(frozen=True)
class Suction:
    """The gas a machine draws in, the pressure it must reach, and what the gas is."""

    suction_psig: float
    return_gas_degf: float
    discharge_psig: float
    refrigerant: str
    altitude_ft: float = 0.0


@dataclass(frozen=True)
class Band:
    """Discharge temperature without injection, at the best and at the worst efficiency."""

    low_degf: float
    high_degf: float


@dataclass(frozen=True)
class WhatIf:
    """The band again with one thing changed. A calculation only."""

    band: Band
    change_low_delta_degf: float
    change_high_delta_degf: float
    ratio: float


@dataclass(frozen=True)
class Injection:
    """Liquid needed to bring the discharge down."""

    per_suction_gas: float
    """Mass of liquid per mass of suction gas; mixing after the compression."""
    fraction: float
    """The same as a share of the total flow."""


def _compressed(at: Suction) -> tuple[fluid.State, fluid.State, float]:
    """Suction state, perfectly compressed state, discharge pressure [Pa]."""
    check("The suction temperature", at.return_gas_degf, -60.0, 150.0, "degrees")
    compression_ratio(at.suction_psig, at.discharge_psig, at.altitude_ft)  # refuses what cannot be
    p1, p2 = (pa_from_psig(psig, at.altitude_ft) for psig in (at.suction_psig, at.discharge_psig))
    t1 = k_from_degf(at.return_gas_degf)
    if t1 <= fluid.dew_k(p1, at.refrigerant):
        raise OutOfRange(
            "The suction gas has no superheat. Liquid may be coming back: no discharge is computed."
        )
    start = fluid.gas(p1, t1, at.refrigerant)
    # A first guess of the right size is enough: Newton takes two or three steps from it.
    guess_k = t1 * (p2 / p1) ** 0.14
    return start, fluid.gas_at_entropy(p2, start.entropy_j_kg_k, at.refrigerant, guess_k), p2


def discharge_degf(at: Suction, efficiency: float) -> float:
    """Discharge temperature without injection at one isentropic efficiency.

    Heat lost from the body lowers the line: the result is nearer the valve than the pipe.

    Args:
        at: suction pressure and return gas, discharge pressure, refrigerant, altitude.
        efficiency: isentropic, 0.3 to 1.

    Returns:
        Temperature [degF].

    Raises:
        OutOfRange: no superheat, a pressure off the chart, or a result over 390 degF.

    Source:
        Steady-flow energy balance, adiabatic compressor (ASHRAE Fundamentals chapter 2); CoolProp 8.
    """
    check("The efficiency", efficiency, 0.3, 1.0)
    return _with_losses(at, _compressed(at), efficiency)


def _with_losses(at: Suction, compressed: tuple[fluid.State, fluid.State, float], efficiency: float) -> float:
    """The end [degF] of a compression whose perfect end is known."""
    start, perfect, p2 = compressed
    enthalpy = start.enthalpy_j_kg + (perfect.enthalpy_j_kg - start.enthalpy_j_kg) / efficiency
    guess_k = perfect.temperature_k + (enthalpy - perfect.enthalpy_j_kg) / perfect.heat_capacity_j_kg_k
    return degf_from_k(fluid.gas_at_enthalpy(p2, enthalpy, at.refrigerant, guess_k).temperature_k)


@lru_cache(maxsize=256)
def discharge_band(at: Suction, limits: Limits = USUAL) -> Band:
    """Discharge temperature without injection, as a range between two efficiencies: never as one number.

    >>> band = discharge_band(Suction(8.0, 5.0, 232.0, "R449A"))
    >>> round(band.low_degf), round(band.high_degf)
    (206, 240)
    """
    compressed = _compressed(at)
    ends = limits.efficiency_best, limits.efficiency_worst
    return Band(*(_with_losses(at, compressed, efficiency) for efficiency in ends))


def implied_efficiency(at: Suction, measured_degf: float) -> float:
    """Isentropic efficiency that would give the measured discharge temperature. No unit.

    Well over that of a good machine the line is too cold for a compression alone: injection flows, or heat is lost.

    Raises:
        OutOfRange: a line colder than a perfect compression: impossible without injection or liquid; a
            discharge pressure that is not over the suction pressure: nothing is compressed.
    """
    check("The discharge temperature", measured_degf, 0.0, 390.0, "degrees")
    start, perfect, p2 = _compressed(at)
    if at.discharge_psig <= at.suction_psig:
        raise OutOfRange("The discharge pressure is not over the suction pressure: read both again.")
    measured_k = k_from_degf(measured_degf)
    if measured_k < perfect.temperature_k:
        raise OutOfRange(
            "The discharge line is colder than any compression makes it: injection or wet suction."
        )
    measured = fluid.gas(p2, measured_k, at.refrigerant)
    return (perfect.enthalpy_j_kg - start.enthalpy_j_kg) / (measured.enthalpy_j_kg - start.enthalpy_j_kg)


def margin_delta_degf(measured_degf: float, limit_degf: float) -> float:
    """How far the measured temperature is under its limit [F degrees]; negative is over it."""
    return limit_degf - measured_degf


def valve_degf(line_degf: float) -> float:
    """The discharge valve's temperature [degF], judged from the line's. Source: trade press."""
    return line_degf + VALVE_OVER_LINE_DELTA_DEGF


def injection_needed(
    at: Suction, uncooled_degf: float, target_degf: float, liquid_psig: float, liquid_degf: float
) -> Injection:
    """Liquid to bring the discharge from `uncooled_degf` down to `target_degf`.

    `uncooled_degf` is the temperature WITHOUT injection: computed, or measured with injection shut.
    Liquid put into the suction takes more: this is the lower bound.

    Raises:
        OutOfRange: a target within 18 F degrees of the dew point (wet), or liquid over its bubble point.

    Source:
        Energy balance, mixing after the compression.
    """
    p2 = pa_from_psig(at.discharge_psig, at.altitude_ft)
    if k_from_degf(target_degf) < fluid.dew_k(p2, at.refrigerant) + 10.0:
        raise OutOfRange("This target is too near the dew point: the discharge would be wet.")
    hot = fluid.gas(p2, k_from_degf(uncooled_degf), at.refrigerant).enthalpy_j_kg
    target = fluid.gas(p2, k_from_degf(target_degf), at.refrigerant).enthalpy_j_kg
    liquid_pa = pa_from_psig(liquid_psig, at.altitude_ft)
    cold = fluid.liquid(liquid_pa, k_from_degf(liquid_degf), at.refrigerant).enthalpy_j_kg
    per_gas = max(0.0, (hot - target) / (target - cold))
    return Injection(per_gas, per_gas / (1.0 + per_gas))


COLDER_RETURN_DELTA_DEGF, LOWER_HEAD_DELTA_PSI, HIGHER_SUCTION_DELTA_PSI = 20.0, 30.0, 3.0
"""How much a what-if changes: no thresholds, and said in these words. Our own figures."""


def what_if(at: Suction, changed: Suction, limits: Limits = USUAL) -> WhatIf:
    """The band with `changed` in place of `at`, and by how much it moves."""
    before, after = discharge_band(at, limits), discharge_band(changed, limits)
    return WhatIf(
        after, after.low_degf - before.low_degf, after.high_degf - before.high_degf,
        compression_ratio(changed.suction_psig, changed.discharge_psig, changed.altitude_ft),
    )  # fmt: skip


def what_ifs(at: Suction, minimum_head_psig: float = 0.0, limits: Limits = USUAL) -> dict[str, WhatIf]:
    """`colder_return` (return gas 20 F colder), `lower_head` (30 psi lower), `higher_suction` (3 psi higher).

    The return gas keeps its least superheat and the head keeps the rack's minimum: a change that would
    pass them is left out, as is one that cannot be computed. The return gas keeps its temperature
    when the suction is raised.
    """
    dew = degf_from_k(fluid.dew_k(pa_from_psig(at.suction_psig, at.altitude_ft), at.refrigerant))
    changes = {}
    if at.return_gas_degf - COLDER_RETURN_DELTA_DEGF - dew >= limits.superheat_minimum_delta_degf:
        changes["colder_return"] = replace(at, return_gas_degf=at.return_gas_degf - COLDER_RETURN_DELTA_DEGF)
    if at.discharge_psig - LOWER_HEAD_DELTA_PSI >= minimum_head_psig:
        changes["lower_head"] = replace(at, discharge_psig=at.discharge_psig - LOWER_HEAD_DELTA_PSI)
    changes["higher_suction"] = replace(at, suction_psig=at.suction_psig + HIGHER_SUCTION_DELTA_PSI)
    found = {}
    for name, changed in changes.items():
        with suppress(OutOfRange):
            found[name] = what_if(at, changed, limits)
    return found
