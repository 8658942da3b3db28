"""What tells of danger in words that no table has, beside an answer or in place of one; and what only might seem to."""

import pytest

from assistant.call.facts import ReadingTaken, WordsHeard
from assistant.call.in_danger import DANGEROUS
from assistant.language import sense
from assistant.language.agreed import danger
from tests.language.test_beside_steps import rows
from tests.test_said_not_safe import standing_at

FAULT = "injection_coil_failed"


def test_a_reading_beside_it_counts_and_it_is_asked_about_before_anything_else():
    talk = standing_at(FAULT, "food").hear(
        "holding, called for, auto, auto, mind you somebody's wired a bit of flex straight across the controller"
    )
    assert talk.readings["product_state"] == "holding"
    assert talk.said == "All good. | Is something not safe?"
    assert talk.hear("yes").said.startswith("Then stop. Hands off. Make it safe first.")
    assert not talk.broken()


@pytest.mark.parametrize(("step", "said"), [
    ("valves", "all open, the lad leaned on the red handle just now but anyway"),
    ("wire_back", "it's back on, i used a bit of tinfoil where the lug broke"),
    ("lock", "locked, and i gave the manager the key for safe keeping"),
])  # fmt: skip
def test_a_deed_beside_it_waits_until_it_is_denied(step: str, said: str):
    talk = standing_at(FAULT, step)
    before = set(talk.readings)
    assert talk.hear(said).said.endswith("Is something not safe?")
    assert set(talk.readings) == before
    assert talk.hear("no").said.endswith("all safe?")  # in odd words it is asked back, as without them
    talk.hear("yes")
    assert talk.asked.partition(":")[0] != step
    assert not talk.broken()


def test_a_deed_beside_it_counts_for_nothing_where_it_is_so():
    talk = standing_at(FAULT, "valves").hear("all open, the lad leaned on the red handle just now but anyway", "yes")
    assert "service_valves_open" not in talk.readings
    assert talk.asked == "valves:service_valves_open"


def test_no_answer_in_its_place_denies_it():
    talk = standing_at(FAULT, "valves").hear("all open, the lad leaned on the red handle just now but anyway", "all open")
    assert talk.said == "Yes or no, please. Is something not safe?"
    assert "service_valves_open" not in talk.readings


def test_an_answer_that_waited_is_dropped_where_another_is_given_behind_the_no():
    talk = standing_at(FAULT, "lock").hear("locked, and i gave the manager the key for safe keeping")
    talk.hear("no, it's in my pocket, locked", "yes")
    taken = [fact.value for _, fact in talk.facts if isinstance(fact, ReadingTaken) and fact.id == "locked_out"]
    assert taken == [True]


def test_an_answer_that_is_only_badly_put_is_asked_for_again():
    said = "stood on dry concrete, goggles and gloves on, and the night lad has my number if i never come back for me pie"
    talk = standing_at(FAULT, "fit").hear(said)
    assert "safe" not in talk.said
    assert talk.said.startswith("Say again")


@pytest.mark.parametrize(("step", "said", "asked"), [
    ("covers", "just put the last screw in, panel's all buttoned up", "Everybody clear"),
    ("machine_look", "reset is whole, fan going, valve open, coil on snug, probe clean and strapped on, line dry", "All"),
])  # fmt: skip
def test_a_remark_that_a_harmless_answer_only_sounds_like_is_none(step: str, said: str, asked: str):
    talk = standing_at(FAULT, step).hear(said)
    assert asked in talk.said
    assert talk.open <= standing_at(FAULT, step).open


def test_without_the_sense_whatever_is_not_understood_there_is_asked_about(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(sense, "_here", lambda: None)
    sense.likely.cache_clear()
    said = standing_at(FAULT, "tag").hear("it says something or other in felt pen up there").said
    sense.likely.cache_clear()
    assert said.startswith("Not understood. Is something not safe?")


def test_three_of_four_dangers_are_heard_by_it_alone_and_one_in_eight_that_only_seems_so():
    """Three hundred sentences at fifty steps by a hand that saw the prompts alone (`danger.tsv`); the network learnt none."""
    heard: dict[str, list[bool]] = {"yes": [], "no": []}
    for step, meaning, words in rows("danger.tsv"):
        heard[meaning].append((danger(step, words) or 0.0) >= DANGEROUS)
    assert sum(heard["yes"]) >= 0.75 * len(heard["yes"])
    assert sum(heard["no"]) <= 0.125 * len(heard["no"])


def test_who_says_it_is_on_record_with_it():
    talk = standing_at(FAULT, "valves")
    said = "all open, the lad leaned on the red handle just now but anyway"
    talk.hear(said, "no")
    taken = [fact.meaning for _, fact in talk.facts if isinstance(fact, WordsHeard) and fact.said == said]
    assert taken == ["remark in doubt: trouble", "remark not so: trouble"]
