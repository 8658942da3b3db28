"""To a value that is asked back people say yes or no and the answer once more."""

import pytest

from tests.talk import Talk
from tests.test_said_not_safe import standing_at


def low_is_asked_back() -> Talk:
    talk = standing_at("oil low", "oil_glass").hear("it's lowish, I'd say")
    assert talk.said == "Low. Correct?"
    return talk


@pytest.mark.parametrize(("back", "level"), [
    ("yes ma'am, it's low", "low"), ("yep, down below the glass, so it's low", "low"), ("no, it's foaming", "foaming"),
    ("nope, that's froth all the way up, so it's foaming", "foaming"),
])  # fmt: skip
def test_a_yes_that_says_it_again_agrees_and_a_no_puts_it_right(back: str, level: str):
    assert low_is_asked_back().hear(back).readings["oil_level"] == level


@pytest.mark.parametrize("back", [
    "yes, it's foaming", "no, it's right", "no, I was on the other glass", "no, somebody's screaming",
])  # fmt: skip
def test_nothing_counts_where_yes_and_no_stand_against_the_rest_or_it_is_of_another_thing(back: str):
    assert "oil_level" not in low_is_asked_back().hear(back).readings


def test_a_no_with_a_story_behind_it_asks_the_reading_anew():
    assert low_is_asked_back().hear("no, I was on the other glass").said == "Oil glass: low, normal, high or foaming?"
