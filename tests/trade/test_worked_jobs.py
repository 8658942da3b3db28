"""The six worked jobs of scenarios.json: every derived value, from the raw readings alone.

Their values were computed by a separate script on CoolProp's slow general calls; ours take the fast ones.
"""

import json
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from assistant.branches.diagnosis import diagnose
from assistant.language.meaning import Value
from assistant.trade import circuit, discharge, electrical, leak, liquid_feed, probe, units
from assistant.trade.case import Case, SiteFacts
from assistant.trade.derive import bands, derive, values
from assistant.trade.limits import Limits
from assistant.trade.probe import ProbeCurve

JOBS = json.loads(Path(__file__).with_name("scenarios.json").read_text(encoding="utf-8"))["scenarios"]
CASES = [(job, name) for job in JOBS for name in job["derived"]]


def _suction(job: dict[str, Any]) -> discharge.Suction:
    readings = job["readings"]
    return discharge.Suction(
        readings["suction_gauge"], readings["return_gas_temp"], readings["discharge_gauge"],
        job["refrigerant"],
        job["altitude_ft"],
    )  # fmt: skip


def _changed(job: dict[str, Any], name: str) -> tuple[discharge.Suction, str]:
    kind, number, wanted = re.fullmatch(r"what_if_(return_gas|head)_(-?\d+)_?(.*)", name).groups()  # type: ignore[union-attr]
    at = _suction(job)
    field = "return_gas_degf" if kind == "return_gas" else "discharge_psig"
    values = {**at.__dict__, field: float(number)}
    return discharge.Suction(**values), wanted


def _feed(job: dict[str, Any], number: str) -> liquid_feed.Feed:
    readings = job["readings"]
    losses = liquid_feed.Losses(
        readings["lift_ft"], readings["drier_drop_psi"], readings["line_drop_psi_to_compressor"][number]
    )
    where = job["refrigerant"], job["altitude_ft"]
    return liquid_feed.liquid_feed(readings["liquid_gauge"], readings["liquid_temp"], losses, *where)


def _from_feed(job: dict[str, Any], name: str) -> float:
    number, wanted = re.fullmatch(r"compressor_(\d)_(.+)", name).groups()  # type: ignore[union-attr]
    feed = _feed(job, number)
    return {
        "static_loss": feed.static_delta_psi,
        "feed_abs": feed.valve_psig + units.atmosphere_psia(job["altitude_ft"]),
        "required_subcooling": feed.required_subcooling_delta_degf,
        "flash_margin": feed.flash_margin_delta_degf,
        "flash_quality": 100.0 * feed.vapour_mass_fraction,
        "flash_volume": 100.0 * feed.vapour_volume_fraction,
    }[wanted]


def _injection(job: dict[str, Any], target_degf: float) -> discharge.Injection:
    readings = job["readings"]
    uncooled = discharge.discharge_degf(_suction(job), 0.65)
    return discharge.injection_needed(
        _suction(job), uncooled, target_degf, readings["liquid_gauge"], readings["liquid_temp"]
    )


def _circuit(job: dict[str, Any], name: str) -> float | None:
    readings, where = job["readings"], (job["refrigerant"], job["altitude_ft"])
    low, high, air = readings["suction_gauge"], readings["discharge_gauge"], readings["condenser_air_in"]
    values = {
        "atmospheric_pressure": lambda: units.atmosphere_psia(job["altitude_ft"]),
        "suction_abs": lambda: units.psia_from_psig(low, job["altitude_ft"]),
        "discharge_abs": lambda: units.psia_from_psig(high, job["altitude_ft"]),
        "suction_dew": lambda: circuit.dew_degf(low, *where),
        "suction_superheat": lambda: circuit.superheat_delta_degf(low, readings["return_gas_temp"], *where),
        "compression_ratio": lambda: circuit.compression_ratio(low, high, job["altitude_ft"]),
        "condensing_dew": lambda: circuit.dew_degf(high, *where),
        "condensing_bubble": lambda: circuit.bubble_degf(high, *where),
        "condensing_midpoint": lambda: circuit.midpoint_degf(high, *where),
        "condensing_td_midpoint": lambda: circuit.condensing_difference_delta_degf(high, air, *where),
        "condensing_td_dew": lambda: circuit.dew_degf(high, *where) - air,
        "liquid_bubble": lambda: circuit.bubble_degf(readings["liquid_gauge"], *where),
        "subcooling": lambda: circuit.subcooling_delta_degf(
            readings["liquid_gauge"], readings["liquid_temp"], *where
        ),
        "suction_line_gain": lambda: (
            circuit.superheat_delta_degf(low, readings["return_gas_temp"], *where)
            - readings["case_superheat_degF"]
        ),
    }
    return values[name]() if name in values else None


def _electrical_and_probe(job: dict[str, Any], name: str) -> float:
    readings = job["readings"]
    if name.endswith("_unbalance"):
        return electrical.unbalance_percent(readings["voltages" if name.startswith("voltage") else "amps"])
    if name == "leak_rate_annualized":
        return leak.annualized_percent(
            readings["refrigerant_added_lb"], readings["full_charge_lb"], readings["days_since_last_addition"]
        )
    curve = probe.ProbeCurve(r25_ohm=readings["probe_R25_ohms"], beta_k=readings["probe_beta_K"])
    ohms = readings["probe_ohms_in_place" if name.endswith("in_place") else "probe_ohms_after_cleaning"]
    if name.startswith("probe_temp"):
        return curve.degf(ohms)
    return probe.probe_error_delta_degf(curve, ohms, readings["reference_thermometer_on_line"])


def _derived(job: dict[str, Any], name: str) -> float:
    line = job["readings"]["discharge_line_temp"]
    value = _circuit(job, name)
    if value is not None:
        return value
    if name == "isentropic_discharge_temp":
        return discharge.discharge_degf(_suction(job), 1.0)
    if name.startswith("expected_discharge_temp_eta_"):
        return discharge.discharge_degf(_suction(job), float(name.rpartition("_")[2]))
    if name == "margin_to_line_limit_225F":
        return discharge.margin_delta_degf(line, 225.0)
    if name == "estimated_valve_temp":
        return discharge.valve_degf(line)
    if name == "implied_isentropic_efficiency":
        return discharge.implied_efficiency(_suction(job), line)
    if name.startswith("injection_mass"):
        needed = _injection(job, float(name.rpartition("_")[2]))
        return needed.fraction if "fraction" in name else needed.per_suction_gas
    if name.startswith("what_if"):
        changed, wanted = _changed(job, name)
        if wanted == "ratio":
            return circuit.compression_ratio(changed.suction_psig, changed.discharge_psig, job["altitude_ft"])
        before = discharge.discharge_degf(_suction(job), 0.65) if wanted == "change" else 0.0
        return discharge.discharge_degf(changed, 0.65) - before
    if name.startswith("compressor_"):
        return _from_feed(job, name)
    return _electrical_and_probe(job, name)


@pytest.mark.parametrize(("job", "name"), CASES, ids=[f"{job['id']}-{name}" for job, name in CASES])
def test_a_worked_job_gives_its_value(job: dict[str, Any], name: str) -> None:
    wanted = job["derived"][name]
    allowed = max(abs(wanted["value"]) * 0.005, 0.0006)  # the file keeps three decimals
    if wanted["unit"] == "degF":
        allowed = 0.5
    assert abs(_derived(job, name) - wanted["value"]) <= min(allowed, wanted["tolerance"]), wanted


def test_the_fallback_is_taken_where_the_direct_flash_of_a_blend_fails() -> None:
    from CoolProp.CoolProp import PQ_INPUTS, AbstractState

    state = AbstractState("HEOS", "R407F.mix")
    with pytest.raises(ValueError, match="solver_rho_Tp"):
        state.update(PQ_INPUTS, units.pa_from_psig(326.0), 0.0)
    assert circuit.bubble_degf(326.0, "R407F") == pytest.approx(119.306, abs=0.05)


# The jobs' readings under the vocabulary's ids, with what was established on the way to them.
CURVE = ProbeCurve(r25_ohm=100_000.0, beta_k=4000.0)
SITE = SiteFacts(probe_curve=CURVE, trip_temperature_degf=225.0)
CONCLUSIONS: list[tuple[str, str, SiteFacts, dict[str, Value], str]] = [
    ("S1", "probe_fouled", replace(SITE, coil_ohms=18.0, control_volts=24.0), {
        "probe_ohms": 5250.0, "probe_ohms.module_end": 5250.0, "probe_ohms.cleaned": 8050.0, "probe_cleaned": "yes",
        "probe_pipe_temperature": 201.0, "injection_feed": "feeding", "injection_coil_ohms": 18.2,
    }, ""),
    ("S2", "injection_coil_failed", replace(SITE, control_volts=208.0), {
        "injection_coil_volts": 208.0, "injection_coil_ohms": "over_range", "injection_feed": "dry",
    }, "dead_when_coil_read"),
    ("S3", "module_no_output", replace(SITE, control_volts=120.0, coil_ohms=640.0), {
        "module_supply_volts": 119.0, "module_output_volts": 0.0, "injection_coil_ohms": 640.0, "injection_feed": "dry",
        "module_output_fuse": "good", "module_enabled": "run signal", "module_feed_volts": 119.0,
        "probe_ohms.module_end": 2950.0, "probe_pipe_temperature": 268.0, "injection_coil_volts": "none_present",
    }, "feed_test_run stimulus_right timer_elapsed low_impedance dead_when_coil_read"),
    ("S4", "refrigerant_low", replace(SITE, lift_ft=14.0, liquid_line_delta_psi=8.0, full_charge_lb=520.0,
                                      limits=Limits(drier_clean_delta_psi=3.0)), {
        "receiver_level": 4.0, "sight_glass": "bubbles", "leak_found": "yes", "tripped_count": 3.0,
        "drier_temperature_drop": 1.0, "defrost_state": "none", "heat_reclaim": "off", "refrigerant_added": 45.0,
    }, "rack_steady at_load several_off"),
    ("S5", "condenser_fouled", replace(SITE, condenser_fans=6, head_minimum_psig=200.0), {
        "condenser_fans_called": 6.0, "condenser_fans_running": 6.0, "condenser_face": "blocked", "heat_reclaim": "off",
        "injection_feed": "feeding",
    }, "every_fan_called"),
    ("S6", "return_gas_hot", SITE, {}, ""),
]  # fmt: skip


@pytest.mark.parametrize(("job_id", "cause", "site", "said", "facts"), CONCLUSIONS, ids=[c[0] for c in CONCLUSIONS])
def test_a_worked_job_ends_in_what_its_technician_concludes(
    job_id: str, cause: str, site: SiteFacts, said: dict[str, Value], facts: str
) -> None:
    job = next(job for job in JOBS if job["id"] == job_id)
    told = job["readings"]
    readings: dict[str, Value] = {
        "suction_pressure": told["suction_gauge"], "suction_temperature": told["return_gas_temp"],
        "discharge_pressure": told["discharge_gauge"], "rack_discharge_pressure": told["discharge_gauge"],
        "discharge_temperature": told["discharge_line_temp"], "liquid_pressure": told["liquid_gauge"],
        "liquid_temperature": told["liquid_temp"], "ambient_temperature": told["condenser_air_in"], "running_now": "running",
    } | said  # fmt: skip
    site = replace(site, refrigerant=job["refrigerant"], altitude_ft=job["altitude_ft"])
    derived = derive(readings, site, "running")
    found = diagnose(Case(readings, values(derived), frozenset(facts.split()), site, bands(derived)))
    assert {one.cause for one in found if one.standing == "proven"} - {"head_high"} == {cause}
    assert next(one for one in found if one.cause == cause).uncertain == ()
