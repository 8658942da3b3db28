"""A trainer sees every step, and what stays open from where to where."""

from html import escape

from assistant.call.hooked_up import OBLIGATIONS
from assistant.call.procedure import all_steps
from assistant.safety.drawing import drawing


def test_every_step_of_the_procedure_is_on_the_drawing() -> None:
    page = drawing(all_steps())
    assert all(f">{escape(step.id)}</tspan>" in page for step in all_steps())


def test_whatever_a_step_opens_has_its_column() -> None:
    page = drawing(all_steps())
    opened = {o for step in all_steps() for o in step.opens}
    assert opened
    assert all(f">{OBLIGATIONS[o].say}</text>" in page for o in opened)
