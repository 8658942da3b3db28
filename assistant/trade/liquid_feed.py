"""Whether liquid is still liquid when it reaches the injection valve."""

from dataclasses import dataclass
from functools import lru_cache

from assistant.trade import refrigerant as fluid
from assistant.trade.units import (
    delta_degf_from_delta_k,
    k_from_degf,
    m_from_ft,
    pa_from_psi,
    pa_from_psig,
    psi_from_pa,
    psig_from_pa,
)  # fmt: skip
from assistant.trade.validity import OutOfRange, check

GRAVITY_M_S2 = 9.80665


@dataclass(frozen=True)
class Losses:
    """What the liquid loses between the receiver and the valve."""

    lift_ft: float = 0.0
    """Height of the valve over the receiver [ft]; negative when it is below."""
    drier_delta_psi: float = 0.0
    line_delta_psi: float = 0.0
    fittings_delta_psi: float = 0.0


@dataclass(frozen=True)
class Feed:
    """The liquid at the valve."""

    static_delta_psi: float
    valve_psig: float
    required_subcooling_delta_degf: float
    """Subcooling the receiver must give to keep the feed liquid."""
    flash_margin_delta_degf: float
    """Negative: vapour in the feed."""
    vapour_mass_fraction: float
    vapour_volume_fraction: float
    boiling_at_receiver: bool
    """The liquid already leaves the receiver with vapour in it."""


def static_delta_psi(lift_ft: float, liquid_kg_m3: float) -> float:
    """Pressure [psi] lost to a lift [ft] of liquid of a density [kg/m3]. Source: hydrostatics.

    >>> round(static_delta_psi(1.0, 987.53), 3)
    0.428
    """
    return psi_from_pa(liquid_kg_m3 * GRAVITY_M_S2 * m_from_ft(lift_ft))


@lru_cache(maxsize=256)
def liquid_feed(
    receiver_psig: float, liquid_degf: float, losses: Losses, refrigerant: str, altitude_ft: float = 0.0
) -> Feed:
    """Liquid at the injection valve after lift, drier and line.

    Args:
        receiver_psig: pressure at the receiver or the start of the liquid line [psig].
        liquid_degf: liquid at the same place [degF], -60 to 200.
        losses: lift and pressure drops on the way.
        refrigerant: a name from `REFRIGERANTS`.
        altitude_ft: the site's height over the sea [ft].

    Returns:
        Pressures, margin, and the vapour in the feed by mass and by volume. Liquid at or over the
        receiver's bubble point is taken as just boiling, and said so.

    Raises:
        OutOfRange: losses that leave no pressure on the chart, or a reading outside its range.

    Source:
        Hydrostatics; constant enthalpy along the line; CoolProp 8.
    """
    check("The liquid temperature", liquid_degf, -60.0, 200.0, "degrees")
    for name, drop in (("drier", losses.drier_delta_psi), ("liquid line", losses.line_delta_psi)):
        check(f"The drop across the {name}", drop, 0.0, 200.0, "psi")
    check("The lift", losses.lift_ft, -200.0, 200.0, "feet")
    receiver_pa, liquid_k = pa_from_psig(receiver_psig, altitude_ft), k_from_degf(liquid_degf)
    bubble_k = fluid.bubble_k(receiver_pa, refrigerant)
    boiling = liquid_k >= bubble_k
    start = (
        fluid.boiling_liquid(receiver_pa, refrigerant)
        if boiling
        else fluid.liquid(receiver_pa, liquid_k, refrigerant)
    )
    static = static_delta_psi(losses.lift_ft, start.density_kg_m3)
    lost = static + losses.drier_delta_psi + losses.line_delta_psi + losses.fittings_delta_psi
    valve_pa = min(receiver_pa - pa_from_psi(lost), fluid.refrigerant(refrigerant).highest_pa)  # a column under it adds to it
    try:
        valve_bubble_k = fluid.bubble_k(valve_pa, refrigerant)
    except OutOfRange:
        raise OutOfRange("The losses of the liquid line leave no usable pressure at the valve.") from None
    margin_k = valve_bubble_k - min(liquid_k, bubble_k)
    mass, volume = 0.0, 0.0
    if margin_k < 0.0:
        mixed = fluid.mixed_at_enthalpy(valve_pa, start.enthalpy_j_kg, refrigerant)
        mass, volume = mixed.vapour_mass_fraction, mixed.vapour_volume_fraction
    return Feed(
        static, psig_from_pa(valve_pa, altitude_ft), delta_degf_from_delta_k(bubble_k - valve_bubble_k),
        delta_degf_from_delta_k(valve_bubble_k - liquid_k), mass, volume, boiling,
    )  # fmt: skip
