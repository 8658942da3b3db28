"""What somebody tells beside an answer, and an answer that one clause gives for sure."""

import pytest

from assistant.language.meaning import Answer, Command
from assistant.language.pieces import understand_in_pieces
from assistant.language.spoilt import spoilt
from tests.language.test_said_at_steps import question


def counted(step: str, words: str) -> object:
    """The value that counts at once; None where nothing does."""
    meaning = understand_in_pieces(question(step), words)
    if spoilt(question(step), words):
        return None
    if isinstance(meaning, Command):
        return meaning.name if meaning.name == "continue" else None
    sure = isinstance(meaning, Answer) and not any(part.doubt for part in meaning.parts)
    return meaning.parts[0].value if sure and isinstance(meaning, Answer) else None


SURE = [
    ("oil_glass_first", "low i can only just see it at the bottom", "low"),
    ("oil_glass_first", "half , wait let me wipe it , yeah half", "normal"),
    ("shed_load", "shed some of it the dairy can wait", "some"),
    ("live_supply", "okay so i'm on the two control terminals and i've got one twenty one , nice and steady", 121.0),
    ("high_fans", "only six of them turning , the two on the far end are just sitting there", 6.0),
    ("insulation", "less than one meg it's point three", 0.3),
    ("how_to_check", "dead , i'm not that brave", "dead"),
    ("poles", "all closed , i checked each one with the meter", "continue"),
    ("switch_auto", "it had been left in hand it is back in auto now", "continue"),
    ("high_liquid_out", "niner four degrees", 94.0),
    ("reset_past", "couldn't tell you", "unknown"),
    ("oil_glass_first", "under half", "low"),
]
NOT_SURE = [
    ("lock", "locked i gave him the key"),
    ("lock", "it's locked out by the night crew"),
    ("meter_before", "good i tested it at home"),
    ("dead_drive", "two i waited ten seconds"),
    ("how_to_check", "dead battery"),
    ("warm_crankcase", "thirty five celsius by my clamp sir"),
    ("live_low", "hey carlos , hand me the one twenty volt tester"),
    ("control_fuse_look", "good on the neighbor"),
    ("coil", "zero i haven't zeroed the leads"),
    ("motor_shell", "hot if it was running"),
    ("pressure_reset", "holds i pushed it five times"),
]


@pytest.mark.parametrize(("step", "words", "value"), SURE)
def test_an_answer_counts_beside_what_changes_nothing_of_it(step: str, words: str, value: object):
    assert counted(step, words) == value


@pytest.mark.parametrize(("step", "words"), NOT_SURE)
def test_what_turns_weakens_or_gives_away_an_answer_keeps_it_from_counting(step: str, words: str):
    assert counted(step, words) is None
