"""A site's profile says what is fitted there; what is wrong with it is named by line."""

import re
from dataclasses import fields, replace
from pathlib import Path

import pytest

from assistant.branches.diagnosis import diagnose
from assistant.call.judge import site_facts
from assistant.profile import DEMO_SITE, ProfileFaults, Site, load_profile
from assistant.trade.case import Case, SiteFacts
from assistant.trade.limits import Limits
from tests.branch_rack import BranchRack
from tests.talk import Talk

TEXT = DEMO_SITE.read_text(encoding="utf-8")
BETA = TEXT[TEXT.index("r25_ohm = 100000") : TEXT.index("trip_degf = 250")]


def changed(folder: Path, old: str, new: str) -> Site:
    assert old in TEXT
    file = folder / "site.toml"
    file.write_text(TEXT.replace(old, new, 1), encoding="utf-8")
    return load_profile(file)


@pytest.mark.parametrize(
    ("kind", "curve", "degf", "ohm"),
    [
        ("ntc", "r25_ohm = 100000\nbeta_k = 4000\n", 77.0, 100000.0),
        # A common 10 kohm curve: 32650 ohm at 0 C (its published table).
        ("ntc", "steinhart_hart = [1.129148e-3, 2.34125e-4, 8.76741e-8]\n", 32.0, 32650.0),
        ("ptc", "table = [[32, 700], [77, 1000], [212, 2000]]\n", 77.0, 1000.0),
        # IEC 60751: 138.5055 ohm at 100 C.
        ("rtd", "r0_ohm = 100\n", 212.0, 138.5055),
    ],
)
def test_the_probes_curve_is_given_as_its_maker_gives_it(
    tmp_path: Path, kind: str, curve: str, degf: float, ohm: float
) -> None:
    whole = TEXT[TEXT.index('kind = "ntc"  ') : TEXT.index("trip_degf = 250")]
    site = changed(tmp_path, whole, whole.replace('"ntc"', f'"{kind}"', 1).replace(BETA, curve))
    found = site.racks[0].probe.curve
    assert found is not None
    assert found.ohm(degf) == pytest.approx(ohm, rel=1e-3)


def test_two_curves_for_one_probe_are_a_fault_with_its_line(tmp_path: Path) -> None:
    with pytest.raises(ProfileFaults, match=r"site.toml, line \d+: a probe's curve is one of"):
        changed(tmp_path, BETA, BETA + "r0_ohm = 100\n")


def test_a_table_that_is_no_table_is_a_fault_with_its_line(tmp_path: Path) -> None:
    with pytest.raises(ProfileFaults, match=r"site.toml, line \d+: 'table' is a list of \[degF, ohm\] pairs"):
        changed(tmp_path, BETA, "table = [32, 700]\n")


def test_a_better_gauge_is_said_in_the_profile(tmp_path: Path) -> None:
    assert load_profile().instruments.gauge_delta_psi == 1.0
    assert changed(tmp_path, "gauge_delta_psi = 1.0", "gauge_delta_psi = 0.25").instruments.gauge_delta_psi == 0.25


def test_a_site_that_says_nothing_of_its_instruments_has_the_usual_ones(tmp_path: Path) -> None:
    part = TEXT[TEXT.index("[site.instruments]") : TEXT.index("[[person]]")]
    assert changed(tmp_path, part, "").instruments == load_profile().instruments


def test_an_instrument_nobody_knows_is_a_fault_with_its_line(tmp_path: Path) -> None:
    with pytest.raises(ProfileFaults, match=r"site.toml, line \d+: 'nose_percent' is not known here"):
        changed(tmp_path, "gauge_delta_psi = 1.0", "nose_percent = 1.0")


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('machine_kind = "reciprocating"', 'machine_kind = "rotary"', "reciprocating, scroll, screw"),
        ('oil = "mineral"', 'oil = "olive"', "mineral, ester"),
        ("starter_coil_ohms = 120", "starter_coil_ohms = -1", "between 0 and"),
        ("# winding_sets = 2", "winding_sets = 3", "between 1 and 2"),
        ("# high_cutout_psig = 350", "high_cutout_psig = 5000", "between 0 and 1800"),
    ],
)
def test_what_the_branches_want_of_a_profile_is_checked_with_its_line(tmp_path: Path, old: str, new: str, words: str):
    text = DEMO_SITE.read_text(encoding="utf-8")
    assert old in text
    file = tmp_path / "site.toml"
    file.write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(ProfileFaults, match=words):
        load_profile(file)


def test_a_profile_need_not_know_oil_cutouts_or_coil(tmp_path: Path):
    lines = DEMO_SITE.read_text(encoding="utf-8").splitlines()
    bare = [line for line in lines if not line.startswith(("oil =", "high_cutout", "low_cutout", "starter_coil", "machine_kind"))]
    file = tmp_path / "site.toml"
    file.write_text("\n".join(bare), encoding="utf-8")
    rack = load_profile(file).racks[1]
    assert (rack.oil, rack.high_cutout_psig, rack.low_cutout_psig, rack.machine_kind) == ("", 0, None, "reciprocating")


# ---- limits


def with_limits(folder: Path, site: str = "", rack_a: str = "", rack_b: str = "") -> Site:
    """The demo site with limits of its own, and of its racks a and b; each text is lines of its table."""
    text = TEXT
    for marker, part, table in (('[[person]]\nid = "supervisor"', site, "site"), ("[rack.panel]", rack_a, "rack")):
        text = text.replace(marker, f"[{table}.limits]\n{part}\n{marker}", 1) if part else text
    if rack_b:
        before, after = text.split('id = "b"')
        text = before + 'id = "b"' + after.replace("[rack.panel]", f"[rack.limits]\n{rack_b}\n[rack.panel]", 1)
    file = folder / "site.toml"
    file.write_text(text, encoding="utf-8")
    return load_profile(file)


def line_of(folder: Path, words: str) -> int:
    lines = (folder / "site.toml").read_text(encoding="utf-8").splitlines()
    return next(number for number, line in enumerate(lines, 1) if line.startswith(words))


def found_at_rack_a(site: Site, fault: str) -> set[str]:
    """What a whole call on paper proves at the simulated machine, by this site's profile."""
    state = Talk(site).to_the_seal(BranchRack(fault)).dialogue.state
    return {c.cause for c in state.conclusions.values() if c.standing == "proven"}


@pytest.mark.parametrize(
    ("limits", "proven"),
    [
        ({}, True),  # six pounds across a suction filter
        ({"site": "suction_filter_limit_delta_psi = 8"}, False),
        ({"site": "suction_filter_limit_delta_psi = 8", "rack_a": "suction_filter_limit_delta_psi = 4.5"}, True),
        ({"rack_a": "suction_filter_limit_delta_psi = 8"}, False),
        ({"rack_b": "suction_filter_limit_delta_psi = 8"}, True),
    ],
)
def test_a_rack_s_limit_goes_before_the_site_s_and_that_before_the_usual(
    tmp_path: Path, limits: dict[str, str], proven: bool
) -> None:
    found = found_at_rack_a(with_limits(tmp_path, **limits), "suction filter")
    assert ("suction_restricted" in found) == proven


def test_a_machine_with_a_limit_for_its_starts_is_judged_by_it(tmp_path: Path) -> None:
    assert "short_cycling" in found_at_rack_a(load_profile(), "short cycling")  # fourteen starts in the hour
    busy = with_limits(tmp_path, rack_a="starts_per_hour_limit = 20")
    assert "short_cycling" not in found_at_rack_a(busy, "short cycling")


def test_a_limit_that_nobody_sets_is_the_usual(tmp_path: Path) -> None:
    racks = with_limits(tmp_path, site="drier_bad_delta_degf = 5", rack_b="warm_air_degf = 50").racks
    assert racks[0].limits == Limits(drier_bad_delta_degf=5.0)
    assert racks[1].limits == Limits(drier_bad_delta_degf=5.0, warm_air_degf=50.0)
    assert {rack.limits for rack in load_profile().racks} == {Limits()}


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("drier_bad_delta = 5", "'drier_bad_delta' is not known here; 'drier_bad_delta_degf' is"),
        ("moon = 5", "'moon' is not known here$"),
        ('drier_bad_delta_degf = "five"', "'drier_bad_delta_degf' is 'five'; a number is wanted"),
        ("drier_bad_delta_degf = true", "'drier_bad_delta_degf' is True; a number is wanted"),
        ("drier_bad_delta_degf = 50", "'drier_bad_delta_degf' is 50; it lies between 1 and 15"),
        ("drier_bad_delta_degf = nan", "'drier_bad_delta_degf' is nan; a number is wanted"),
        ("drier_bad_delta_degf = 1.5", "'drier_good_delta_degf' is 2 and 'drier_bad_delta_degf' is 1.5: the other way round"),
        ("receiver_low_percent = 30", "'receiver_low_percent' is 30 and 'receiver_normal_percent' is 20: the other way round"),
    ],
)
@pytest.mark.parametrize("place", ["site", "rack_a", "rack_b"])
def test_a_limit_that_cannot_be_is_a_fault_with_its_line(tmp_path: Path, place: str, line: str, words: str) -> None:
    with pytest.raises(ProfileFaults) as caught:
        with_limits(tmp_path, **{place: line})
    (fault,) = caught.value.faults
    assert fault.startswith(f"site.toml, line {line_of(tmp_path, line)}: ")
    assert re.search(words, fault)


def test_a_rack_that_turns_the_site_s_pair_round_is_the_one_at_fault(tmp_path: Path) -> None:
    with pytest.raises(ProfileFaults) as caught:
        with_limits(tmp_path, site="drier_bad_delta_degf = 6", rack_a="drier_good_delta_degf = 7")
    (fault,) = caught.value.faults
    assert f"line {line_of(tmp_path, 'drier_good_delta_degf = 7')}: " in fault


def test_limits_that_are_no_table_are_a_fault_with_its_line(tmp_path: Path) -> None:
    with pytest.raises(ProfileFaults, match="'limits' is 3; a table is wanted") as caught:
        changed(tmp_path, "dead_minutes = 30 ", "limits = 3\ndead_minutes = 30 ")
    assert f"line {line_of(tmp_path, 'limits = 3')}: " in caught.value.faults[0]


# ---- what only this site knows

KNOWN = {
    "closed_room = true\nmachine_kind": "ratio_limit = 12\ndesign_suction_degf = -25\nclosed_room = true\nmachine_kind",
    "rated_amps = 34\n": 'rated_amps = 34\ndischarge_reset = "automatic"\n',
    "line_in_sight = true\n": "line_in_sight = true\noutput_own_feed = false\n",
    "level_percent = 2.0 ": "meter_top_ohm = 40_000_000\nlevel_percent = 2.0 ",
}


def facts_of_rack_a(folder: Path, *, known: bool) -> SiteFacts:
    text = TEXT
    for old, new in KNOWN.items() if known else ():
        assert old in text
        text = text.replace(old, new, 1)
    file = folder / "site.toml"
    file.write_text(text, encoding="utf-8")
    site = load_profile(file)
    return site_facts(Talk(site).dialogue.state, site.racks[0])


JUDGED_BY_THEM = [
    (
        "module_false_trip", "proven",
        Case({"probe_ohms.module_end": 70_000.0, "module_supply_volts": 208.0},
             {"probe_error_delta_degf": 1.5, "probe_curve_ohms": 72_000.0, "probe_reads_degf": 91.5},
             frozenset({"standing_over_an_hour", "contact_open:discharge_temperature", "timer_elapsed"})),
    ),
    (
        "module_no_output", "proven",
        Case({"module_supply_volts": 208.0, "module_output_volts": 0.0, "module_enabled": "run signal",
              "module_output_fuse": "good", "injection_coil_ohms": 410.0}, {},
             frozenset({"stimulus_right", "timer_elapsed", "low_impedance", "dead_when_coil_read"})),
    ),
    (
        "probe_failed", "proven",
        Case({"probe_ohms": "over_range"}, {"probe_curve_ohms": 1.25e6}),
    ),
]  # fmt: skip


@pytest.mark.parametrize(("cause", "standing", "case"), JUDGED_BY_THEM, ids=[one[0] for one in JUDGED_BY_THEM])
def test_what_a_profile_says_of_its_rack_decides_a_verdict(tmp_path: Path, cause: str, standing: str, case: Case) -> None:
    for known in (True, False):
        judged = diagnose(replace(case, site=facts_of_rack_a(tmp_path, known=known)))
        assert ((cause, standing) in {(one.cause, one.standing) for one in judged}) == known


def test_every_fact_of_the_site_comes_from_the_profile_or_the_record(tmp_path: Path) -> None:
    """None is left at its default by a profile that says all it can."""
    text = TEXT.replace("# high_cutout_psig", "high_cutout_psig").replace("# low_cutout_psig", "low_cutout_psig")
    for old, new in KNOWN.items():
        text = text.replace(old, new, 1)
    text = text.replace('machine_kind = "reciprocating"', 'machine_kind = "scroll"')
    text = text.replace("[rack.panel]", "[rack.limits]\nwarm_air_degf = 45\n\n[rack.panel]", 1)
    file = tmp_path / "site.toml"
    file.write_text(text, encoding="utf-8")
    site = load_profile(file)
    facts = site_facts(Talk(site).dialogue.state, site.racks[0])
    left = {one.name for one in fields(SiteFacts) if getattr(facts, one.name) == getattr(SiteFacts(), one.name)}
    assert left == {"days_since_addition", "added_before_lb", "added_for_this_leak_lb"}  # of the record
