"""What a table of paper cases is made of."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from assistant.language.meaning import Value
from assistant.trade.case import Case, SiteFacts, Standing

SITE = SiteFacts(
    refrigerant="R449A",
    control_volts=208.0,
    coil_ohms=400.0,
    starter_coil_ohms=60.0,
    ratio_limit=12.0,
    trip_temperature_degf=225.0,
    condenser_fans=6,
    head_minimum_psig=140.0,
    suction_set_point_psig=10.0,
    design_suction_degf=-25.0,
)


@dataclass(frozen=True)
class Row:
    """One line of the table."""

    cause: str
    standing: Standing
    case: Case
    miss: Case
    """Differs little, and must not reach `standing`."""

    @property
    def name(self) -> str:
        return f"{self.cause}-{self.standing}"


def case(readings: Mapping[str, Value], facts: str = "", site: SiteFacts = SITE, **derived: float) -> Case:
    return Case(readings, derived, frozenset(facts.split()), site)


def row(cause: str, standing: Standing, good: Case, **miss: Any) -> Row:
    """`miss`: `readings` changed (None: not taken), `without` a fact, `derived` changed."""
    readings = {**good.readings, **miss.get("readings", {})}
    derived = {**good.derived, **miss.get("derived", {})}
    return Row(
        cause,
        standing,
        good,
        replace(
            good,
            readings={name: value for name, value in readings.items() if value is not None},
            derived={name: value for name, value in derived.items() if value is not None},
            facts=good.facts - frozenset(miss.get("without", "").split()),
        ),
    )
