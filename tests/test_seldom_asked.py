"""Each call of `seldom.py` comes to its seal, asks what it is there for, and breaks no rule."""

import pytest

from assistant.call.facts import CautionGiven, ObligationOpened, ReadingTaken, StepDone, StepEntered
from tests.seldom import SELDOM, seldom_call


@pytest.mark.parametrize("name", SELDOM)
def test_what_is_seldom_asked_is_asked_and_the_call_ends_safely(name: str):
    one = SELDOM[name]
    talk = seldom_call(one)
    facts = [fact for _, fact in talk.facts]
    asked = {fact.step for fact in facts if isinstance(fact, StepEntered | StepDone | ReadingTaken)}
    assert set(one.steps) <= asked
    assert one.opens in {"", *(fact.id for fact in facts if isinstance(fact, ObligationOpened))}
    assert one.cautions in {"", *(fact.caution for fact in facts if isinstance(fact, CautionGiven))}
    assert talk.broken() == ()
