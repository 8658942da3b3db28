"""A probe that is threaded into the gas: who takes it out opens the system. Another machine is not this one."""

from dataclasses import replace

import pytest

from assistant.profile import load_profile
from tests.simulated import Rack
from tests.talk import Talk


def at(step: str, mount: str = "in_gas") -> Talk:
    site = load_profile()
    rack = site.racks[0]
    site = replace(site, racks=(replace(rack, probe=replace(rack.probe, mount=mount)), *site.racks[1:]))
    return Talk(site).until(Rack("injection_coil_failed"), step)


@pytest.mark.parametrize("said", ["i unscrewed it", "i took the probe out", "i pulled the sensor out"])
def test_a_probe_that_was_taken_out_of_the_gas_is_a_leak(said: str):
    talk = at("coil").hear(said)
    assert talk.said.startswith("Unplug only. Leave it in.")
    assert "leak_open" in talk.open


@pytest.mark.parametrize("said", ["i'll take the probe out", "let me unscrew the probe", "can i unscrew the probe"])
def test_who_would_take_it_out_is_told_not_to(said: str):
    talk = at("coil").hear(said)
    assert talk.said.startswith("Unplug only. Leave it in.")
    assert "leak_open" not in talk.open


def test_a_probe_that_blew_out_has_everybody_out():
    assert at("coil").hear("the sensor just blew out").said.startswith("Stay out. Ventilate from outside.")


def test_a_probe_in_a_dry_well_may_come_out():
    assert "leak_open" not in at("coil", "dry_well").hear("i took the probe out").open


@pytest.mark.parametrize("said", ["the other compressor is running", "the compressor next to it is running"])
def test_another_machine_that_runs_is_not_this_one(said: str):
    talk = at("coil", "dry_well").hear(said)
    assert "It runs with your lock on" not in talk.said
    assert "chain_dead_check" in talk.readings


@pytest.mark.parametrize(("step", "id_"), [
    ("state_now", "running_now"), ("watch_injection", "injection_feed"), ("machine_look", "head_fan_running"),
])  # fmt: skip
def test_a_satellite_that_runs_tells_nothing_of_this_machine(step: str, id_: str):
    assert id_ not in at(step, "dry_well").hear("the satellite's running").readings


def test_a_probe_in_the_gas_comes_out_in_a_step_of_its_own_once_all_is_empty_and_reads_zero():
    """S28; and behind a pause the caution of what is opened comes again (S5)."""
    rack = Rack("probe_failed")
    site = load_profile()
    first = site.racks[0]
    site = replace(site, racks=(replace(first, probe=replace(first.probe, mount="in_gas")), *site.racks[1:]))
    talk = Talk(site).until(rack, "isolate").until(rack, "recover").until(rack, "at_zero").hear("zero")
    assert talk.asked.startswith("probe_out")
    assert "Do not take out" not in talk.said
    talk.until(rack, "repaired").kill(3000).until(rack, "repaired/hot_line+liquid_and_cold").until(rack, "repaired")
    assert "Do not take out" not in talk.said
    assert talk.to_the_seal(rack).broken() == ()
