"""Safety hangs on "done": a guess is asked back, what is still to come is not done, nobody answers for another's lock."""

import pytest

from assistant.language.grammar import understand
from assistant.language.meaning import Answer, NotUnderstood, Question
from assistant.language.vocabulary import vocabulary
from tests.simulated import Rack
from tests.talk import Talk

ACKNOWLEDGED = [id_ for id_, entry in vocabulary().items() if entry.kind == "acknowledge"]


@pytest.mark.parametrize("asked", ACKNOWLEDGED)
@pytest.mark.parametrize("said", ["done i think", "done i guess", "i believe it's done", "i'd call it done"])
def test_a_guess_is_asked_back(asked: str, said: str):
    meaning = understand(Question(asked), said)
    assert not isinstance(meaning, Answer) or all(part.doubt for part in meaning.parts)


@pytest.mark.parametrize("asked", ACKNOWLEDGED)
@pytest.mark.parametrize("said", ["done in a second", "i'll do it later", "gonna do it", "almost", "half done", "not really"])
def test_what_is_still_to_come_is_not_done(asked: str, said: str):
    assert not isinstance(understand(Question(asked), said), Answer)


@pytest.mark.parametrize("asked", ["locked_out", "lock_removed", "second_source_locked"])
@pytest.mark.parametrize("said", ["my buddy did it", "he did", "they locked it", "somebody took it off"])
def test_nobody_answers_for_anothers_lock(asked: str, said: str):
    assert isinstance(understand(Question(asked), said), NotUnderstood)


def test_a_lock_that_is_guessed_makes_no_proof_before_a_yes():
    rack = Rack("injection_coil_failed")
    talk = Talk().until(rack, "lock").hear("done i think")
    assert not talk.dialogue.state.lock.locked
    assert talk.said.endswith("Correct?")
    assert talk.hear("yes").dialogue.state.lock.locked
