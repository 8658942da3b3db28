"""No dead ends: at every step, on every kind of site, whatever the prompt offers leads on, and so do yes, no, "I don't know",
"can't see it" and every command."""

import copy
import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest

from assistant.call.effects import Ended, Listen, Say, Wait
from assistant.call.engine import Dialogue
from assistant.call.modes import Mode, Station
from assistant.language.offered import choices
from assistant.language.vocabulary import vocabulary
from assistant.profile import Site, load_profile
from tests.branch_rack import FAULTS, BranchRack
from tests.safety.racks import every_kind
from tests.simulated import Rack
from tests.talk import Talk

INJECTION = (
    "probe_fouled", "probe_failed", "probe_wiring_faulty", "injection_coil_failed", "injection_valve_stuck_closed",
    "injection_hand_valve_closed", "injection_coil_loose", "module_no_output", "module_no_supply", "module_output_fuse",
    "injection_strainer_plugged", "injection_valve_leaking", "refrigerant_low", "drier_plugged", "not_called", "none",
)  # fmt: skip
COMMANDS = (
    "say again", "what?", "go back", "correction", "i got the last one wrong", "skip this", "i don't know", "can't see it",
    "can't get to it", "hold on", "hang on", "continue", "make a note", "help", "read back", "where am i", "why", "slower",
    "faster", "louder", "softer", "quiet", "finish job", "cancel", "emergency",
)  # fmt: skip
FITTED = {"drive_fault": "no", "dead_volts.drive": "zero"}
LIVE = {"live_or_dead": "live", "control_volts": "two oh eight", "safety_volts.motor_protection": "two oh eight"} | {
    f"safety_volts.{c}": "point two" for c in ("oil_pressure", "high_pressure", "low_pressure", "discharge_temperature")
}
OFFERED = re.compile(r"[:,] ((?:[a-z' ]+, )*[a-z' ]+,? or [a-z' ]+)\?", re.I)
"""The words that a prompt reads out to choose from."""


def fork(call: Dialogue) -> Dialogue:
    """The same call once more: what happens to it does not happen to this one."""
    twin = copy.copy(call)
    twin.state = copy.copy(call.state)
    for of, to in ((call.state, twin.state), (call, twin)):
        for name, value in vars(of).items():
            if isinstance(value, (dict, list, set)):
                setattr(to, name, copy.copy(value))
    twin.mode, twin.station = Mode(call.mode.name), Station(call.station.name)
    return twin


def sites() -> Iterator[tuple[str, Site]]:
    """A site for each kind of rack that a rule looks at; the rack in question is its first, and is called "a"."""
    yield "demo", load_profile()
    demo, every = load_profile(), every_kind()
    for rack in every.racks[len(demo.racks) :]:
        kind = replace(rack, id="a", spoken=("rack a", "a"))
        yield f"rack {rack.id}", replace(demo, racks=(kind, *demo.racks[1:]))


@cache
def situations() -> dict[str, tuple[Talk, str]]:
    """A call for each question that calls with each fault come to, at the moment it is asked, with the words of its prompt."""
    found: dict[str, tuple[Talk, str]] = {}
    for kind, site in sites():
        faults = (*INJECTION, *FAULTS) if kind == "demo" else ("none", "probe_fouled", "none at the motor", "oil low")
        for fault in faults:
            rack: Rack = BranchRack(fault, words=dict(FITTED)) if fault in FAULTS else Rack(fault, dict(FITTED))
            _collect(found, kind, Talk(site), rack)
            if kind == "demo" and fault == "none at the motor":
                _collect(found, kind, Talk(site), BranchRack(fault, words=LIVE))
    return found


def _collect(found: dict[str, tuple[Talk, str]], kind: str, talk: Talk, rack: Rack) -> None:
    for _ in range(250):
        last = talk.effects[-1]
        if talk.dialogue.state.sealed or not isinstance(last, Listen):
            return
        key = f"{kind}: {last.step} {last.question.asking}"
        alike = f"demo: {last.step} {last.question.asking}"
        if key not in found and alike not in found:
            here = copy.copy(talk)
            here.dialogue = fork(talk.dialogue)
            said = [x.text for x in talk.effects if isinstance(x, Say) and x.purpose == "ask"]
            found[key] = (here, said[-1] if said else "")
        talk.hear(talk.words_of(rack))


def words_for(talk: Talk, prompt: str) -> list[str]:
    """What may be said here: what is offered, yes and no, the commands."""
    last = talk.effects[-1]
    assert isinstance(last, Listen)
    question = last.question
    said = [*choices(question), "yes", "no", "nope", "yeah", *COMMANDS]
    if question.asking in vocabulary():
        said += vocabulary()[question.asking].choices
    choose = question.asking == "command" or (question.asking in vocabulary() and vocabulary()[question.asking].kind == "choice")
    if choose and not question.also and (offered := OFFERED.search(prompt)):
        said += [word.strip() for word in re.split(r",? or |, ", offered[1]) if word.strip()]
    return list(dict.fromkeys(said))


def test_every_step_of_the_procedure_is_come_to_or_named():
    asked = {key.split()[1] if key.startswith("demo") else key.split()[2] for key in situations()}
    assert len(asked) > 150


@pytest.mark.parametrize("part", range(8))
def test_whatever_may_be_said_leads_on_at_every_step(part: int):
    stuck = []
    for key, (talk, prompt) in list(situations().items())[part::8]:
        for words in words_for(talk, prompt):
            twin = copy.copy(talk)
            twin.dialogue, twin.history, twin.facts, twin.spoken = fork(talk.dialogue), [], [], []
            twin.hear(words)
            last = twin.effects[-1]
            goes_on = isinstance(last, (Ended, Wait)) or (isinstance(last, Listen) and last.question is not None)
            missed = twin.dialogue.again.misses > talk.dialogue.again.misses
            if missed or not goes_on:
                stuck.append((key, words, twin.said[:80]))
    assert not stuck


@pytest.mark.parametrize("step", ["rack_suction", "glass", "fit", "which_contact", "lock", "food"])
def test_a_miss_says_what_is_needed_then_the_words_then_a_way_out(step: str):
    talk = Talk().until(Rack("none"), step)
    first = talk.hear("purple monkey").said
    assert "I need" in first
    second = talk.hear("purple monkey").said
    assert second.startswith("Say ")
    third = talk.hear("purple monkey").said
    assert "type it" in third
    required = talk.dialogue.state.steps[step].required
    assert ("skip" in third.split("|")[0]) is not required
