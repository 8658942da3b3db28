"""How long each derived value takes, beside CoolProp's general calls. Prints; asserts nothing.

python -m tests.bench.properties
"""

import statistics
import subprocess
import sys
import time
from collections.abc import Callable

from assistant.trade import discharge, refrigerant
from assistant.trade.case import SiteFacts
from assistant.trade.derive import DERIVED, Derived, derive_one
from assistant.trade.probe import ProbeCurve
from assistant.trade.units import pa_from_psig

READINGS: dict[str, float] = {
    "suction_pressure": 10.0, "suction_temperature": 12.0, "discharge_pressure": 230.0, "discharge_temperature": 225.0,
    "liquid_pressure": 215.0, "liquid_temperature": 93.0, "liquid_out_temperature": 88.0, "ambient_temperature": 70.0,
    "oil_pump_pressure": 45.0, "crankcase_pressure": 10.0, "crankcase_temperature": 70.0, "probe_pipe_temperature": 90.0,
    "probe_ohms": 70000.0, "probe_ohms.module_end": 71000.0, "probe_ohms.cleaned": 70500.0, "refrigerant_added": 20.0,
    "idle_condenser_pressure": 150.0, "line_volts.ab": 208.0, "line_volts.bc": 206.0, "line_volts.ca": 210.0,
    "line_amps.a": 20.0, "line_amps.b": 21.0, "line_amps.c": 20.5, "winding_ohms.ab": 1.2, "winding_ohms.bc": 1.21,
    "winding_ohms.ca": 1.19,
}  # fmt: skip
BLENDS = ("R407A", "R448A", "R455A")
TIMES = 31


def _site(name: str) -> SiteFacts:
    return SiteFacts(refrigerant=name, probe_curve=ProbeCurve("ntc", 100000.0, 4000.0), full_charge_lb=500.0, lift_ft=20.0)


def _one(name: str, id_: str, nudge: float = 0.0) -> Derived | None:
    return derive_one(id_, {i: value + nudge for i, value in READINGS.items()}, _site(name), "running")


def _milliseconds(call: Callable[[float], object]) -> float:
    """Median of single calls, each with readings a little different: nothing is remembered between them."""
    taken = []
    for i in range(TIMES):
        start = time.perf_counter()
        call(i * 1e-4)
        taken.append((time.perf_counter() - start) * 1e3)
    return statistics.median(taken)


def _first_ms(name: str, id_: str) -> float:
    """The same in a new process, CoolProp imported and nothing else done."""
    code = (
        "import time, CoolProp.CoolProp\nfrom tests.bench import properties as p\nstart = time.perf_counter()\n"
        f"p._one({name!r}, {id_!r})\nprint((time.perf_counter() - start) * 1e3)"
    )
    return float(subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True).stdout)


def _beside_the_general_call(name: str) -> None:
    from CoolProp.CoolProp import PropsSI

    fluid, p1, p2 = refrigerant.REFRIGERANTS[name].fluid, pa_from_psig(10.0), pa_from_psig(230.0)
    entropy = refrigerant.gas(p1, 261.0, name).entropy_j_kg_k
    ours = (_milliseconds(lambda more: refrigerant.dew_k(p1 + more, name)),
            _milliseconds(lambda more: refrigerant.gas_at_entropy(p2 + more, entropy, name, 360.0)))  # fmt: skip
    start = time.perf_counter()
    PropsSI("T", "P", p1, "Q", 1, fluid)
    middle = time.perf_counter()
    PropsSI("T", "P", p2, "S", entropy, fluid)
    theirs = (middle - start) * 1e3, (time.perf_counter() - middle) * 1e3
    for what, mine, general in zip(("dew point", "end of a perfect compression"), ours, theirs, strict=True):
        print(f"  {what:30s} {mine:8.3f} ms   PropsSI {general:9.3f} ms   {general / mine:8.1f} times")


def main() -> None:
    """Import time; the general calls; then every derived value, warm, and the slowest ones the first time."""
    start = time.perf_counter()
    refrigerant.warm_up("R22")
    print(f"import and first state {(time.perf_counter() - start) * 1e3:.0f} ms")
    for name in ("R22", "R404A", *BLENDS):
        refrigerant.warm_up(name)
        discharge.discharge_band(discharge.Suction(10.0, 10.0, 230.0, name))
        print(name)
        _beside_the_general_call(name)
        warm = {}
        for id_ in DERIVED:
            if (found := _one(name, id_)) is not None:
                warm[id_] = _milliseconds(lambda more, i=id_, n=name: _one(n, i, more))  # type: ignore[misc]
                if found.value is None:
                    print(f"  {id_}: {found.reason}")
        slowest = sorted(warm, key=lambda i: -warm[i])[:5]
        print(f"  {len(warm)} derived values, warm: slowest " + ", ".join(f"{i} {warm[i]:.2f} ms" for i in slowest))
        first = {id_: _first_ms(name, id_) for id_ in (*slowest[:3], "superheat")}
        print("  the first time: " + ", ".join(f"{i} {ms:.0f} ms" for i, ms in first.items()))


if __name__ == "__main__":
    main()
