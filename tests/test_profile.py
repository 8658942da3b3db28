"""A site's profile says what is fitted there; what is wrong with it is named by line."""

from pathlib import Path

import pytest

from assistant.profile import DEMO_SITE, ProfileFaults, Site, load_profile

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
