"""How long the property calls take, beside CoolProp's general call. Prints; asserts nothing.

python -m tests.bench.properties
"""

import statistics
import time
from collections.abc import Callable

from assistant.refrigeration import circuit, discharge, refrigerant
from assistant.refrigeration.liquid_feed import Losses, liquid_feed
from assistant.refrigeration.units import pa_from_psig

MIXED = {name: entry.fluid for name, entry in refrigerant.REFRIGERANTS.items()}


def _forget() -> None:
    for kept in (refrigerant.dew_k, refrigerant.bubble_k, refrigerant.gas, refrigerant.liquid,
                 refrigerant.dew_pa, refrigerant.bubble_pa):  # fmt: skip
        kept.cache_clear()


def _milliseconds(call: Callable[[], object], times: int) -> float:
    """Median of single calls, nothing remembered between them."""
    taken = []
    for _ in range(times):
        _forget()
        start = time.perf_counter()
        call()
        taken.append((time.perf_counter() - start) * 1e3)
    return statistics.median(taken)


def _line(what: str, ours_ms: float, theirs_ms: float | None = None) -> None:
    beside = f"   general call {theirs_ms:9.3f} ms   {theirs_ms / ours_ms:7.1f} times" if theirs_ms else ""
    print(f"{what:34s} {ours_ms:9.3f} ms{beside}")


def main() -> None:
    """Import time, then per refrigerant: dew, isentropic end, band, liquid feed."""
    start = time.perf_counter()
    refrigerant.warm_up("R22")
    print(f"import and first state             {(time.perf_counter() - start) * 1e3:9.0f} ms")
    from CoolProp.CoolProp import PropsSI

    for name in ("R22", "R404A", "R407A", "R448A", "R449A"):
        start = time.perf_counter()
        refrigerant.warm_up(name)
        print(f"{name}\n  first state                      {(time.perf_counter() - start) * 1e3:9.0f} ms")
        fluid, p1, p2 = MIXED[name], pa_from_psig(10.0), pa_from_psig(230.0)
        at = discharge.Suction(10.0, 10.0, 230.0, name)
        gas = refrigerant.gas(p1, 261.0, name)
        degf = circuit.bubble_degf(200.0, name) - 1.0  # so near that lift and drier make it flash
        slow = 3 if fluid.endswith(".mix") else 20
        _line(
            "  dew point",
            _milliseconds(lambda p1=p1, name=name: refrigerant.dew_k(p1, name), 30),  # type: ignore[misc]
            _milliseconds(lambda p1=p1, fluid=fluid: PropsSI("T", "P", p1, "Q", 1, fluid), slow),  # type: ignore[misc]
        )
        _line(
            "  end of a perfect compression",
            _milliseconds(
                lambda p2=p2, name=name, s=gas.entropy_j_kg_k: refrigerant.gas_at_entropy(p2, s, name, 360.0),  # type: ignore[misc]
                30,
            ),
            _milliseconds(
                lambda p2=p2, fluid=fluid, s=gas.entropy_j_kg_k: PropsSI("T", "P", p2, "S", s, fluid), slow
            ),  # type: ignore[misc]
        )
        _line("  discharge band", _milliseconds(lambda at=at: discharge.discharge_band(at), 30))  # type: ignore[misc]
        _line(
            "  liquid feed with flash",
            _milliseconds(
                lambda name=name, degf=degf: liquid_feed(200.0, degf, Losses(20.0, 3.0, 8.0), name), 10
            ),  # type: ignore[misc]
        )
    _line("bubble of R407F in a failing band", _milliseconds(lambda: circuit.bubble_degf(326.0, "R407F"), 10))


if __name__ == "__main__":
    main()
