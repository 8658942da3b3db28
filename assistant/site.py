"""A site as its profile describes it."""

from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

from assistant.trade.limits import USUAL, Limits
from assistant.trade.probe import ProbeCurve
from assistant.trade.uncertainty import Instruments

DEMO_SITE = Path(__file__).with_name("demo_site.toml")
REFRIGERANTS = (
    "R22", "R134a", "R404A", "R407A", "R407C", "R407F", "R410A", "R448A", "R449A", "R454A", "R454C",
    "R455A", "R507A", "R290", "R744",
)  # fmt: skip
FLAMMABLE = frozenset({"R454A", "R454C", "R455A", "R290"})
CONTACTS = ("oil", "high pressure", "low pressure", "motor", "discharge")


@dataclass(frozen=True)
class Contact:
    name: str
    """One of `CONTACTS`."""
    strip: int
    """Number on the panel's strip: what the technician is asked by."""
    kind: str
    """`mechanical`, or `held` closed by a powered module: open says nothing while its supply is off."""


@dataclass(frozen=True)
class Panel:
    control_volts: float
    control_isolator_stops: str
    """`compressor` or `rack`: what the only control switch stops."""
    drive: bool
    capacitors: bool
    contacts: tuple[Contact, ...]
    fuses: tuple[str, ...]
    ways_to_block_start: str
    rated_amps: float
    starter_coil_ohms: float = 0.0
    """A good starter coil; 0 where nobody knows."""
    discharge_reset: Literal["manual", "automatic"] = "manual"
    """How the discharge protection comes back after its trip."""
    winding_sets: int = 1
    """2 for a part-winding motor: its leads are read set by set."""


@dataclass(frozen=True)
class Probe:
    kind: str
    mount: str
    place: str
    trip_degf: float
    inject_degf: float
    test_plug: str
    curve: ProbeCurve | None
    """Ohms over temperature, by the maker's sheet; None for a thermostat."""

    @property
    def feed_test_possible(self) -> bool:
        """The test plug makes the module see a hot probe (S13). A plain jumper does so for an NTC only."""
        return (self.kind, self.test_plug) in {
            ("ntc", "jumper"), ("ntc", "resistor"), ("ptc", "resistor"), ("rtd", "resistor"),
        }  # fmt: skip


@dataclass(frozen=True)
class Injection:
    coil_ohms: float | None
    """Ohms of a good coil; None where nobody knows: then a like coil is read beside it."""
    coil_volts: float
    line_in_sight: bool
    output_own_feed: bool = True
    """The module's output is a dry contact with a feed of its own."""


@dataclass(frozen=True)
class Compressor:
    id: str
    tag: str
    """Words on the tag of its disconnect."""


@dataclass(frozen=True)
class Rack:
    id: str
    spoken: tuple[str, ...]
    refrigerant: str
    full_charge_lb: float
    """0 where nobody knows: then there is no leak rate."""
    suction_set_point_psig: float
    head_minimum_psig: float
    condenser_fans: int
    liquid_lift_ft: float
    liquid_line_psi: tuple[float, ...]
    closed_room: bool
    panel: Panel
    probe: Probe
    injection: Injection
    compressors: tuple[Compressor, ...]
    machine_kind: str = "reciprocating"
    oil: str = ""
    """`mineral` or `ester`; empty where nobody knows."""
    high_cutout_psig: float = 0.0
    low_cutout_psig: float | None = None
    """Settings of the pressure controls; 0 and None where they are read at the control."""
    ratio_limit: float | None = None
    """Compression ratio of the maker's map for this refrigerant; None where nobody knows."""
    design_suction_degf: float | None = None
    """Dew point of the suction that the rack was laid out for; None where nobody knows."""
    limits: Limits = USUAL
    """Thresholds: the rack's own, else the site's, else the usual."""

    @property
    def flammable(self) -> bool:
        return self.refrigerant in FLAMMABLE


@dataclass(frozen=True)
class Person:
    id: str
    spoken: tuple[str, ...]
    name: str


@dataclass(frozen=True)
class Site:
    name: str
    spoken: tuple[str, ...]
    street_address: str
    emergency_number: str
    roof_access: str
    main_disconnect: str
    ventilation_switch: str
    eyewash: str
    altitude_ft: float
    units: str
    category: str
    watch_minutes: tuple[float, ...]
    dead_minutes: float
    check_in_minutes: float
    """Silence after which a lone worker is asked for a sign; 0 for never."""
    racks: tuple[Rack, ...]
    people: tuple[Person, ...]
    technicians: tuple[Person, ...] = ()
    """Who may be speaking; one alone is named without being asked."""
    instruments: Instruments = field(default_factory=Instruments)
    """How far the technician's instruments can be off."""
    source: str = field(default="", compare=False)
    """The file it came from."""
