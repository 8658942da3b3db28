"""What breaks a call is a fault of the profile, with its line, before the call."""

import re
from pathlib import Path

import pytest

from assistant.profile import DEMO_SITE, ProfileFaults, load_profile

TEXT = DEMO_SITE.read_text(encoding="utf-8")


def faults(tmp_path: Path, old: str, new: str) -> list[str]:
    assert old in TEXT, old
    file = tmp_path / "site.toml"
    file.write_text(TEXT.replace(old, new, 1), encoding="utf-8")
    try:
        load_profile(file)
    except ProfileFaults as found:
        return found.faults
    return []


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        # names that mean something at every question
        ('spoken = ["rack a", "a"]', 'spoken = ["rack a", "emergency"]', "'emergency' is a command or an answer"),
        ('spoken = ["rack a", "a"]', 'spoken = ["rack a", "emergency rack"]', "'emergency rack' is a command or an answer"),
        ('spoken = ["supervisor", ', 'spoken = ["repeat", ', "'repeat' is a command or an answer"),
        ('spoken = ["north store", "north"]', 'spoken = ["north store", "yes"]', "'yes' is a command or an answer"),
        ('id = "two"', 'id = "stop"', "'stop' is a command or an answer"),
        # two that cannot be told apart
        ('spoken = ["day shift", "the day shift"', 'spoken = ["boss", "the day shift"', "'boss' means two"),
        ('spoken = ["supervisor", "the supervisor"', 'spoken = ["supervisor", "supervisor"', "a phrase stands there twice"),
        ('id = "day shift"', 'id = "supervisor"', "'supervisor' stands there twice"),
        ('id = "two"', 'id = "one"', "two compressors of this rack have the same id"),
        # what somebody will need
        ('street_address = "four twelve Tallow Street, loading dock side"', 'street_address = ""', "is not empty is wanted"),
        ('street_address = "four twelve Tallow Street, loading dock side"', 'street_address = "   "', "is not empty is wanted"),
        ('tag = "a two"', 'tag = ""', "'tag' is ''"),
        ("[[person]]", "[[nobody]]", "'nobody' is not known here"),
        # times and curves
        ("watch_minutes = [5, 10, 25, 45, 65, 90]", "watch_minutes = [5, 5]", "rising list of minutes"),
        ("watch_minutes = [5, 10, 25, 45, 65, 90]", "watch_minutes = [10, 5]", "rising list of minutes"),
        ("watch_minutes = [5, 10, 25, 45, 65, 90]", "watch_minutes = [0, 5]", "rising list of minutes"),
        ("watch_minutes = [5, 10, 25, 45, 65, 90]", "watch_minutes = [5, 100000]", "rising list of minutes"),
        ("watch_minutes = [5, 10, 25, 45, 65, 90]", 'watch_minutes = [5, "ten"]', "'watch_minutes' is 'ten'; a number is wanted"),
        ("watch_minutes = [5, 10, 25, 45, 65, 90]", "watch_minutes = [5, inf]", "'watch_minutes' is inf; a number is wanted"),
        ("watch_minutes = [5, 10, 25, 45, 65, 90]", "watch_minutes = 5", "'watch_minutes' is 5; a list is wanted"),
        # types at any depth
        ("liquid_line_psi = [1, 3, 5, 8]", "liquid_line_psi = [1, 3, [5], 8]", "'liquid_line_psi' is [5]; a number is wanted"),
        ("liquid_line_psi = [1, 3, 5, 8]", "liquid_line_psi = [1, 3, 5]", "3 figures and rack a has 4 compressors"),
        ("liquid_line_psi = [1, 3, 5, 8]", "liquid_line_psi = [1, 3, 5, nan]", "'liquid_line_psi' is nan; a number is wanted"),
        ("altitude_ft = 600", "altitude_ft = " + "9" * 400, "a number is wanted"),
        ("condenser_fans = 6", "condenser_fans = 6.5", "'condenser_fans' is 6.5; a whole number is wanted"),
        ("closed_room = true", 'closed_room = "yes"', "true or false is wanted"),
        ('id = "two"', "id = [2]", "'id' is [2]"),
        ('spoken = ["rack a", "a"]', 'spoken = "rack a"', "'spoken' is 'rack a'; a list is wanted"),
        ('spoken = ["rack a", "a"]', "spoken = [5]", "'spoken' is 5; text in quotes is wanted"),
        ("[rack.panel]", "[[rack.panel]]", "a table is wanted"),
        ("[site.instruments]", "[[site.instruments]]", "a table is wanted"),
    ],
)  # fmt: skip
def test_what_breaks_a_call_is_a_fault_with_its_line(tmp_path: Path, old: str, new: str, says: str):
    found = faults(tmp_path, old, new)
    assert any(says in words for words in found), found
    line = TEXT[: TEXT.index(old)].count("\n") + 1
    lines = [int(re.match(r"site.toml, line (\d+): ", words)[1]) for words in found]  # type: ignore[index]
    assert min(abs(line - one) for one in lines) <= 6, (line, found)  # of two that are alike the first is named


def test_a_site_without_anybody_to_hand_over_to_is_refused(tmp_path: Path):
    start, end = TEXT.index("[[person]]"), TEXT.index("[[rack]]")
    file = tmp_path / "site.toml"
    file.write_text(TEXT[:start] + TEXT[end:], encoding="utf-8")
    with pytest.raises(ProfileFaults, match="'person' is missing"):
        load_profile(file)


def test_a_profile_that_is_no_toml_is_named_with_its_line(tmp_path: Path):
    file = tmp_path / "site.toml"
    for text in ("[site\n", "x = [" * 5000, 'name = "a\n'):
        file.write_text(text, encoding="utf-8")
        with pytest.raises(ProfileFaults, match=r"site.toml, line \d+: "):
            load_profile(file)


def test_the_fault_of_each_of_many_racks_is_named_each_with_its_own_line(tmp_path: Path):
    lines = TEXT.splitlines()
    start = lines.index("[[rack]]")
    rest = next((n for n in range(start + 1, len(lines)) if lines[n] == "[[rack]]"), len(lines))
    rack = [line for line in lines[start:rest] if line and not line.startswith("#")]
    file = tmp_path / "site.toml"
    count = 300
    racks = "\n".join("\n".join(rack).replace("condenser_fans = 6", "condenser_fans = 99") for _ in range(count))
    file.write_text("\n".join(lines[:start]) + "\n" + racks, encoding="utf-8")
    with pytest.raises(ProfileFaults) as caught:
        load_profile(file)
    named = [f for f in caught.value.faults if "condenser_fans" in f]
    assert len(named) == len({f.split(":")[0] for f in named}) == count
