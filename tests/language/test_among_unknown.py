"""A number that stands plainly among clauses that no table has: it counts where nothing speaks against it.

Our own sentences, by how people tell what a meter did.
"""

import pytest

from tests.language.test_said_at_steps import meant

TAKEN = [
    ("live_oil", "two oh eight, same as the last point, so it passes", "safety_volts.oil_pressure=208"),
    ("live_low", "forty one volts, and it stays put", "safety_volts.low_pressure=41"),
    ("walk_high", "it's like three volts, three point two", "chain_point.high_pressure=3.2"),
    ("run_head", "about two thirty, two thirty two, two thirty two", "discharge_pressure=232"),
    ("why_air", "around forty, forty one, it's chilly up here, forty one", "ambient_temperature=41"),
    ("run_header", "two sixteen, two pounds under the machine", "rack_discharge_pressure=216"),
    ("high_standing", "one sixty four, hasn't moved in ten minutes", "idle_condenser_pressure=164"),
    ("watch_second", "discharge two twenty, suction eleven, steadier than it has been",
     "watch.suction_pressure=11; watch.discharge_temperature=220"),
]
ASKED_BACK = [
    ("live_low", "forty one volts, but it wanders a little, i wouldn't hang my hat on it"),
    ("dead_control", "point five, somewhat surprising, i suppose it's the cable"),
    ("walk_high", "one eighteen, and the book calls for that"),
]
NOT_TAKEN = [
    ("live_supply", "two oh eight, two thirty"),
    ("coil", "four twelve, that's compressor four's"),
    ("why_suction", "twelve or thirteen, the glass is dirty"),
    ("live_oil", "what was two oh eight, the last one"),
]


@pytest.mark.parametrize(("step", "words", "meaning"), TAKEN)
def test_a_number_counts_among_clauses_that_say_nothing_against_it(step: str, words: str, meaning: str):
    assert sorted(meant(step, words).split("; ")) == sorted(meaning.split("; "))


@pytest.mark.parametrize(("step", "words"), [*ASKED_BACK, *NOT_TAKEN])
def test_it_never_counts_where_a_word_turns_dates_or_doubts_it(step: str, words: str):
    assert meant(step, words) in ("asked", "refused", "remark")
