"""A folder of procedures is refused with file, line, step and the nearest name that is known; one that is changed in TOML
alone is followed by a call, walked by the check and taken by the keyboard."""

import re
import subprocess
import sys
from functools import partial
from pathlib import Path

import pytest

from assistant import cli
from assistant.branches.actions import ACTIONS
from assistant.call.effects import Listen
from assistant.call.facts import CallOpened, ObligationCleared, ObligationOpened, StepEntered
from assistant.call.procedure import ProcedureFault, load_procedure, own_procedure
from assistant.fronts.pipe import ask_message
from assistant.profile import load_profile
from assistant.safety import walk
from assistant.safety.rules import RULES
from tests.branch_rack import BranchRack
from tests.safety.planting import Label, WatchedTalk, changed

L = Label
REFUSED: list[tuple[Label, str]] = [
    # what stands there, and what is said to it
    (L("coil", "cautoins", '["coil"]'), "there is no key 'cautoins'; the nearest is 'cautions'"),
    (L("coil", "part", '"pannel"'), "there is no part of the call 'pannel'; the nearest is 'panel'"),
    (L("coil", "station", '"panle"'), "there is no station 'panle'; the nearest is 'panel'"),
    (L("coil", "seeks", '["probe_faild"]'), "there is no cause 'probe_faild'; the nearest is 'probe_failed'"),
    (L("coil", "act", '"hands_on"'), "there is no act 'hands_on'; the nearest is 'hands_in'"),
    (L("feed_after", "needs", '["power_of"]'), "there is no need 'power_of'; the nearest is 'power_off'"),
    (L("coil", "when", '["leaking_valv"]'), "there is no condition or fact 'leaking_valv'; the nearest is 'leaking_valve'"),
    (L("coil", "when", '["!leaking_valv"]'), "there is no condition or fact 'leaking_valv'; the nearest is 'leaking_valve'"),
    (L("coil", "when", '["open:wire_lift"]'), "there is no obligation 'wire_lift'; the nearest is 'wire_lifted'"),
    (L("coil", "when", '["coil_seated is lose"]'), "there is no choice of coil_seated 'lose'; the nearest is 'loose'"),
    (L("coil", "when", '["coil_seat is loose"]'), "there is no id of the vocabulary 'coil_seat'; the nearest is 'coil_seated'"),
    (L("coil", "when", '["oil_levl read"]'), "there is no id of the vocabulary 'oil_levl'; the nearest is 'oil_level'"),
    (L("coil", "when", '["oil_levl unread"]'), "there is no id of the vocabulary 'oil_levl'; the nearest is 'oil_level'"),
    (L("coil", "establishes", '["dead_when_read"]'), "there is no fact 'dead_when_read'; the nearest is 'dead_when_coil_read'"),
    (L("coil", "cautions", '["coils"]'), "there is no caution 'coils'; the nearest is 'coil'"),
    (L("coil", "cautions", '["coil?"]'), "there is no caution with '?' 'coil'"),
    (L("coil", "opens", '["wire_lift"]'), "there is no obligation 'wire_lift'; the nearest is 'wire_lifted'"),
    (L("wire_back", "clears", '["wire_lift"]'), "there is no obligation 'wire_lift'; the nearest is 'wire_lifted'"),
    (L("motor_reset", "resets", '["moter"]'), "there is no contact 'moter'; the nearest is 'motor'"),
    (L("hand_over", "hands_over", '["owners"]'), "there is no way of handing over 'owners'; the nearest is 'owner'"),
    (L("coil", "asking", '"injection_coil_ohm"'), "there is no id of the vocabulary 'injection_coil_ohm'"),
    (L("coil", "also", '["valve_clik"]'), "there is no id of the vocabulary 'valve_clik'; the nearest is 'valve_click'"),
    (L("heater_time", "wait_from", '"crankcase_heat"'), "there is no id of the vocabulary 'crankcase_heat'"),
    (L("repaired", "keeps_readings", '"repairs"'), "there is no kind of readings to keep 'repairs'; the nearest is 'repair'"),
    (L("levers", "ask", '"{lever} Say understood."'), "there is no word in braces 'lever'; the nearest is 'levers'"),
    (L("fit", "all_good", '{ fit_to_strat = true }'), "there is no id asked by this step 'fit_to_strat'"),
    (L("fit", "all_good", '{ detector_state = "quite" }'), "there is no choice of detector_state 'quite'"),
    (L("fit", "all_good", '{ fit_to_start = "yes" }'), "'fit_to_start' is 'yes'; an acknowledgement is true"),
    (L("wire_back", "go_ahead", '["Done!"]'), "'Done!': spoken words are lower-case letters and spaces"),
    (L("wire_back", "go_ahead", '[" done"]'), "' done': spoken words are lower-case letters and spaces"),
    (L("coil", "go_ahead", '["done"]'), "only a step that asks for 'command' has words of its own to go ahead"),
    (L("glass_ahead", "tells", '{ full = "motor_hot", bubbles = "", "none there" = "" }'), "there is no fact 'motor_hot'"),
    (L("wire_back", "required", '"yes"'), "'required' is 'yes'; it is true or false"),
    (L("coil", "also", '"valve_click"'), "'also' is 'valve_click'; it is a list of texts"),
    (L("coil", "also", "[3]"), "'also' is [3]; it is a list of texts"),
    (L("feed_after", "wait_minutes_after_power_off", '"soon"'), "'wait_minutes_after_power_off' is 'soon'; it is a number"),
    (L("feed_after", "wait_minutes_after_power_off", "-3"), "'wait_minutes_after_power_off' is -3; it is a number"),
    (L("watch_first", "watch_round", '"one"'), "'watch_round' is 'one'; it is a number"),
    (L("fit", "all_good", '"all"'), "'all_good' is 'all'; it is a table"),
    (L("coil", "why", "3"), "'why' is 3; it is a text"),
    (L("coil", "why", '"By {mass}."'), "there is no word in braces 'mass'"),
    (L("coil", "ask", '"Coil {mass ohms?"'), "its braces: "),
    (L("coil", "cautions", '["coil", "coil"]'), "'coil' stands twice"),
    (L("coil", "cautions", "[]"), "'cautions' is empty; leave it out"),
    (L("coil", "act", '""'), "'act' is empty; leave it out"),
    (L("feed_after", "wait_minutes_after_power_off", '["three"]'), "'wait_minutes_after_power_off' is ['three']; it is a number"),
    (L("feed_after", "wait_minutes_after_power_off", '"dead_v"'), "'wait_minutes_after_power_off' is 'dead_v'; it is a number"),
    (L("feed_after", "wait_minutes_after_power_off", "inf"), "'wait_minutes_after_power_off' is inf; it is a number"),
]  # fmt: skip


def refused(folder: Path) -> list[str]:
    with pytest.raises(ProcedureFault) as fault:
        load_procedure(folder)
    return fault.value.faults


def line_of(folder: Path, text: str) -> tuple[str, int]:
    """File and line of a text that stands once in a folder."""
    found = [(str(path.relative_to(folder)), number) for path in sorted(folder.rglob("*.toml"))
             for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1) if line == text]  # fmt: skip
    assert len(found) == 1, found
    return found[0]


@pytest.mark.parametrize(("label", "words"), REFUSED, ids=[str(label) for label, _ in REFUSED])
def test_what_is_not_known_is_refused_with_file_line_step_and_the_nearest_name(tmp_path: Path, label: Label, words: str):
    folder = changed(tmp_path, label)
    file, line = _line_in_the_step(folder, label)
    faults = refused(folder)
    assert faults[0].startswith(f"{file}, line {line}, step '{label.step}': {words}")
    assert len(faults) == 1


def _line_in_the_step(folder: Path, label: Label) -> tuple[str, int]:
    """File and line of a label, read from the text."""
    file, line = line_of(folder, f'id = "{label.step}"')
    text = (folder / file).read_text(encoding="utf-8").splitlines()
    start = max(n for n in range(line) if text[n] == "[[step]]")
    return file, next(n for n in range(start, len(text)) if text[n].startswith(f"{label.label} = ")) + 1


@pytest.mark.parametrize("key", ["part", "station", "ask", "asking"])
def test_a_step_that_lacks_a_key_is_refused_at_its_table(tmp_path: Path, key: str):
    folder = changed(tmp_path, L("coil", key))
    file, line = line_of(folder, 'id = "coil"')
    assert refused(folder)[0] == f"{file}, line {line - 1}, step 'coil': '{key}' is missing"


def test_a_step_without_an_id_is_refused(tmp_path: Path):
    folder = changed(tmp_path)
    edit(folder / "oil" / "steps.toml", 'id = "oil_feed"\n', "")
    assert any(re.fullmatch(r"oil/steps\.toml, line \d+, step '\?': 'id' is missing", fault) for fault in refused(folder))


def edit(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), encoding="utf-8")


def add(path: Path, text: str) -> None:
    path.write_text(path.read_text(encoding="utf-8") + text, encoding="utf-8")


def test_the_same_id_twice_is_refused_at_the_second(tmp_path: Path):
    folder = changed(tmp_path)
    file = folder / "oil" / "steps.toml"
    add(file, '\n[[step]]\nid = "coil"\npart = "looks"\nstation = "oil"\nask = "Oil?"\nasking = "oil_level"\n')
    line = len(file.read_text(encoding="utf-8").splitlines()) - 4
    assert refused(folder) == [f"oil/steps.toml, line {line}, step 'coil': step 'coil' stands twice"]


def test_the_same_obligation_twice_is_refused(tmp_path: Path):
    folder = changed(tmp_path)
    add(folder / "obligations.toml", OBLIGATION.replace("drain_open", "hose_on"))
    assert [fault.partition(": ")[2] for fault in refused(folder)] == ["obligation 'hose_on' stands twice"]


def test_the_repair_of_one_cause_stands_once(tmp_path: Path):
    """The later one would quietly take the needs of the first away."""
    folder = changed(tmp_path)
    add(folder / "liquid" / "steps.toml", '\n[[repair]]\ncauses = ["winding_failed"]\n')
    assert [fault.rpartition(": ")[2] for fault in refused(folder)] == ["the repair of 'winding_failed' stands twice"]


_OPEN, _SHARED = "obligations.toml", "shared/steps.toml"


@pytest.mark.parametrize(("file", "old", "new", "said"), [
    (_OPEN, 'id = "no_cause_reset"', 'id = "no_cause_rset"', "there is no obligation 'no_cause_reset', which the call knows"),
    (_OPEN, 'id = "floodback"', 'id = "floodbak"', "there is no obligation 'floodback', which the call knows"),
    (_OPEN, 'say = "hose"', 'say = "hose"\nbloks_start = true', "there is no key 'bloks_start'; the nearest is 'blocks_start'"),
    (_OPEN, 'say = "hose"', 'say = "hose {mass}"', "there is no word in braces 'mass'"),
    (_SHARED, "\ntwo_contacts_open = ", "\ntwo_contact_open = ", "fact 'two_contact_open': no step establishes it"),
    (_SHARED, "\nreset_failed = ", "\nreset_faild = ", "the nearest is 'reset_faild'"),
    (_SHARED, "[facts]", "[[facts]]", "'facts' is a table of texts"),
])  # fmt: skip
def test_an_obligation_or_a_fact_that_stands_for_nothing_is_refused(tmp_path: Path, file: str, old: str, new: str, said: str):
    folder = changed(tmp_path)
    edit(folder / file, old, new)
    assert any(said in fault for fault in refused(folder))


@pytest.mark.parametrize(("text", "said"), [
    ('\n[repair]\ncauses = ["seized"]\n', "'repair' is a table in double brackets, [[repair]]"),
    ('\n[[repair]]\ncauses = ["seized"]\nneed = ["dead"]\n', "there is no key 'need'; the nearest is 'needs'"),
])  # fmt: skip
def test_a_repair_that_is_none_is_refused(tmp_path: Path, text: str, said: str):
    folder = changed(tmp_path)
    file = folder / "head" / "steps.toml"
    file.write_text(re.sub(r"(?s)\[\[repair\]\].*", "", file.read_text(encoding="utf-8")) + text, encoding="utf-8")
    assert any(said in fault for fault in refused(folder))


def test_every_cause_with_a_rule_has_what_to_do_about_it(monkeypatch: pytest.MonkeyPatch, tmp_path: Path):
    monkeypatch.delitem(ACTIONS, "winding_failed")
    words = "cause 'winding_failed' has a rule, and branches/actions.py does not say what to do about it"
    assert refused(changed(tmp_path)) == [words]


@pytest.mark.parametrize("key", ["wait_minutes", "wait_from"])
def test_a_wait_is_counted_from_a_reading(tmp_path: Path, key: str):
    assert "'wait_minutes' and 'wait_from' stand together" in refused(changed(tmp_path, L("heater_time", key)))[0]


@pytest.mark.parametrize(("step", "fact"), [("start", "started"), ("stop_now", "stopped_by_hand")])
def test_a_step_that_loses_what_it_establishes_is_refused(tmp_path: Path, step: str, fact: str):
    assert refused(changed(tmp_path, L(step, "establishes")))[0].startswith(f"fact '{fact}': no step establishes it")


def test_a_look_that_is_among_no_others_is_refused(tmp_path: Path):
    faults = refused(changed(tmp_path, L("coil", "among", '"alone here"')))
    assert [fault.rpartition(": ")[2] for fault in faults] == ["no other look is among 'alone here'"]


def test_a_file_that_nobody_reads_is_refused(tmp_path: Path):
    folder = changed(tmp_path)
    (folder / "oil" / "more.toml").write_text("[facts]\n", encoding="utf-8")
    assert [fault.partition(";")[0] for fault in refused(folder)] == ["oil/more.toml: no such file is read"]


def test_a_table_that_is_not_known_is_refused_with_its_line(tmp_path: Path):
    folder = changed(tmp_path)
    add(folder / "oil" / "steps.toml", '\n[[steps]]\nid = "x"\n')
    file, line = line_of(folder, "[[steps]]")
    assert refused(folder) == [f"{file}, line {line}, the file: there is no table 'steps'; the nearest is 'step'"]


def test_a_file_that_is_missing_is_named(tmp_path: Path):
    folder = changed(tmp_path)
    (folder / "oil" / "steps.toml").unlink()
    assert refused(folder) == [f"{folder / 'oil' / 'steps.toml'}: No such file or directory"]


def test_what_is_no_toml_is_named_with_its_line(tmp_path: Path):
    folder = changed(tmp_path)
    edit(folder / "oil" / "steps.toml", 'id = "oil_feed"', 'id = oil feed')
    _, line = line_of(folder, "id = oil feed")
    assert re.fullmatch(rf"oil/steps\.toml: .*line {line}\b.*", refused(folder)[0])


@pytest.mark.parametrize(("label", "words"), [
    (L("hose_on", "hand_over", '"nobody"'), "there is no way of handing over 'nobody'"),
    (L("hose_on", "opened_by", '["oil_level is lo"]'), "there is no choice of oil_level 'lo'; the nearest is 'low'"),
    (L("hose_on", "opened_by", '["oil_level"]'), "'oil_level' is not of the form 'ID is WORD'"),
    (L("hose_on", "blocks_start", '"no"'), "'blocks_start' is 'no'; it is true or false"),
    (L("hose_on", "say"), "'say' is missing"),
    (L("winding_failed", "needs", '["ded"]'), "there is no need of a repair 'ded'; the nearest is 'dead'"),
    (L("winding_failed", "cautions", '["terminal"]'), "there is no caution 'terminal'; the nearest is 'terminals'"),
    (L("compressor_seized", "causes", '["compressor_sized"]'),
     "there is no cause 'compressor_sized'; the nearest is 'compressor_seized'"),
], ids=lambda one: str(one))  # fmt: skip
def test_what_is_not_known_of_an_obligation_or_a_repair_is_refused(tmp_path: Path, label: Label, words: str):
    faults = refused(changed(tmp_path, label))
    assert any(words in fault and re.match(r"[a-z/]+\.toml, line \d+, ", fault) for fault in faults), faults


def test_what_is_opened_and_never_cleared_is_refused_at_the_step_that_opens_it(tmp_path: Path):
    folder = changed(tmp_path, L("unblock_start", "clears"))
    file, line = line_of(folder, 'id = "block_start"')
    assert refused(folder) == [f"{file}, line {line}, step 'block_start': it opens 'start_blocked', and no step clears that"]


def test_a_procedure_without_the_gates_of_live_work_is_refused(tmp_path: Path):
    folder = changed(tmp_path, L("clothing", "part", '"front"'))
    assert refused(folder) == ["there is no step of the part 'live gate'"]


def test_every_fault_of_a_folder_is_named_at_once(tmp_path: Path):
    folder = changed(tmp_path, L("coil", "act", '"hands_on"'), L("oil_glass", "station", '"oill"'))
    assert [fault.split("'")[1] for fault in refused(folder)] == ["coil", "oil_glass"]


def test_the_packages_own_folder_and_its_copy_are_the_same_procedure(tmp_path: Path):
    assert load_procedure(changed(tmp_path)) == own_procedure()


# ---- a step, an obligation and a fact that stand in TOML alone

OBLIGATION = """
[[obligation]]
id = "drain_open"
say = "drain valve open"
blocks_start = true
hand_over = "never"
"""
STEPS = """
[[step]]
id = "floor"
part = "machine"
station = "machine"
when = ["machine_in_question"]
opens = ["drain_open"]
ask = "Open the drain of the pan. What comes: nothing, water or oil?"
asking = "command"
tells = { nothing = "", water = "pan_held_water", oil = "pan_held_oil" }

[[step]]
id = "floor_closed"
part = "machine"
station = "machine"
when = ["open:drain_open"]
clears = ["drain_open"]
ask = "Close the drain. Say done."
asking = "command"
required = true
safe = true

[[step]]
id = "oil_where_from"
part = "machine"
station = "machine"
when = ["pan_held_oil"]
ask = "Oil in the pan. Oil level in the glass?"
asking = "oil_level"
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the procedures with a look of its own."""
    folder = changed(tmp_path / "mine")
    edit(folder / "shared" / "steps.toml", "[facts]\n", '[facts]\npan_held_oil = "oil stood in the pan"\n'
         'pan_held_water = "water stood in the pan"\n')  # fmt: skip
    add(folder / "obligations.toml", OBLIGATION)
    add(folder / "shared" / "steps.toml", STEPS)
    return folder


def call_at(step: str, folder: Path) -> tuple[WatchedTalk, BranchRack]:
    rack = BranchRack("none at the motor")
    talk = WatchedTalk(load_profile(), load_procedure(folder), CallOpened("paper", "", "test", technician="Robin Vale"))
    answer_until(talk, rack, step)
    return talk, rack


def answer_until(talk: WatchedTalk, rack: BranchRack, step: str) -> None:
    while not talk.dialogue.over and talk.label != step:
        last = talk.effects[-1]
        assert isinstance(last, Listen)
        talk.hear(rack.answer(ask_message(last)))


def steps_asked(talk: WatchedTalk) -> list[str]:
    return [fact.step for _, fact in talk.facts if isinstance(fact, StepEntered)]


def test_a_look_that_stands_in_toml_alone_is_asked_read_back_and_steers_what_comes_after(folder: Path):
    talk, rack = call_at("floor", folder)
    assert talk.said.endswith("Open the drain of the pan. What comes: nothing, water or oil?")
    assert "drain_open" in talk.open

    talk.hear("oil")
    assert talk.said == "Oil. | Close the drain. Say done."
    assert talk.dialogue.state.has("pan_held_oil")

    talk.hear("done")
    assert "drain_open" not in talk.open
    assert talk.asked == "oil_where_from:oil_level"

    answer_until(talk, rack, "the seal")
    assert talk.dialogue.state.sealed
    assert talk.seen.complaints == ()
    kinds = [type(fact) for _, fact in talk.facts if getattr(fact, "id", "") == "drain_open"]
    assert kinds == [ObligationOpened, ObligationCleared]


@pytest.mark.parametrize("said", ["water", "nothing"])
def test_another_answer_to_it_leads_past_the_step_that_it_steers(folder: Path, said: str):
    talk, rack = call_at("floor", folder)
    talk.hear(said, "done")
    answer_until(talk, rack, "the seal")
    assert "oil_where_from" not in steps_asked(talk)
    assert talk.dialogue.state.has("pan_held_water") == (said == "water")


def test_an_obligation_that_stands_in_toml_alone_is_no_way_past_the_seal(folder: Path):
    talk, _ = call_at("floor_closed", folder)
    talk.hear("skip this", "yes")
    assert "That cannot be skipped." in talk.said
    talk.hear("finish job", "yes")
    assert talk.asked == "floor_closed:command"


def test_the_check_walks_a_folder_of_ones_own(folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):
    monkeypatch.setattr(walk, "prove", partial(walk.prove, calls=20))
    monkeypatch.setattr(walk, "_expected", lambda steps, site: (step for step in steps if step.id == "floor"))  # led there
    cli.main(["procedure", "check", str(folder), "--at-most", "5"])
    out = capsys.readouterr().out.splitlines()
    assert [line.split()[0] for line in out[: len(RULES)]] == list(RULES)
    assert "5 walked on from" in out[-1]
    assert [line for line in out if "floor" in line or "drain_open" in line] == []  # reached, and no rule broken there


def test_a_wrong_folder_is_named_by_the_check_and_by_a_call(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    folder = changed(tmp_path, L("coil", "act", '"hands_on"'))
    for command in (["procedure", "check", str(folder)], ["type", "--procedures", str(folder)]):
        assert cli.main(command) == 1
        assert "injection/steps.toml, line " in capsys.readouterr().err


def test_a_call_from_the_keyboard_follows_a_folder_of_ones_own(folder: Path, tmp_path: Path):
    talk, _ = call_at("floor", folder)
    said = [fact.said for _, fact in talk.facts if type(fact).__name__ == "WordsHeard"]
    command = [sys.executable, "-m", "assistant.cli", "type", "--procedures", str(folder), "--calls", str(tmp_path / "calls")]
    typed = "\n".join([*said, "oil", "done"]) + "\n"
    got = subprocess.run(command, capture_output=True, text=True, input=typed, cwd=Path(__file__).parent.parent)
    assert "Open the drain of the pan. What comes: nothing, water or oil?" in got.stdout
    assert "Oil in the pan. Oil level in the glass?" in got.stdout
    assert got.returncode == 0
