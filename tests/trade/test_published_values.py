"""Every row of checks.csv: a published value, its source beside it, and what we compute."""

import csv
import datetime
import re
from pathlib import Path

import pytest

from assistant.trade import discharge, electrical, leak, probe, refrigerant, units
from assistant.trade.circuit import compression_ratio, net_oil_delta_psi
from assistant.trade.liquid_feed import static_delta_psi

ROWS = list(csv.DictReader(Path(__file__).with_name("checks.csv").read_text(encoding="utf-8").splitlines()))
NUMBER = r"(-?[\d.]+(?:e-?\d+)?)"


def _named(text: str, name: str) -> tuple[float, str]:
    found = re.search(rf"\b{re.escape(name)}={NUMBER} ?([^;]*)", text)
    assert found is not None, f"{name} is not in {text!r}"
    return float(found[1]), found[2].strip()


def _kelvin(value: float, unit: str) -> float:
    return {"K": value, "degC": value + 273.15, "degF": (value - 32) / 1.8 + 273.15}[unit]


def _pascal(value: float, unit: str) -> float:
    return {
        "kPa abs": value * 1e3, "kPa": value * 1e3, "psig": (value + 14.696) * 6894.757,
        "psia": value * 6894.757,
        "barg": value * 1e5 + 101325.0,
    }[unit]  # fmt: skip


def _from_kelvin(value: float, unit: str) -> float:
    return {"degC": value - 273.15, "degF": (value - 273.15) * 1.8 + 32}[unit]


def _saturation_temperature(row: dict[str, str]) -> float:
    pressure = _pascal(*_named(row["inputs"], "P"))
    line = "bubble" if "bubble" in row["quantity"] + row["inputs"] else "dew"
    kelvin = (refrigerant.bubble_k if line == "bubble" else refrigerant.dew_k)(pressure, row["refrigerant"])
    return _from_kelvin(kelvin, row["unit"])


def _saturation_pressure(row: dict[str, str]) -> float:
    kelvin = _kelvin(*_named(row["inputs"], "T"))
    line = refrigerant.bubble_pa if "line=bubble" in row["inputs"] else refrigerant.dew_pa
    return line(kelvin, row["refrigerant"]) / 1e3


def _latent_heat(row: dict[str, str]) -> float:
    name, kelvin = row["refrigerant"], _kelvin(*_named(row["inputs"], "T"))
    pressure = refrigerant.dew_pa(kelvin, name)
    vapour, liquid = refrigerant.saturated_vapour(pressure, name), refrigerant.boiling_liquid(pressure, name)
    return (vapour.enthalpy_j_kg - liquid.enthalpy_j_kg) / 1e3


def _difference(row: dict[str, str]) -> float:
    name = row["refrigerant"]
    states = []
    for part in re.split(r"; (?=state|liquid)", row["inputs"]):
        if "saturated vapor at" in part:
            kelvin = float(re.search(NUMBER + " K", part)[1])  # type: ignore[index]
            states.append(refrigerant.saturated_vapour(refrigerant.dew_pa(kelvin, name), name))
            continue
        kelvin = float(re.search(rf"T={NUMBER} K", part)[1])  # type: ignore[index]
        pressure = float(re.search(rf"P={NUMBER} kPa", part)[1]) * 1e3  # type: ignore[index]
        phase = refrigerant.liquid if part.startswith("liquid") else refrigerant.gas
        states.append(phase(pressure, kelvin, name))
    first, second = states
    if "entropy" in row["quantity"]:
        return (second.entropy_j_kg_k - first.entropy_j_kg_k) / 1e3
    if row["quantity"] == "vapor_minus_liquid_enthalpy":
        first, second = second, first
    return (second.enthalpy_j_kg - first.enthalpy_j_kg) / 1e3


def _discharge(row: dict[str, str]) -> float:
    text = row["inputs"]
    at = discharge.Suction(
        _named(text, "P1")[0] - 14.696,
        _named(text, "T1")[0],
        _named(text, "P2")[0] - 14.696,
        row["refrigerant"],
    )
    return discharge.discharge_degf(at, _named(text, "eta")[0])


def _atmosphere(row: dict[str, str]) -> float:
    altitude, unit = _named(row["inputs"], "altitude")
    psia = units.atmosphere_psia(altitude if unit == "ft" else units.ft_from_m(altitude))
    return psia if row["unit"] == "psia" else units.pa_from_psi(psia) / 1e3


def _convert(row: dict[str, str]) -> float:
    return {
        "250 psi to kPa": lambda: units.pa_from_psi(250.0) / 1e3,
        "1 bar to psi": lambda: units.convert(1.0, "bar", "psi"),
        "10 inHg vacuum at altitude 0 ft to psia": lambda: units.psia_from_psig(
            units.psig_from_inhg_vacuum(10.0)
        ),
        "-40 degF to degC": lambda: units.convert(-40.0, "F", "C"),
        "18 degF difference to K": lambda: units.convert(18.0, "F", "C", difference=True),
        "25 lb to kg": lambda: units.convert(25.0, "lb", "kg"),
    }[row["inputs"]]()


def _unbalance(row: dict[str, str]) -> float:
    return electrical.unbalance_percent([float(n) for n in re.findall(NUMBER, row["inputs"].split("=")[1])])


def _ntc(row: dict[str, str]) -> float:
    text = row["inputs"]
    if "beta" in row["quantity"]:
        curve = probe.ProbeCurve(r25_ohm=_named(text, "R25")[0], beta_k=_named(text, "beta")[0])
    else:
        abc = _named(text, "A")[0], _named(text, "B")[0], _named(text, "C")[0]
        curve = probe.ProbeCurve(steinhart_hart=abc)
    return units.degc_from_degf(curve.degf(_named(text, "R")[0]))


def _leak(row: dict[str, str]) -> float:
    text = row["inputs"]
    full = _named(text, "full_charge")[0]
    if "rolling" in row["quantity"]:
        additions = re.search(r"days=([\d,]+) lb", text)[1]  # type: ignore[index]
        return leak.rolling_percent([float(n) for n in additions.split(",")], full)
    return leak.annualized_percent(
        _named(text, "added")[0], full, _named(text, "days_since_last_addition")[0]
    )


def _rule(row: dict[str, str]) -> leak.Rule | None:
    text = row["inputs"]
    category = re.search(r"category=([^;]+)", text)[1]  # type: ignore[index]
    day = datetime.date.fromisoformat(re.search(r"date=([\d-]+)", text)[1])  # type: ignore[index]
    return leak.leak_rule(row["refrigerant"], category, _named(text, "full_charge")[0], day)


def _computed(row: dict[str, str]) -> float:
    quantity, text = row["quantity"], row["inputs"]
    match quantity:
        case "saturation_temperature" | "normal_boiling_bubble" | "normal_boiling_dew":
            return _saturation_temperature(row)
        case "saturation_pressure":
            return _saturation_pressure(row)
        case "saturated_liquid_density":
            kelvin = _kelvin(*_named(text, "T"))
            return refrigerant.saturated_liquid(kelvin, row["refrigerant"]).density_kg_m3
        case "static_head_gradient":
            kelvin = _kelvin(float(re.search(rf"at {NUMBER} degC", text)[1]), "degC")  # type: ignore[index]
            return static_delta_psi(
                1.0, refrigerant.saturated_liquid(kelvin, row["refrigerant"]).density_kg_m3
            )
        case "static_loss_rule_of_thumb":
            return static_delta_psi(
                _named(text, "lift")[0], refrigerant.saturated_liquid(308.15, "R448A").density_kg_m3
            )
        case "latent_heat":
            return _latent_heat(row)
        case "vapor_enthalpy_difference" | "vapor_entropy_difference" | "vapor_minus_liquid_enthalpy":
            return _difference(row)
        case "isentropic_discharge_temperature" | "discharge_temperature":
            return _discharge(row)
        case "atmospheric_pressure":
            return _atmosphere(row)
        case "compression_ratio":
            return compression_ratio(_named(text, "suction")[0], _named(text, "discharge")[0])
        case "unbalance_derating_factor":
            return electrical.derating_factor(_named(text, "unbalance")[0])
        case "voltage_unbalance" | "current_unbalance" | "winding_resistance_unbalance":
            return _unbalance(row)
        case "gwp_blend":
            assert abs(leak.GWP[row["refrigerant"]] - float(row["expected"])) <= float(row["tolerance"])
            return leak.blend_gwp(row["refrigerant"])
        case "net_oil_pressure":
            return net_oil_delta_psi(_named(text, "oil pump outlet")[0], _named(text, "crankcase")[0])
        case "leak_rate_threshold":
            rule = _rule(row)
            assert rule is not None
            return rule.threshold_percent
    if quantity.startswith("convert"):
        return _convert(row)
    if quantity.startswith("ntc"):
        return _ntc(row)
    if quantity in ("leak_rate_annualizing", "leak_rate_rolling"):
        return _leak(row)
    raise AssertionError(f"no computation for {quantity}")


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_our_value_is_the_published_one_within_its_tolerance(row: dict[str, str]) -> None:
    if row["quantity"] == "leak_rule_applies":
        assert (_rule(row) is not None) is (row["expected"] == "yes")
        return
    assert abs(_computed(row) - float(row["expected"])) <= float(row["tolerance"]), row["source"]


def test_the_table_of_published_values_is_whole() -> None:
    assert len(ROWS) == 99
    assert len({row["id"] for row in ROWS}) == 99
    assert all(row["source"] for row in ROWS)
