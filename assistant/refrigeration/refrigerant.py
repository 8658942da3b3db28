"""Properties of the refrigerants: the one door to CoolProp.

Everything here is SI, absolute: pascals, kelvins, J/kg, J/(kg K), kg/m3.

CoolProp is imported inside functions because the import takes 2 to 5 seconds and holds the
interpreter: call `warm_up` before sound is opened. Each thread keeps its own states.

The blends (`.mix`) fail in bands of pressure when asked directly; they are then reached from a
lower pressure in steps of one percent, each step starting at the one before. R404A, R407C, R410A
and R507A are taken as the published pseudo-pure fluids, which do not fail.
"""

import threading
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from math import exp, log
from typing import Any

from assistant.refrigeration.limits import OutOfRange


@dataclass(frozen=True)
class Refrigerant:
    """What CoolProp calls it, and where it is trusted here."""

    fluid: str
    spoken: str
    lowest_pa: float
    """Dew pressure at -60 C, rounded up: the lowest pressure computed from."""
    highest_pa: float
    """Bubble pressure at 62 C, rounded down (R22, R134a, R290: at 79 C; carbon dioxide: near critical)."""
    critical_k: float | None = None
    """Given where ordinary weather reaches it."""


def _of(
    fluid: str, spoken: str, lowest_kpa: float, highest_kpa: float, k: float | None = None
) -> Refrigerant:
    return Refrigerant(fluid, spoken, lowest_kpa * 1e3, highest_kpa * 1e3, k)


REFRIGERANTS: dict[str, Refrigerant] = {
    "R22": _of("R22", "R 22", 37.6, 3600.0), "R134a": _of("R134a", "R 134 A", 16.0, 2600.0),
    "R404A": _of("R404A", "R 404 A", 49.8, 2999.0), "R407A": _of("R407A.mix", "R 407 A", 31.0, 3028.0),
    "R407C": _of("R407C", "R 407 C", 27.7, 2891.0), "R407F": _of("R407F.mix", "R 407 F", 32.8, 3167.0),
    "R410A": _of("R410A", "R 410 A", 64.3, 4006.0), "R448A": _of("R448A.mix", "R 448 A", 33.4, 3084.0),
    "R449A": _of("R449A.mix", "R 449 A", 33.9, 3045.0), "R454A": _of("R454A.mix", "R 454 A", 37.7, 3166.0),
    "R454C": _of("R454C.mix", "R 454 C", 30.4, 2748.0), "R455A": _of("R455A.mix", "R 455 A", 32.6, 3101.0),
    "R507A": _of("R507A", "R 507 A", 51.1, 3077.0), "R290": _of("R290", "R 290", 42.7, 3100.0),
    "R744": _of("R744", "carbon dioxide", 530.0, 7360.0, 304.1282),
}  # fmt: skip
"""Every refrigerant that is computed, by the name a profile gives it."""

COLDEST_K, HOTTEST_GAS_K = 200.0, 473.15
_LOCAL = threading.local()


def refrigerant(name: str) -> Refrigerant:
    """The entry of `name`.

    Raises:
        OutOfRange: not one of `REFRIGERANTS`.
    """
    try:
        return REFRIGERANTS[name]
    except KeyError:
        raise OutOfRange(f"{name} is not a refrigerant that is computed here.") from None


def warm_up(name: str) -> None:
    """Import CoolProp and build the states of `name` now: 2 to 5 seconds, once."""
    dew_k(refrigerant(name).lowest_pa * 2.0, name)


def _coolprop() -> Any:
    import CoolProp.CoolProp as library  # here, not above: see the first lines of this file

    return library


def _state(name: str, phase: str) -> Any:
    """The kept state of this thread: one a phase, so that an imposed phase stays imposed."""
    kept: dict[tuple[str, str], Any] = _LOCAL.__dict__.setdefault("states", {})
    if (name, phase) not in kept:
        library = _coolprop()
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
    library, state = _coolprop(), _state(name, "both")
    try:
        state.update(library.PQ_INPUTS, pressure_pa, quality)
    except ValueError:
        return _continued(state, pressure_pa, quality)
    return state


def _continued(state: Any, pressure_pa: float, quality: float) -> Any:
    """Reach a saturated state that fails directly, from a lower pressure where it does not."""
    library = _coolprop()
    reached_pa = pressure_pa
    while True:
        reached_pa *= 0.97
        if reached_pa < 0.3 * pressure_pa:
            raise OutOfRange("The saturation temperature at this pressure could not be computed.")
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
            raise OutOfRange("The saturation temperature at this pressure could not be computed.") from fault
    return state


@lru_cache(maxsize=4096)
def dew_k(pressure_pa: float, name: str) -> float:
    """Dew point [K] at an absolute pressure [Pa]: the last drop boils. Suction superheat counts from here.

    Raises:
        OutOfRange: a pressure outside the refrigerant's entry, or over the critical point.
    """
    _check_pressure(pressure_pa, name)
    return float(_saturated(pressure_pa, 1.0, name).T())


@lru_cache(maxsize=4096)
def bubble_k(pressure_pa: float, name: str) -> float:
    """Bubble point [K] at an absolute pressure [Pa]: the first bubble forms. Subcooling counts from here.

    Raises:
        OutOfRange: a pressure outside the refrigerant's entry, or over the critical point.
    """
    _check_pressure(pressure_pa, name)
    return float(_saturated(pressure_pa, 0.0, name).T())


def _pressure_at(temperature_k: float, name: str, line: Callable[[float, str], float]) -> float:
    """The pressure whose `line` (dew or bubble) is at a temperature: a secant on ln p against 1/T.

    Solved on the line itself and not asked of the library, so that it holds in the bands where the
    library's own flash fails.
    """
    entry = refrigerant(name)
    if entry.critical_k is not None and temperature_k > line(entry.highest_pa, name):
        raise OutOfRange(
            f"{entry.spoken} this warm is at or over its critical point: it has no saturation pressure."
        )
    low, high = (
        log(entry.lowest_pa * (1.0 + 1e-9)),
        log(entry.highest_pa * (1.0 - 1e-9)),
    )  # exp(log(p)) may pass p
    inverse_low, inverse_high = 1.0 / line(exp(low), name), 1.0 / line(exp(high), name)
    if not inverse_high <= 1.0 / temperature_k <= inverse_low:
        raise OutOfRange(f"This temperature is outside the {entry.spoken} chart: it has no pressure there.")
    for _ in range(40):
        guess = low + (high - low) * (inverse_low - 1.0 / temperature_k) / (inverse_low - inverse_high)
        inverse = 1.0 / line(exp(guess), name)
        if abs(1.0 / inverse - temperature_k) < 1e-6:
            break
        # The line is nearly straight in these terms and curves one way: moving one end is enough.
        if inverse > 1.0 / temperature_k:
            low, inverse_low = guess, inverse
        else:
            high, inverse_high = guess, inverse
    return exp(guess)


@lru_cache(maxsize=1024)
def dew_pa(temperature_k: float, name: str) -> float:
    """Pressure [Pa] at which the dew point is `temperature_k` [K]."""
    return _pressure_at(temperature_k, name, dew_k)


@lru_cache(maxsize=1024)
def bubble_pa(temperature_k: float, name: str) -> float:
    """Pressure [Pa] at which the bubble point is `temperature_k` [K]: liquid standing at rest."""
    return _pressure_at(temperature_k, name, bubble_k)


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
    library, state = _coolprop(), _state(name, phase)
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
    """The state at a molar quality, read as masses: CoolProp's quality of a blend counts molecules."""
    _check_pressure(pressure_pa, name)
    library, state = _coolprop(), _saturated(pressure_pa, molar_quality, name)
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
        OutOfRange: all liquid or all vapour at this pressure and enthalpy.
    """
    low, high = 0.0, 1.0
    at_low, at_high = _mixed(pressure_pa, low, name), _mixed(pressure_pa, high, name)
    if not at_low.enthalpy_j_kg - 1e-3 <= enthalpy_j_kg <= at_high.enthalpy_j_kg:
        raise OutOfRange("At this pressure the refrigerant is all liquid or all vapour.")
    low_j, high_j = at_low.enthalpy_j_kg, at_high.enthalpy_j_kg
    at, quality = at_low, 0.0
    for _ in range(30):
        if abs(at.enthalpy_j_kg - enthalpy_j_kg) < 0.1:
            break
        quality = low + (high - low) * (enthalpy_j_kg - low_j) / (high_j - low_j)
        at = _mixed(pressure_pa, quality, name)
        # Two points close together near the answer, as the line is almost straight there.
        if at.enthalpy_j_kg < enthalpy_j_kg:
            low, low_j = quality, at.enthalpy_j_kg
        else:
            high, high_j = quality, at.enthalpy_j_kg
    return at


def saturated_liquid(temperature_k: float, name: str) -> State:
    """Liquid at its bubble point at a temperature [K]."""
    state = _saturated(bubble_pa(temperature_k, name), 0.0, name)
    return State(state.T(), state.hmass(), state.smass(), state.rhomass(), float("nan"))


def boiling_liquid(pressure_pa: float, name: str) -> State:
    """Liquid at its bubble point at a pressure [Pa]."""
    _check_pressure(pressure_pa, name)
    state = _saturated(pressure_pa, 0.0, name)
    return State(state.T(), state.hmass(), state.smass(), state.rhomass(), float("nan"))


def saturated_vapour(pressure_pa: float, name: str) -> State:
    """Gas at its dew point at a pressure [Pa]."""
    _check_pressure(pressure_pa, name)
    state = _saturated(pressure_pa, 1.0, name)
    return State(state.T(), state.hmass(), state.smass(), state.rhomass(), float("nan"))
