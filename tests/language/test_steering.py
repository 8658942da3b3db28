"""Sentences that steer a call and are no answer to anything, whatever is asked. The project's own sentences."""

import pytest

from assistant.language.meaning import Command, Question
from assistant.language.pieces import understand_in_pieces

ASKED = (
    Question("injection_coil_ohms"), Question("probe_pipe_temperature"), Question("running_now", ("running_count",)),
    Question("protection_shown", ("tripped_count", "alarm_minutes_ago")), Question("module_enabled"), Question("product_state"),
    Question("dead_volts.power"), Question("service_valves_open"), Question("command", go_ahead=("good", "one open"), look=True),
)  # fmt: skip
STEERS = {
    "back": ("back up one", "can we go back a step", "go back one"),
    "correct": ("i messed up the last one", "that last number was wrong", "scratch that last one"),
    "louder": ("can't hear you", "can't hear you, louder", "i can barely hear you over the fans"),
    "repeat": ("i didn't hear you over the fans", "sorry, missed that"),
    "slower": ("you're talking too fast",),
    "where": ("where were we",),
    "review": ("what have we got so far",),
    "note": ("note this down",),
    "hold": ("hang tight", "let me grab my light first", "hang on a sec let me find my meter"),
}


@pytest.mark.parametrize(("command", "said"), [(command, said) for command, all_said in STEERS.items() for said in all_said])
def test_it_steers_at_any_question(command: str, said: str):
    meanings = [understand_in_pieces(asked, said) for asked in ASKED]
    assert [meaning.name if isinstance(meaning, Command) else meaning for meaning in meanings] == [command] * len(ASKED)


@pytest.mark.parametrize("said", ["no idea to be honest", "can't tell from here", "don't have a gauge for that"])
def test_what_nobody_can_tell_is_skipped_and_no_answer(said: str):
    meanings = [understand_in_pieces(asked, said) for asked in ASKED[:4]]
    assert all(isinstance(meaning, Command) and meaning.name == "skip" for meaning in meanings)


@pytest.mark.parametrize("said", ["back up to twelve", "let me get it to ninety"])
def test_what_only_begins_so_steers_nothing(said: str):
    meanings = [understand_in_pieces(asked, said) for asked in ASKED[:4]]
    assert not any(isinstance(meaning, Command) for meaning in meanings)
