"""When three windings are judged out of balance. Common practice; the figures are the site's limits."""

import pytest

from assistant.branches.motor.conditions import winding_bad
from tests.trade.paper_kit import case


@pytest.mark.parametrize(("ohms", "meter", "bad"), [
    ((4.1, 4.1, 4.2), "", False),
    ((4.1, 4.1, 4.7), "", True),
    ((0.41, 0.41, 0.47), "", False),  # an ordinary meter tells no balance so low
    ((0.41, 0.41, 0.47), "milliohm_meter", True),
    ((3.0, 3.0, 3.4), "", True),
    ((4.1, 4.1, 0.0), "", True),
])  # fmt: skip
def test_windings_are_judged_where_the_meter_can_tell(ohms: tuple[float, ...], meter: str, bad: bool):
    read = {f"winding_ohms.{pair}": value for pair, value in zip(("ab", "bc", "ca"), ohms, strict=True)}
    assert winding_bad(case(read, meter)) is bad
