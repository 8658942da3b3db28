"""What gauges and thermometers say about the circuit: saturation, superheat, subcooling, ratio."""

from assistant.trade import refrigerant as fluid
from assistant.trade.units import degf_from_k, k_from_degf, pa_from_psig, psia_from_psig, psig_from_pa
from assistant.trade.validity import OutOfRange, check


def dew_degf(psig: float, refrigerant: str, altitude_ft: float = 0.0) -> float:
    """Dew point: where the last liquid of the suction has boiled.

    Args:
        psig: gauge pressure, zeroed at the site [psig].
        refrigerant: a name from `REFRIGERANTS`.
        altitude_ft: the site's height over the sea [ft].

    Returns:
        Temperature [degF].

    Raises:
        OutOfRange: a pressure off the refrigerant's chart, or over its critical point.

    Source:
        CoolProp 8, vapour quality 1; within 0.4 K of published charts (R448A, R449A), 0.05 K of others.

    >>> round(dew_degf(8.0, "R449A"), 1)
    -22.9
    """
    return degf_from_k(fluid.dew_k(pa_from_psig(psig, altitude_ft), refrigerant))


def bubble_degf(psig: float, refrigerant: str, altitude_ft: float = 0.0) -> float:
    """Bubble point [degF]: where liquid begins to flash. Arguments, errors, source as `dew_degf`."""
    return degf_from_k(fluid.bubble_k(pa_from_psig(psig, altitude_ft), refrigerant))


def glide_delta_degf(psig: float, refrigerant: str, altitude_ft: float = 0.0) -> float:
    """Dew minus bubble at one pressure [F degrees]; zero for a pure refrigerant."""
    return dew_degf(psig, refrigerant, altitude_ft) - bubble_degf(psig, refrigerant, altitude_ft)


def midpoint_degf(psig: float, refrigerant: str, altitude_ft: float = 0.0) -> float:
    """Middle of dew and bubble [degF]: the condensing temperature as it is spoken here."""
    return (dew_degf(psig, refrigerant, altitude_ft) + bubble_degf(psig, refrigerant, altitude_ft)) / 2.0


def superheat_delta_degf(
    suction_psig: float, suction_line_degf: float, refrigerant: str, altitude_ft: float = 0.0
) -> float:
    """Superheat of the gas entering the compressor.

    Measured from the dew point: from a blend's bubble point it would hide liquid coming back.

    Args:
        suction_psig: gauge pressure at the compressor [psig].
        suction_line_degf: return gas at the same place [degF], -60 to 150.
        refrigerant: a name from `REFRIGERANTS`.
        altitude_ft: the site's height over the sea [ft].

    Returns:
        Temperature difference [F degrees]. Zero or less means liquid at the compressor or a bad
        reading; the caller says so, it isn't clipped here.

    Raises:
        OutOfRange: a reading outside the ranges above.

    Source:
        CoolProp 8, vapour quality 1.

    >>> round(superheat_delta_degf(8.0, 5.0, "R449A"), 1)
    27.9
    """
    check("The suction temperature", suction_line_degf, -60.0, 150.0, "degrees")
    return suction_line_degf - dew_degf(suction_psig, refrigerant, altitude_ft)


def subcooling_delta_degf(
    liquid_psig: float, liquid_degf: float, refrigerant: str, altitude_ft: float = 0.0
) -> float:
    """Subcooling of the liquid line, from the bubble point at the liquid's own pressure.

    Args:
        liquid_psig: liquid line pressure [psig]; not the discharge pressure, where there is one.
        liquid_degf: liquid temperature at the same place [degF], -60 to 200.
        refrigerant: a name from `REFRIGERANTS`.
        altitude_ft: the site's height over the sea [ft].

    Returns:
        Temperature difference [F degrees]. Negative: vapour is in the liquid, or a bad reading.

    Raises:
        OutOfRange: a reading outside the ranges above.
    """
    check("The liquid temperature", liquid_degf, -60.0, 200.0, "degrees")
    return bubble_degf(liquid_psig, refrigerant, altitude_ft) - liquid_degf


def condensing_difference_delta_degf(
    discharge_psig: float, air_degf: float, refrigerant: str, altitude_ft: float = 0.0
) -> float:
    """How far the condensing temperature (midpoint of the glide) is over the air into the condenser.

    Judge it only with every fan called, the head well over the control's minimum and reclaim off
    (common practice): with fans cycled 40 to 80 is normal.

    Returns:
        Temperature difference [F degrees].

    Raises:
        OutOfRange: air outside -40 to 140 degF, or a pressure off the chart.
    """
    check("The air into the condenser", air_degf, -40.0, 140.0, "degrees")
    return midpoint_degf(discharge_psig, refrigerant, altitude_ft) - air_degf


def compression_ratio(suction_psig: float, discharge_psig: float, altitude_ft: float = 0.0) -> float:
    """Discharge over suction pressure, both absolute at the site. No unit.

    Raises:
        OutOfRange: a full vacuum, or a discharge under the suction.

    >>> round(compression_ratio(10.0, 220.0), 1)
    9.5
    """
    suction, discharge = (
        psia_from_psig(suction_psig, altitude_ft),
        psia_from_psig(discharge_psig, altitude_ft),
    )
    check("The absolute suction pressure", suction, 0.5, 1000.0, "psi")
    if discharge < suction:
        raise OutOfRange("The discharge pressure is under the suction pressure: read both again.")
    return discharge / suction


def standing_excess_delta_degf(
    standing_psig: float, ambient_degf: float, refrigerant: str, altitude_ft: float = 0.0
) -> float:
    """How much warmer a condenser at rest looks by its pressure than it is.

    Liquid is present at rest, so the bubble point counts. Air in the system, or a contaminated charge, if it is
    much. Only with the whole rack off and the condenser at air temperature.

    Returns:
        Temperature difference [F degrees].

    Raises:
        OutOfRange: a reading off the chart.
    """
    check("The air temperature", ambient_degf, -40.0, 140.0, "degrees")
    return bubble_degf(standing_psig, refrigerant, altitude_ft) - ambient_degf


def standing_excess_delta_psi(
    standing_psig: float, ambient_degf: float, refrigerant: str, altitude_ft: float = 0.0
) -> float:
    """Pressure [psi] of a condenser at rest over that of clean refrigerant at air temperature."""
    check("The air temperature", ambient_degf, -40.0, 140.0, "degrees")
    return standing_psig - psig_from_pa(fluid.bubble_pa(k_from_degf(ambient_degf), refrigerant), altitude_ft)


def net_oil_delta_psi(pump_outlet_psig: float, crankcase_psig: float) -> float:
    """Net oil pressure: pump outlet minus crankcase [psi], read running; zero on a machine that is off."""
    return pump_outlet_psig - crankcase_psig


def boiling_water_degf(altitude_ft: float = 0.0) -> float:
    """Boiling point of water at the site [degF]: the hot bath of a probe check.

    Source:
        ASHRAE Fundamentals chapter 1 equation 6 (saturation pressure over liquid water), solved for
        the site's atmosphere; 212 at sea level, 194 at 10,000 ft.

    >>> round(boiling_water_degf(0.0)), round(boiling_water_degf(10000.0))
    (212, 194)
    """
    from math import log

    from assistant.trade.units import atmosphere_psia, pa_from_psi

    wanted = log(pa_from_psi(atmosphere_psia(altitude_ft)))
    low, high = 330.0, 380.0
    for _ in range(60):
        k = (low + high) / 2.0
        reached = (
            -5.8002206e3 / k + 1.3914993 - 4.8640239e-2 * k + 4.1764768e-5 * k * k - 1.4452093e-8 * k**3
            + 6.5459673 * log(k)
        )  # fmt: skip
        low, high = (k, high) if reached < wanted else (low, k)
    return degf_from_k(low)
