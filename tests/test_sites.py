"""A technician looks after many sites: which one, who it is, and what is wrong with a profile before the night it is needed."""

from pathlib import Path

import pytest

from assistant.fronts.profiles import check
from assistant.profile import DEMO_SITE, ProfileFaults, load_profile
from assistant.profile_faults import in_words, unheard
from assistant.sites import is_demo, load_sites, site_in

DEMO = DEMO_SITE.read_text(encoding="utf-8")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Two sites, of which one is called Birch Lane."""
    (tmp_path / "a.toml").write_text(
        DEMO.replace("Tallow Street Market, north store", "Birch Lane").replace('"north store", "north"', '"birch lane"'),
        encoding="utf-8",
    )
    (tmp_path / "b.toml").write_text(DEMO, encoding="utf-8")
    return tmp_path


def test_a_folder_of_profiles_is_a_site_for_each_file(folder: Path):
    assert [site.name for site in load_sites(folder)] == ["Birch Lane", "Tallow Street Market, north store"]


def test_the_site_is_found_among_the_words_of_the_first_sentence(folder: Path):
    sites = load_sites(folder)
    assert site_in("uh birch lane rack a two tripped on oil", sites) is sites[0]
    assert site_in("rack a two", sites) is None
    assert site_in("birch lane or north store", sites) is None


def test_two_sites_of_one_name_are_refused(folder: Path):
    (folder / "c.toml").write_text(DEMO, encoding="utf-8")
    with pytest.raises(ProfileFaults, match="is said for"):
        load_sites(folder)


def test_a_folder_without_a_profile_says_how_to_write_one(tmp_path: Path):
    with pytest.raises(ProfileFaults, match="rackcall profile new"):
        load_sites(tmp_path)


def test_without_a_site_of_ones_own_it_is_the_demos(monkeypatch: pytest.MonkeyPatch, tmp_path: Path):
    monkeypatch.setattr("assistant.sites.own_folder", lambda: tmp_path / "none")
    assert [is_demo(site) for site in load_sites(None)] == [True]
    (tmp_path / "none").mkdir()
    (tmp_path / "none" / "mine.toml").write_text(DEMO, encoding="utf-8")
    assert [is_demo(site) for site in load_sites(None)] == [False]


def test_a_profile_as_another_editor_writes_it_is_taken(tmp_path: Path):
    file = tmp_path / "site.toml"
    file.write_bytes(b"\xef\xbb\xbf" + DEMO.replace('"R22"', '"R-22"').replace("\n", "\r\n").encode())
    assert load_profile(file).racks[0].refrigerant == "R22"


@pytest.mark.parametrize(
    ("was", "instead", "words"),
    [
        ('tag = "a three"', 'tag = "A-3"', "write it as it is spoken: 'a three'"),
        ('id = "two"', 'id = "2"', "write it as it is spoken: 'two'"),
        ('spoken = ["rack b", "b"]', 'spoken = ["rack a", "b"]', "'rack a' means two"),
        ("liquid_line_psi = [1, 3, 5, 8]", "liquid_line_psi = [1, 3]", "2 figures and rack a has 4 compressors"),
        ("head_minimum_psig = 150", "head_minimum_psig = 5", "head lies over it"),
        ("high_cutout_psig = 360", "high_cutout_psig = 100", "under the head's minimum"),
        ("low_cutout_psig = 2", "low_cutout_psig = 40", "over the suction's set point"),
        ("condenser_fans = 6", "condenser_fans = 0", "a rack has at least one"),
    ],
)
def test_what_cannot_be_said_or_is_no_machines_is_named_with_its_line(tmp_path: Path, was: str, instead: str, words: str):
    lines = [line for line in DEMO.splitlines(keepends=True) if not (was.startswith("low") and line.startswith("# low"))]
    lines = [line for line in lines if not (was.startswith("high") and line.startswith("# high"))]
    text = "".join(lines)
    assert was in text
    file = tmp_path / "site.toml"
    file.write_text(text.replace(was, instead, 1), encoding="utf-8")
    with pytest.raises(ProfileFaults) as found:
        load_profile(file)
    assert words in str(found.value)
    number = int(str(found.value).split("line ")[1].split(":")[0])
    assert number > 1


def test_a_name_that_the_ear_does_not_know_is_said(tmp_path: Path):
    file = tmp_path / "site.toml"
    file.write_text(DEMO.replace('tag = "a three"', 'tag = "zorblatt three"'), encoding="utf-8")
    site = load_profile(file)
    assert unheard(site, {"zorblatt", "three"} ^ {"zorblatt"})
    said: list[str] = []
    assert check(file, said.append, said.append) == 1
    assert any("zorblatt" in line for line in said)


def test_a_name_in_figures_is_offered_in_words():
    assert in_words("B-12") == "b twelve"
