"""The planted faults over all: each rule that is watched has some, and none is found where none was planted."""

import pytest

from assistant.call.procedure import own_procedure
from assistant.safety.rules import RULES
from tests.safety.planting import Find
from tests.safety.test_planted_code import CODE
from tests.safety.test_planted_labels import LOST
from tests.safety.test_planted_words import SAID

ALL = (*LOST, *SAID, *CODE)


def test_at_least_one_fault_is_planted_for_every_rule_that_is_watched():
    watched = {id_ for id_, rule in RULES.items() if rule.watcher and id_ != "call"}
    assert {rule for rule, *_ in ALL} == watched


def test_many_faults_are_planted_in_labels_in_words_and_in_the_code():
    assert len(LOST) >= 25
    assert len(SAID) >= 10
    assert len(CODE) >= 25


@pytest.mark.parametrize("find", list(dict.fromkeys(find for *_, find in ALL)), ids=str)
def test_the_same_call_without_a_fault_comes_to_its_seal_and_breaks_no_rule(find: Find):
    assert find(own_procedure()) == ()
