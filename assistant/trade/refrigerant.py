"""Properties of the refrigerants: the one door to CoolProp.

Everything here is SI, absolute: pascals, kelvins, J/kg, J/(kg K), kg/m3.

Dew and bubble points come from the stored lines of `saturation.py`; gas, liquid and mixed states from CoolProp,
which is imported inside functions because the import takes half a second (four and more with CoolProp's own tables of
saturation, which nothing here uses) and holds the interpreter. Each thread keeps its own states.

The blends (`.mix`) fail in bands of pressure when asked directly; they are then reached from a
lower pressure in steps of one percent, each step starting at the one before. R404A, R407C, R410A
and R507A are taken as the published pseudo-pure fluids, which do not fail.
"""

import math
import threading
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from assistant.trade.saturation import Line, saturation
from assistant.trade.validity import OutOfRange


@dataclass(frozen=True)
class Refrigerant:
    """What CoolProp calls it, and where it is trusted here."""

    fluid: str
    spoken: str
    critical_k: float | None = None
    """Given where ordinary weather reaches it."""

    @property
    def lowest_pa(self) -> float:
        """Dew pressure at -60.5 C (carbon dioxide: over its triple point): the lowest computed from."""
        return saturation(self.name).dew.lowest_pa

    @property
    def highest_pa(self) -> float:
        """Bubble pressure at 65.5 C (R22, R134a, R290: at 79 C; carbon dioxide: near critical)."""
        return saturation(self.name).dew.highest_pa

    @property
    def name(self) -> str:
        """As a profile names it."""
        return self.fluid.removesuffix(".mix")


REFRIGERANTS: dict[str, Refrigerant] = {
    entry.name: entry
    for entry in (
        Refrigerant("R22", "R 22"), Refrigerant("R134a", "R 134 A"), Refrigerant("R404A", "R 404 A"),
        Refrigerant("R407A.mix", "R 407 A"), Refrigerant("R407C", "R 407 C"), Refrigerant("R407F.mix", "R 407 F"),
        Refrigerant("R410A", "R 410 A"), Refrigerant("R448A.mix", "R 448 A"), Refrigerant("R449A.mix", "R 449 A"),
        Refrigerant("R454A.mix", "R 454 A"), Refrigerant("R454C.mix", "R 454 C"), Refrigerant("R455A.mix", "R 455 A"),
        Refrigerant("R507A", "R 507 A"), Refrigerant("R290", "R 290"), Refrigerant("R744", "carbon dioxide", 304.1282),
    )
}  # fmt: skip
"""Every refrigerant that is computed, by the name a profile gives it."""

COLDEST_K, HOTTEST_GAS_K = 200.0, 473.15
_LOCAL = threading.local()
_NOT_COMPUTED = "The saturation temperature at this pressure could not be computed."


def refrigerant(name: str) -> Refrigerant:
    """The entry of `name`.

    Raises:
        OutOfRange: not one of `REFRIGERANTS`.
    """
    try:
        return REFRIGERANTS[name]
    except KeyError:
        raise OutOfRange(f"{name} is not a refrigerant that is computed here.") from None


around_import: Callable[[], AbstractContextManager[object]] = nullcontext
"""What the import of CoolProp stands in: whoever owns the streams sets it."""


def warm_up(name: str) -> None:
    """Import CoolProp and build the states of `name` now: a second and more, once."""
    pressure_pa = refrigerant(name).lowest_pa * 2.0
    gas(pressure_pa, dew_k(pressure_pa, name) + 1.0, name)
    liquid(pressure_pa, bubble_k(pressure_pa, name) - 1.0, name)
    _saturated(pressure_pa, 0.0, name)


@lru_cache(maxsize=1)
def coolprop() -> Any:
    """CoolProp, imported at the first need of it."""
    with around_import():
        import CoolProp.CoolProp as library  # here, not above: see the first lines of this file

    return library


def _state(name: str, phase: str) -> Any:
    """The kept state of this thread: one a phase, so that an imposed phase stays imposed."""
    kept: dict[tuple[str, str], Any] = _LOCAL.__dict__.setdefault("states", {})
    if (name, phase) not in kept:
        library = coolprop()
        state = library.AbstractState("HEOS", refrigerant(name).fluid)
        if phase != "both":
            state.specify_phase(getattr(library, f"iphase_{phase}"))
        kept[name, phase] = state
    return kept[name, phase]


def _check_pressure(pressure_pa: float, name: str) -> None:
    entry = refrigerant(name)
    if entry.critical_k is not None and pressure_pa > entry.highest_pa:
        raise OutOfRange(f"{entry.spoken} is over its critical point here: it has no saturation temperature.")
    if not entry.lowest_pa <= pressure_pa <= entry.highest_pa:
        side = "low" if pressure_pa < entry.lowest_pa else "high"
        raise OutOfRange(
            f"This pressure is too {side} for the {entry.spoken} chart: nothing is computed from it."
        )


def _saturated(pressure_pa: float, quality: float, name: str) -> Any:
    """The two-phase state at a pressure and a molar vapour quality."""
    library, state = coolprop(), _state(name, "both")
    try:
        state.update(library.PQ_INPUTS, pressure_pa, quality)
    except ValueError:
        if 0.0 < quality < 1.0:  # guesses are only taken at the ends
            raise OutOfRange(_NOT_COMPUTED) from None
        return _continued(state, pressure_pa, quality)
    return state


def _continued(state: Any, pressure_pa: float, quality: float) -> Any:
    """Reach a saturated state that fails directly, from a lower pressure where it does not."""
    library = coolprop()
    reached_pa = pressure_pa
    while True:
        reached_pa *= 0.97
        if reached_pa < 0.3 * pressure_pa:
            raise OutOfRange(_NOT_COMPUTED)
        try:
            state.update(library.PQ_INPUTS, reached_pa, quality)
            break
        except ValueError:
            continue
    while reached_pa < pressure_pa:
        guesses = library.PyGuessesStructure()
        guesses.T, guesses.p = state.T(), state.p()
        guesses.rhomolar_liq = state.saturated_liquid_keyed_output(library.iDmolar)
        guesses.rhomolar_vap = state.saturated_vapor_keyed_output(library.iDmolar)
        guesses.x, guesses.y = state.mole_fractions_liquid(), state.mole_fractions_vapor()
        reached_pa = min(reached_pa * 1.01, pressure_pa)
        try:
            state.update_with_guesses(library.PQ_INPUTS, reached_pa, quality, guesses)
        except ValueError as fault:
            raise OutOfRange(_NOT_COMPUTED) from fault
    return state


def flashed_k(pressure_pa: float, quality: float, name: str) -> float:
    """Temperature [K] by CoolProp's own flash: what the stored lines are made from and held against."""
    return float(_saturated(pressure_pa, quality, name).T())


def dew_k(pressure_pa: float, name: str) -> float:
    """Dew point [K] at an absolute pressure [Pa]: the last drop boils. Suction superheat counts from here.

    Raises:
        OutOfRange: a pressure outside the refrigerant's entry, or over the critical point.
    """
    _check_pressure(pressure_pa, name)
    return saturation(name).dew.temperature_k(pressure_pa)


def bubble_k(pressure_pa: float, name: str) -> float:
    """Bubble point [K] at an absolute pressure [Pa]: the first bubble forms. Subcooling counts from here.

    Raises:
        OutOfRange: a pressure outside the refrigerant's entry, or over the critical point.
    """
    _check_pressure(pressure_pa, name)
    return saturation(name).bubble.temperature_k(pressure_pa)


def _pressure_at(temperature_k: float, name: str, line: Line) -> float:
    entry = refrigerant(name)
    if entry.critical_k is not None and temperature_k > line.temperature_k(entry.highest_pa):
        raise OutOfRange(
            f"{entry.spoken} this warm is at or over its critical point: it has no saturation pressure."
        )
    found = line.pressure_pa(temperature_k)
    if found is None:
        raise OutOfRange(f"This temperature is outside the {entry.spoken} chart: it has no pressure there.")
    return found


def dew_pa(temperature_k: float, name: str) -> float:
    """Pressure [Pa] at which the dew point is `temperature_k` [K]."""
    return _pressure_at(temperature_k, name, saturation(name).dew)


def bubble_pa(temperature_k: float, name: str) -> float:
    """Pressure [Pa] at which the bubble point is `temperature_k` [K]: liquid standing at rest."""
    return _pressure_at(temperature_k, name, saturation(name).bubble)


@dataclass(frozen=True)
class State:
    """One point of the refrigerant."""

    temperature_k: float
    enthalpy_j_kg: float
    entropy_j_kg_k: float
    density_kg_m3: float
    heat_capacity_j_kg_k: float


def _read(state: Any) -> State:
    return State(state.T(), state.hmass(), state.smass(), state.rhomass(), state.cpmass())


def _in_phase(pressure_pa: float, temperature_k: float, name: str, phase: str) -> State:
    library, state = coolprop(), _state(name, phase)
    try:
        state.update(library.PT_INPUTS, pressure_pa, temperature_k)
    except ValueError as fault:
        raise OutOfRange("No properties could be computed for this pressure and temperature.") from fault
    return _read(state)


@lru_cache(maxsize=4096)
def gas(pressure_pa: float, temperature_k: float, name: str) -> State:
    """Superheated gas at an absolute pressure [Pa] and a temperature [K].

    Raises:
        OutOfRange: at or under the dew point, over 200 C, or a pressure outside the entry.
    """
    # Thinner gas than the chart goes to is still gas, if it is no colder than the chart's own dew point.
    if (
        not pressure_pa >= 5e3
        or temperature_k < dew_k(max(pressure_pa, refrigerant(name).lowest_pa), name) - 1e-6
    ):
        raise OutOfRange("This temperature is under the dew point: it is not all gas.")
    if temperature_k > HOTTEST_GAS_K:
        raise OutOfRange("This gas would be hotter than 390 degrees: nothing is computed there.")
    return _in_phase(pressure_pa, temperature_k, name, "gas")


@lru_cache(maxsize=4096)
def liquid(pressure_pa: float, temperature_k: float, name: str) -> State:
    """Subcooled liquid at an absolute pressure [Pa] and a temperature [K].

    Raises:
        OutOfRange: over the bubble point, under -73 C, or a pressure outside the entry.
    """
    if temperature_k > bubble_k(pressure_pa, name) + 1e-6:
        raise OutOfRange("This temperature is over the bubble point: it is not all liquid.")
    if temperature_k < COLDEST_K:
        raise OutOfRange("This liquid is colder than any that is computed.")
    return _in_phase(pressure_pa, temperature_k, name, "liquid")


def gas_at_entropy(pressure_pa: float, entropy_j_kg_k: float, name: str, guess_k: float) -> State:
    """Gas at a pressure [Pa] and an entropy [J/(kg K)]: where a perfect compression ends."""
    return _gas_where(
        pressure_pa, name, guess_k, lambda at: (entropy_j_kg_k - at.entropy_j_kg_k) * at.temperature_k
    )


def gas_at_enthalpy(pressure_pa: float, enthalpy_j_kg: float, name: str, guess_k: float) -> State:
    """Gas at a pressure [Pa] and an enthalpy [J/kg]: where a real compression ends."""
    return _gas_where(pressure_pa, name, guess_k, lambda at: enthalpy_j_kg - at.enthalpy_j_kg)


def _gas_where(
    pressure_pa: float, name: str, guess_k: float, missing_j_kg: Callable[[State], float]
) -> State:
    """Newton's method on the temperature, the gas phase imposed: far faster than the library's own flash."""
    dew = dew_k(pressure_pa, name)
    temperature_k = max(guess_k, dew)
    for _ in range(50):
        at = _in_phase(pressure_pa, temperature_k, name, "gas")
        step_k = missing_j_kg(at) / at.heat_capacity_j_kg_k
        if abs(step_k) < 1e-7:
            break
        temperature_k = min(max(temperature_k + step_k, dew - 5.0), HOTTEST_GAS_K + 20.0)
    else:
        raise OutOfRange("No gas temperature could be computed at this pressure.")
    if at.temperature_k < dew:
        raise OutOfRange("This would be under the dew point: it is not all gas.")
    if at.temperature_k > HOTTEST_GAS_K:
        raise OutOfRange("This gas would be hotter than 390 degrees: nothing is computed there.")
    return at


@dataclass(frozen=True)
class Mixed:
    """Liquid with vapour in it, at one pressure."""

    vapour_mass_fraction: float
    vapour_density_kg_m3: float
    liquid_density_kg_m3: float
    enthalpy_j_kg: float

    @property
    def vapour_volume_fraction(self) -> float:
        """Share of the volume that is vapour, with no slip between the two."""
        vapour = self.vapour_mass_fraction / self.vapour_density_kg_m3
        return vapour / (vapour + (1.0 - self.vapour_mass_fraction) / self.liquid_density_kg_m3)


def _mixed(pressure_pa: float, molar_quality: float, name: str) -> Mixed:
    """The state at a molar quality; where the flash fails, between the nearest pressures at which it does not."""
    _check_pressure(pressure_pa, name)
    try:
        return _flashed(pressure_pa, molar_quality, name)
    except OutOfRange:
        return _between(pressure_pa, molar_quality, name)


def _between(pressure_pa: float, molar_quality: float, name: str) -> Mixed:
    """A straight line in the logarithm of the pressure, of what lies over the boiling liquid. The flash of a blend fails in bands
    of pressure up to 30 percent wide, and near the end of its chart; there the line goes on from two pressures below."""
    below = _nearest(pressure_pa, molar_quality, name, 1.0 / _STEP)
    try:
        above = _nearest(pressure_pa, molar_quality, name, _STEP)
    except OutOfRange:
        above = _nearest(below[0] / _STEP, molar_quality, name, 1.0 / _STEP)
    share = math.log(pressure_pa / below[0]) / math.log(above[0] / below[0])

    def line(of: Callable[[Mixed, float], float]) -> float:
        return of(below[1], below[0]) * (1.0 - share) + of(above[1], above[0]) * share

    over_boiling_j = line(lambda at, pa: at.enthalpy_j_kg - boiling_liquid(pa, name).enthalpy_j_kg)
    return Mixed(
        line(lambda at, _: at.vapour_mass_fraction),
        line(lambda at, _: at.vapour_density_kg_m3),
        line(lambda at, _: at.liquid_density_kg_m3),
        boiling_liquid(pressure_pa, name).enthalpy_j_kg + over_boiling_j,
    )


_STEP, _FURTHEST_STEPS = 1.01, 30


def _nearest(pressure_pa: float, molar_quality: float, name: str, step: float) -> tuple[float, Mixed]:
    """The first pressure [Pa] on one side where the flash answers, and its answer."""
    for count in range(1, _FURTHEST_STEPS + 1):
        reached_pa = pressure_pa * step**count
        try:
            _check_pressure(reached_pa, name)
            return reached_pa, _flashed(reached_pa, molar_quality, name)
        except OutOfRange:
            continue
    raise OutOfRange("What boils in the liquid line could not be computed at this pressure.")


def _flashed(pressure_pa: float, molar_quality: float, name: str) -> Mixed:
    """CoolProp's own flash, read as masses: its quality of a blend counts molecules."""
    library, state = coolprop(), _saturated(pressure_pa, molar_quality, name)
    x, y = state.mole_fractions_liquid(), state.mole_fractions_vapor()
    masses = [state.get_fluid_constant(i, library.imolar_mass) for i in range(len(x))]
    molar_liquid = sum(part * mass for part, mass in zip(x, masses, strict=True))
    molar_vapour = sum(part * mass for part, mass in zip(y, masses, strict=True))
    vapour, wet = molar_quality * molar_vapour, (1.0 - molar_quality) * molar_liquid
    return Mixed(
        vapour / (vapour + wet),
        state.saturated_vapor_keyed_output(library.iDmolar) * molar_vapour,
        state.saturated_liquid_keyed_output(library.iDmolar) * molar_liquid,
        state.hmass(),
    )


def mixed_at_enthalpy(pressure_pa: float, enthalpy_j_kg: float, name: str) -> Mixed:
    """Liquid and vapour together at a pressure [Pa] and an enthalpy [J/kg], by a secant on the quality.

    Raises:
        OutOfRange: all vapour at this pressure and enthalpy. Liquid that does not boil yet has no vapour in it.
    """
    low, high = 0.0, 1.0
    low_j, high_j = boiling_liquid(pressure_pa, name).enthalpy_j_kg, saturated_vapour(pressure_pa, name).enthalpy_j_kg
    if not enthalpy_j_kg <= high_j:
        raise OutOfRange("At this pressure the refrigerant is all vapour.")
    enthalpy_j_kg = max(enthalpy_j_kg, low_j)  # a liquid that is throttled cools a little: at its bubble point it may not boil
    for _ in range(30):
        quality = low + (high - low) * max(0.0, enthalpy_j_kg - low_j) / (high_j - low_j)
        at = _mixed(pressure_pa, quality, name)
        missing_j = enthalpy_j_kg - at.enthalpy_j_kg
        if abs(missing_j) < 0.08 * max(1.0, enthalpy_j_kg - low_j):
            # So near, the rest is a straight line to a thousandth of the fraction: a flash costs a millisecond.
            vapour = at.vapour_mass_fraction * (enthalpy_j_kg - low_j) / max(1e-9, at.enthalpy_j_kg - low_j)
            return replace(at, vapour_mass_fraction=vapour, enthalpy_j_kg=enthalpy_j_kg)
        if missing_j > 0.0:
            low, low_j = quality, at.enthalpy_j_kg
        else:
            high, high_j = quality, at.enthalpy_j_kg
    return at


def saturated_liquid(temperature_k: float, name: str) -> State:
    """Liquid at its bubble point at a temperature [K]."""
    return _in_phase(bubble_pa(temperature_k, name), temperature_k, name, "liquid")


def boiling_liquid(pressure_pa: float, name: str) -> State:
    """Liquid at its bubble point at a pressure [Pa]."""
    return _in_phase(pressure_pa, bubble_k(pressure_pa, name), name, "liquid")


def saturated_vapour(pressure_pa: float, name: str) -> State:
    """Gas at its dew point at a pressure [Pa]."""
    return _in_phase(pressure_pa, dew_k(pressure_pa, name), name, "gas")
