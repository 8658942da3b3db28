"""The only conversions between units, and the atmosphere between gauge and absolute pressure."""

from collections.abc import Callable

from assistant.language.meaning import Value
from assistant.trade.validity import check

PSI_PA = 6894.757293168
"""Pascals in one pound-force per square inch. Source: exact definitions, NIST SP 811."""
BAR_PA = 1e5
INHG_PSI = 0.491154
"""psi in one inch of mercury. Source: NIST SP 811."""
LB_KG = 0.45359237
"""Kilograms in one pound. Source: exact definition, NIST SP 811."""
FT_M = 0.3048
STANDARD_PSIA = 14.696


def pa_from_psi(psi: float) -> float:
    """Absolute pressure or pressure difference [Pa] from psi."""
    return psi * PSI_PA


def psi_from_pa(pa: float) -> float:
    """Absolute pressure or pressure difference [psi] from pascals."""
    return pa / PSI_PA


def psi_from_bar(bar: float) -> float:
    """psi from bar."""
    return psi_from_pa(bar * BAR_PA)


def bar_from_psi(psi: float) -> float:
    """bar from psi."""
    return pa_from_psi(psi) / BAR_PA


def psig_from_inhg_vacuum(inhg: float) -> float:
    """Gauge pressure [psig], negative, from inches of mercury of vacuum [inHg], 0 to 29.9."""
    check("The vacuum", inhg, 0.0, 29.93, "inches")
    return -inhg * INHG_PSI


def degc_from_degf(degf: float) -> float:
    """Temperature [degC] from a temperature [degF]."""
    return (degf - 32.0) / 1.8


def degf_from_degc(degc: float) -> float:
    """Temperature [degF] from a temperature [degC]."""
    return degc * 1.8 + 32.0


def k_from_degf(degf: float) -> float:
    """Temperature [K] from a temperature [degF]."""
    return degc_from_degf(degf) + 273.15


def degf_from_k(k: float) -> float:
    """Temperature [degF] from a temperature [K]."""
    return degf_from_degc(k - 273.15)


def delta_k_from_delta_degf(delta_degf: float) -> float:
    """Temperature difference [K] from one in F degrees: never minus 32."""
    return delta_degf / 1.8


def delta_degf_from_delta_k(delta_k: float) -> float:
    """Temperature difference [F degrees] from one in kelvins: never plus 32."""
    return delta_k * 1.8


def kg_from_lb(lb: float) -> float:
    """Mass [kg] from pounds."""
    return lb * LB_KG


def lb_from_kg(kg: float) -> float:
    """Mass [lb] from kilograms."""
    return kg / LB_KG


def ft_from_m(m: float) -> float:
    """Length [ft] from metres."""
    return m / FT_M


def m_from_ft(ft: float) -> float:
    """Length [m] from feet."""
    return ft * FT_M


def atmosphere_psia(altitude_ft: float) -> float:
    """The atmosphere's pressure at a site.

    Args:
        altitude_ft: height over the sea [ft], -1,000 to 30,000.

    Returns:
        Absolute pressure [psia].

    Raises:
        OutOfRange: an altitude outside the range above.

    Source:
        ASHRAE Fundamentals chapter 1 equation 3 (1976 US Standard Atmosphere).

    >>> round(atmosphere_psia(3000.0), 2)
    13.17
    """
    check("The site's altitude", altitude_ft, -1000.0, 30000.0, "feet")
    return float(STANDARD_PSIA * (1.0 - 6.8754e-6 * altitude_ft) ** 5.2559)


def psia_from_psig(psig: float, altitude_ft: float = 0.0) -> float:
    """Absolute pressure [psia] of a gauge that was zeroed at the site.

    Raises:
        OutOfRange: deeper than a full vacuum at this altitude.
    """
    psia = psig + atmosphere_psia(altitude_ft)
    check("The absolute pressure", psia, 0.0, 5000.0, "psi")
    return psia


def pa_from_psig(psig: float, altitude_ft: float = 0.0) -> float:
    """Absolute pressure [Pa] of a gauge that was zeroed at the site."""
    return pa_from_psi(psia_from_psig(psig, altitude_ft))


def psig_from_pa(pa: float, altitude_ft: float = 0.0) -> float:
    """Gauge pressure [psig] at the site from an absolute one [Pa]."""
    return psi_from_pa(pa) - atmosphere_psia(altitude_ft)


_US_OF = {"C": "F", "barg": "psi", "bar": "psi", "kg": "lb", "l": "qt"}

_CONVERSIONS: dict[tuple[str, str], Callable[[float], float]] = {
    ("psig", "barg"): bar_from_psi, ("barg", "psig"): psi_from_bar,
    ("psi", "bar"): bar_from_psi, ("bar", "psi"): psi_from_bar,
    ("F", "C"): degc_from_degf, ("C", "F"): degf_from_degc,
    ("lb", "kg"): kg_from_lb, ("kg", "lb"): lb_from_kg,
    ("qt", "l"): lambda quart: quart * 0.946352946, ("l", "qt"): lambda litre: litre / 0.946352946,
}  # fmt: skip


def us_value(value: Value, unit: str | None, kind: str) -> Value:
    """A reading's value in the US unit of its kind; words, and units that both systems share, as they are.

    Args:
        value: as taken.
        unit: as the vocabulary writes it.
        kind: the reading's kind in the vocabulary: a `difference` is scaled, never shifted by 32.

    >>> us_value(-10.0, "C", "temperature"), us_value("over_range", "ohm", "ohms")
    (14.0, 'over_range')
    """
    us = _US_OF.get(unit or "")
    if isinstance(value, (bool, str)) or us is None:
        return value
    return convert(float(value), "bar" if unit == "barg" else str(unit), us, difference=kind == "difference")


def convert(value: float, from_unit: str, to_unit: str, *, difference: bool = False) -> float:
    """A reading in another of the vocabulary's units.

    Args:
        value: the number.
        from_unit: unit as the vocabulary writes it (`psig`, `barg`, `F`, `C`, `lb`, ...).
        to_unit: unit wanted.
        difference: a temperature difference (superheat, drop): scaled, never shifted by 32.

    Raises:
        ValueError: the two units do not measure the same thing.

    >>> convert(-40.0, "F", "C"), convert(18.0, "F", "C", difference=True)
    (-40.0, 10.0)
    """
    if from_unit == to_unit:
        return value
    if difference and {from_unit, to_unit} == {"F", "C"}:
        return delta_k_from_delta_degf(value) if from_unit == "F" else delta_degf_from_delta_k(value)
    try:
        return _CONVERSIONS[from_unit, to_unit](value)
    except KeyError:
        raise ValueError(f"{from_unit} cannot be turned into {to_unit}") from None
