"""What the repair itself lays open proves what was repaired: nobody is asked once more to repair it."""

from tests.test_said_not_safe import standing_at


def test_a_strainer_that_was_plugged_when_opened_is_not_repaired_twice():
    talk = standing_at("injection_strainer_plugged", "repaired").hear("put a new screen in, it's repaired")
    assert talk.asked.startswith("strainer_opened")
    talk.hear("plugged")
    assert "Injection strainer plugged. Proven." in talk.said
    assert talk.asked.startswith("tight")
    assert not talk.broken()


def test_a_strainer_that_was_clean_when_opened_is_searched_on():
    talk = standing_at("injection_strainer_plugged", "repaired").hear("repaired", "clean")
    assert not talk.asked.startswith("tight") or "Proven" not in talk.said
    assert not talk.broken()
