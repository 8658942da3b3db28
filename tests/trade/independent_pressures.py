"""Test only: dew and bubble pressures of HFC blends from teqp, another library with another solver.

teqp's bundled pair file gives xi and zeta for the HFC pairs, which its multifluid builder takes wrongly;
they are turned into betas and gammas here.
"""

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
import teqp

DATA = Path(teqp.get_datapath()) / "dev"


def _load(*names: str) -> Any:
    return json.loads(DATA.joinpath(*names).read_text(encoding="utf-8"))


def _pair(entry: dict[str, Any], by_cas: dict[str, Any]) -> dict[str, Any]:
    """One binary pair with the parameters the builder takes rightly."""
    first, second = (by_cas[entry[key]]["EOS"][0]["STATES"]["reducing"] for key in ("CAS1", "CAS2"))
    if "xi" in entry:
        volumes = 1 / first["rhomolar"], 1 / second["rhomolar"]
        mean = (volumes[0] ** (1 / 3) + volumes[1] ** (1 / 3)) ** 3
        mixing = {
            "betaT": 1.0,
            "betaV": 1.0,
            "gammaT": 0.5 * (first["T"] + second["T"] + entry["xi"]) / (first["T"] * second["T"]) ** 0.5,
            "gammaV": 4 * (sum(volumes) + entry["zeta"]) / mean,
        }
    else:
        mixing = {key: entry[key] for key in ("betaT", "gammaT", "betaV", "gammaV")}
    names = {f"Name{i}": by_cas[entry[f"CAS{i}"]]["INFO"]["NAME"] for i in (1, 2)}
    cas = {key: entry[key] for key in ("CAS1", "CAS2")}
    return {**names, **cas, "BibTeX": "", "F": entry["F"], "function": entry.get("function") or "", **mixing}


def model(names: Sequence[str]) -> Any:
    """The mixture model of these pure fluids."""
    fluids = [_load("fluids", f"{name}.json") for name in names]
    by_cas = {fluid["INFO"]["CAS"]: fluid for fluid in fluids}
    pairs = _load("mixtures", "mixture_binary_pairs.json")
    wanted = [{a["INFO"]["CAS"], b["INFO"]["CAS"]} for i, a in enumerate(fluids) for b in fluids[i + 1 :]]
    binary = [_pair(next(p for p in pairs if {p["CAS1"], p["CAS2"]} == cas), by_cas) for cas in wanted]
    files = [str(DATA / "fluids" / f"{name}.json") for name in names]
    departure = _load("mixtures", "mixture_departure_functions.json")
    spec = {"components": files, "root": teqp.get_datapath(), "BIP": binary, "departure": departure}
    return teqp.make_model({"kind": "multifluid", "model": spec})


def _pressure(m: Any, kelvin: float, rho: float, x: Any) -> float:
    return float(rho * m.get_R(x) * kelvin + m.get_pr(kelvin, rho * x))


def _density(m: Any, kelvin: float, pressure: float, x: Any, guess: float) -> float:
    rho = guess
    for _ in range(80):
        step = rho * 1e-6
        slope = (_pressure(m, kelvin, rho + step, x) - _pressure(m, kelvin, rho - step, x)) / (2 * step)
        change = max(-0.2 * rho, min(0.2 * rho, -(_pressure(m, kelvin, rho, x) - pressure) / slope))
        rho += change
        if abs(change) < 1e-11 * rho:
            return rho
    raise RuntimeError("no density found")


def saturation_pa(
    m: Any, kelvin: float, moles: Sequence[float], dew: bool, guess_pa: float, liquid: float, vapour: float
) -> float:
    """Dew or bubble pressure [Pa] by successive substitution, from guessed densities [mol/m3]."""
    overall = np.array(moles)
    other, pressure = overall.copy(), guess_pa
    for _ in range(500):
        x, y = (other, overall) if dew else (overall, other)
        liquid, vapour = (_density(m, kelvin, pressure, *pair) for pair in ((x, liquid), (y, vapour)))
        ratio = m.get_fugacity_coefficients(kelvin, liquid * x) / m.get_fugacity_coefficients(
            kelvin, vapour * y
        )
        amounts = overall / ratio if dew else overall * ratio
        found = pressure / amounts.sum() if dew else pressure * amounts.sum()
        other = amounts / amounts.sum()
        if abs(found / pressure - 1) < 1e-11:
            return float(found)
        pressure = found
    raise RuntimeError("no saturation pressure found")
