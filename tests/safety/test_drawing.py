"""A trainer sees every step, and what stays open from where to where."""

from html import escape

from assistant.call.procedure import own_procedure
from assistant.safety.drawing import drawing


def test_every_step_of_the_procedure_is_on_the_drawing() -> None:
    page = drawing(own_procedure())
    assert all(f">{escape(step.id)}</tspan>" in page for step in own_procedure().steps)


def test_whatever_a_step_opens_has_its_column() -> None:
    page = drawing(own_procedure())
    opened = {o for step in own_procedure().steps for o in step.opens}
    assert opened
    assert all(f">{own_procedure().obligations[o].say}</text>" in page for o in opened)
