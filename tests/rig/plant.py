"""A parallel rack in a steady state: mass and energy balances over compressors, cases, condenser and injection.

Independent of the product's own calculations: CoolProp is asked here for single states only, and the balances are our own. The
machines are open compressors by volumetric and isentropic efficiency; cases and condenser are conductances. Sizes are invented.
"""

from dataclasses import dataclass
from functools import lru_cache
from math import sqrt

from CoolProp.CoolProp import PropsSI

PSI_PA, LB_KG = 6894.757, 0.45359237
SWEPT_M3_S = 0.0212
"""45 cfm a machine."""


def k(degf: float) -> float:
    return (degf - 32.0) / 1.8 + 273.15


def degf(kelvin: float) -> float:
    return (kelvin - 273.15) * 1.8 + 32.0


@dataclass(frozen=True)
class Plant:
    """What the rack is, and what is wrong with it. The defaults are a healthy low temperature rack."""

    refrigerant: str = "R22"
    machines: int = 4
    altitude_ft: float = 600.0
    box_degf: float = -4.0
    air_degf: float = 88.0
    cases_w_per_k: float = 7200.0
    condenser_w_per_k: float = 18000.0
    """With every fan and a clean face."""
    superheat_k: float = 15.5
    """Of the gas that enters the machine."""
    fans: int = 6
    fans_turning: int = 6
    fans_called: int = 6
    face: float = 1.0
    """Share of the condenser's conductance that dirt leaves."""
    air_psi: float = 0.0
    """Partial pressure of air in the condenser."""
    flooded: float = 0.0
    """Share of the condenser that holds liquid: subcooled, and lost to condensing."""
    filter_psi: float = 0.0
    """Drop of the suction filter at load."""
    valves_leak: float = 0.0
    """Share of the gas that this machine's valves let back."""
    unloaded: float = 0.0
    feeds: bool = True
    """The injection feeds when the line asks for it."""
    holds_degf: float = 215.0
    over_degf: float = 0.0
    """How far over that every machine's line settles: more heat than the injections can take."""
    own_over_degf: float = 0.0
    """How far this machine's alone: an orifice too small, little flow."""
    line_heat_degf: float = 0.0
    line_psi: float = 4.0
    """Heat that the liquid line picks up, and its drop to the injection header."""
    discharge_psi: float = 0.0
    """Drop between this machine and the header."""
    @property
    def atmosphere_psia(self) -> float:
        return 14.696 * (1 - 6.8754e-6 * self.altitude_ft) ** 5.2559  # ICAO standard atmosphere


@dataclass(frozen=True)
class Point:
    """The steady state, as perfect instruments would read it."""

    suction_psig: float
    own_suction_psig: float
    head_psig: float
    own_discharge_psig: float
    gas_degf: float
    line_degf: float
    liquid_out_degf: float
    header_psig: float
    header_degf: float
    amps: float
    neighbour_line_degf: float


def _state(fluid: str, what: str, *given: object) -> float:
    return float(PropsSI(what, *given, fluid))


@lru_cache(maxsize=4096)
def _saturation_pa(fluid: str, kelvin: float, quality: float) -> float:
    return _state(fluid, "P", "T", kelvin, "Q", quality)


def _flow(plant: Plant, evaporating_k: float, condensing_k: float, leak: float = 0.0) -> tuple[float, float, float, float]:
    """Mass flow of one machine [kg/s], and its gas's enthalpy in, out, and the liquid's [J/kg]."""
    fluid = plant.refrigerant
    low, high = _saturation_pa(fluid, evaporating_k, 1.0), _saturation_pa(fluid, condensing_k, 1.0)
    low = max(low - plant.filter_psi * PSI_PA, 0.3 * low)
    gas_k = evaporating_k + plant.superheat_k
    density, enthalpy, entropy = (_state(fluid, what, "P", low, "T", gas_k) for what in ("D", "H", "S"))
    ratio = high / low
    volumetric = max(0.25, 0.96 - 0.022 * (ratio - 1.0)) * (1.0 - leak)
    ideal = _state(fluid, "H", "P", high, "S", entropy)
    isentropic = max(0.3, 0.65 - 0.004 * (ratio - 1.0)) * (1.0 - 0.75 * leak)
    hot = enthalpy + 0.90 * (ideal - enthalpy) / isentropic  # a tenth goes off at the body
    liquid = _state(fluid, "H", "T", condensing_k - 5.0, "Q", 0.0)
    return density * SWEPT_M3_S * volumetric, enthalpy, hot, liquid


def _condensing(plant: Plant, evaporating_k: float, running: float) -> float:
    share = plant.fans_turning / plant.fans
    conductance = plant.condenser_w_per_k * plant.face * (0.12 + 0.88 * share) * (1.0 - plant.flooded)
    low, high = k(plant.air_degf) + 0.5, k(plant.air_degf) + 60.0
    for _ in range(18):
        middle = (low + high) / 2
        mass, _, hot, liquid = _flow(plant, evaporating_k, middle)
        if running * mass * (hot - liquid) > conductance * (middle - k(plant.air_degf)):
            low = middle
        else:
            high = middle
    return (low + high) / 2


@lru_cache(maxsize=512)
def balance(plant: Plant, running: int) -> Point:
    """The state in which cases, machines and condenser agree.

    Args:
        plant: the rack.
        running: machines that run, this one among them where it does.
    """
    low, high = k(-75.0), k(plant.box_degf) - 0.5
    machines = running * (1.0 - plant.unloaded / max(running, 1))
    condensing = k(100.0)
    for turn in range(16):
        evaporating = (low + high) / 2
        if turn < 12:
            condensing = _condensing(plant, evaporating, machines)
        mass, gas, _, liquid = _flow(plant, evaporating, condensing)
        if machines * mass * (gas - liquid) > plant.cases_w_per_k * (k(plant.box_degf) - evaporating):
            high = evaporating  # the machines take more than the cases give: it falls
        else:
            low = evaporating
    return _point(plant, evaporating, condensing)


def _point(plant: Plant, evaporating: float, condensing: float) -> Point:
    fluid, atmosphere = plant.refrigerant, plant.atmosphere_psia
    suction = _saturation_pa(fluid, evaporating, 1.0) / PSI_PA - atmosphere
    head = _saturation_pa(fluid, condensing, 1.0) / PSI_PA - atmosphere + plant.air_psi
    hottest = k(plant.holds_degf + plant.over_degf + plant.own_over_degf) if plant.feeds else 1e9

    def line(leak: float) -> tuple[float, float]:
        mass, gas, hot, _ = _flow(plant, evaporating, condensing, leak)
        kelvin = _state(fluid, "T", "P", _saturation_pa(fluid, condensing, 1.0), "H", hot)
        return kelvin, mass * (hot - gas) / 0.90

    own, watts = line(plant.valves_leak)
    other, _ = line(0.0)
    out = degf(condensing - 4.0 - 14.0 * plant.flooded / 0.5)
    # Injection holds a sound machine; what leaks back is heated again and again behind it.
    held = min(own, hottest + (60.0 * plant.valves_leak if plant.feeds else 0.0))
    return Point(
        suction_psig=suction, own_suction_psig=suction - plant.filter_psi, head_psig=head,
        own_discharge_psig=head + plant.discharge_psi, gas_degf=degf(evaporating + plant.superheat_k),
        line_degf=degf(held), liquid_out_degf=out, header_psig=head - plant.air_psi - plant.line_psi,
        header_degf=out + plant.line_heat_degf, amps=watts / 0.88 / (sqrt(3.0) * 460.0 * 0.86),
        neighbour_line_degf=degf(min(other, k(plant.holds_degf + plant.over_degf))),
    )  # fmt: skip


def standing_psig(plant: Plant) -> float:
    """Pressure of the condenser at rest and as cold as the air."""
    return _saturation_pa(plant.refrigerant, k(plant.air_degf), 1.0) / PSI_PA - plant.atmosphere_psia + plant.air_psi
