"""Solves the stored dew and bubble lines with CoolProp again. Run it after CoolProp's equations change.

python -m tests.trade.make_lines
"""

from math import exp, log

import numpy as np
from CoolProp.CoolProp import get_global_param_string
from numpy.polynomial import Chebyshev

from assistant.trade.refrigerant import REFRIGERANTS, flashed_k
from assistant.trade.saturation import FILE
from assistant.trade.validity import OutOfRange

DEGREE = 24
COLDEST_K, HOTTEST_K = 273.15 - 60.5, 273.15 + 65.5
HIGHEST_PA = {"R22": 3600e3, "R134a": 2600e3, "R290": 3100e3, "R744": 7360e3}
LOWEST_PA, NEAR_CRITICAL_DEGREE = {"R744": 530e3}, {"R744": 36}


def pressure_pa(name: str, quality: float, temperature_k: float) -> float:
    """Pressure on a line at a temperature, by halving: the library's own flash at a temperature may fail."""
    low, high = log(1e4), log(5e6)
    while high - low > 1e-9:
        middle = (low + high) / 2
        try:
            over = flashed_k(exp(middle), quality, name) > temperature_k
        except (ValueError, OutOfRange):
            over = True  # over the critical point
        low, high = (low, middle) if over else (middle, high)
    return exp(low)


def main() -> None:
    """Write the file."""
    lines = [f"# 1/T [1/K] over ln p [ln Pa], Chebyshev. CoolProp {get_global_param_string('version')}; see saturation.py."]
    for name in REFRIGERANTS:
        low = LOWEST_PA.get(name) or pressure_pa(name, 1.0, COLDEST_K)
        high = HIGHEST_PA.get(name) or pressure_pa(name, 0.0, HOTTEST_K)
        lines += ["", f"[{name}]", f"lowest_pa = {low!r}", f"highest_pa = {high!r}"]
        for line, quality in (("dew", 1.0), ("bubble", 0.0)):
            inverse = np.vectorize(lambda x, q=quality, n=name: 1.0 / flashed_k(exp(x), q, n))
            fit = Chebyshev.interpolate(inverse, NEAR_CRITICAL_DEGREE.get(name, DEGREE), [log(low), log(high)])
            numbers = [f"{c:.17g}" for c in fit.coef]
            rows = [", ".join(numbers[i : i + 4]) for i in range(0, len(numbers), 4)]
            lines.append(f"{line} = [\n  " + ",\n  ".join(rows) + ",\n]")
        print(name, round(low), round(high))
    FILE.write_text("\n".join(lines) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
