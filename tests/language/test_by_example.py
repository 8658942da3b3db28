"""What no table has is told by its likeness to examples of the same question: it counts where nothing hangs on it, and is asked
back where something does. The sentences are ours, and none of them is an example."""

import pytest

from assistant.call.procedure import own_procedure
from assistant.language.by_example import by_example, examples, unless_unlike
from assistant.language.meaning import DONE_AND_SAFE, Answer, AskFor, Command, NotUnderstood
from assistant.language.vocabulary import vocabulary
from tests.language.test_said_at_steps import question
from tests.test_said_not_safe import standing_at

STEPS = {step.id: step for step in own_procedure().steps}


def test_every_example_is_of_a_step_and_means_something_that_it_asks():
    for step, rows in examples().items():
        for meaning, sentence in rows:
            assert sentence == sentence.lower().strip(" .")
            if meaning in ("-", "go"):
                continue
            if meaning.startswith("tell="):
                assert meaning[5:] in STEPS[step].tells, (step, meaning)
                continue
            for part in meaning.split("; "):
                id_, value = part.split("=")
                entry = vocabulary()[id_]
                assert id_ in STEPS[step].ids
                allowed = {"acknowledge": ("true",), "yes_no": ("yes", "no")}.get(entry.kind, entry.choices)
                assert value in allowed, (step, part)


def test_each_step_of_words_has_examples_of_what_counts_and_of_what_does_not():
    for step, rows in examples().items():
        meanings = {meaning for meaning, _ in rows}
        assert len(meanings) > 1, step
        assert len(rows) >= 20, step


COUNTS = [
    ("oil_glass_first", "like the head on a cold beer in there", "oil_level", "foaming"),
    ("high_face", "caked over with fuzz and grease", "condenser_face", "fouled"),
    ("glass_again", "fizzing away like soda water", "sight_glass", "bubbles"),
]
ASKED_BACK = ["wire_back", "starter_wire_back", "probe_plugged_in", "terminal_cover_on"]


@pytest.mark.parametrize(("step", "words", "id_", "value"), COUNTS)
def test_a_look_that_is_told_in_other_words_counts(step: str, words: str, id_: str, value: str):
    said = by_example(question(step), words)
    assert isinstance(said, Answer)
    assert [(part.id, part.value) for part in said.parts] == [(id_, value)]


@pytest.mark.parametrize(("step", "words"), [
    ("wire_back", "landed her under the same screw and gave it a tug"),
    ("terminal_cover_on", "lid's on with every last bolt torqued down"),
    ("hose_off", "spun the hose off and the bottle's shut tight"),
])  # fmt: skip
def test_a_deed_that_safety_hangs_on_never_counts_by_it(step: str, words: str):
    assert by_example(question(step), words) == AskFor(DONE_AND_SAFE, pending="done")


def test_what_is_only_put_back_counts_where_every_word_of_it_is_known():
    assert by_example(question("probe_plugged_in"), "clicked the connector back home on it") == Command("continue", "said so")
    for said in ("as good as back home on it", "clicked the connector of the neighbor back home on it", "half of it is back on"):
        assert by_example(question("probe_plugged_in"), said) in (NotUnderstood(), AskFor(DONE_AND_SAFE, pending="done"))


@pytest.mark.parametrize(("step", "words"), [
    ("wire_back", "not yet, i'm still hunting for the screw"), ("wire_back", "i parked round the corner"),
    ("terminal_cover_on", "two bolts to go"), ("lock", "the wobbly thing sits sideways"), ("lock", "lock's in my hand"),
    ("fit_jumper", "i need to fetch the jumper from the van"), ("jumper_out", "jumper's in"), ("unlock", "is the lock off"),
    ("oil_glass_first", "hand me the flashlight would you"), ("repaired", "fuse replaced, it blew again"),
])  # fmt: skip
def test_what_is_like_nothing_or_like_the_contrary_is_not_understood(step: str, words: str):
    assert by_example(question(step), words) == NotUnderstood()


def test_where_the_examples_speak_for_another_answer_it_is_asked_back():
    asked = question("oil_control_look")
    doubted = unless_unlike(asked, Command("continue", "tripped"), "lamp's green on it and the button's flush, oil's happy")
    assert doubted == AskFor("Tripped?", pending="tripped")
    assert unless_unlike(asked, Command("continue", "tripped"), "the red button has popped out") == Command("continue", "tripped")


def test_a_yes_to_done_and_all_safe_is_the_deed_and_a_no_is_none():
    talk = standing_at("injection_coil_failed", "wire_back").hear("she sits where she sat")
    assert talk.said.endswith(DONE_AND_SAFE)
    assert "wire_lifted" in talk.open
    talk.hear("no")
    assert "wire_lifted" in talk.open
    talk = standing_at("injection_coil_failed", "wire_back").hear("she sits where she sat", "yes")
    assert "wire_lifted" not in talk.open
    assert not talk.broken()


def test_a_look_asked_back_is_taken_by_a_yes_alone():
    talk = standing_at("line fuse open", "line_fuses").hear("nothing through the center one")
    assert talk.said.endswith("One open?")
    assert talk.hear("yes").asked != "line_fuses:command"


@pytest.mark.parametrize("agreed", ["correct", "that's right", "yep"])
def test_it_is_taken_by_other_words_for_yes(agreed: str):
    talk = standing_at("line fuse open", "line_fuses").hear("nothing through the center one")
    assert talk.hear(agreed).asked != "line_fuses:command"


def test_a_no_to_it_asks_again():
    talk = standing_at("line fuse open", "line_fuses").hear("nothing through the center one", "no")
    assert talk.asked == "line_fuses:command"
    assert "line_fuse_open" not in talk.dialogue.state.established()
