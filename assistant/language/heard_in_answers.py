"""Which remarks on safety are heard in sentences that answer what was asked: there the sense may find the answer (`by_sense`)."""

from assistant.language.meaning import Question, Remark

HEARD_IN_ANSWERS = frozenset({
    "in hand", "reset again", "service_valves_open", "stopped", "tripped", "won't start", "window", "coil off", "panel_cover",
    "noise", "left inside", "others_clear", "another's lock", "pressure", "bypassed",
})  # fmt: skip
"""What is heard in a sentence that tells how it was done: "locked with my own lock, and the meter says dead on every leg"."""
_NOW_AND_THEN = frozenset({
    "burns", "misread", "gear", "vacuum", "valve open", "metal ladder", "no oil", "took over", "air", "unknown here",
})  # fmt: skip
"""What is seldom heard in one, and opens nothing: "wrong terminal, wait, i'm on it now, it's one seventeen"."""
_READ_BY_A_METER = ("dead_volts", "meter_proved")


def may_be_an_answer(question: Question, said: Remark) -> bool:
    """Whether such a remark is heard in answers: power that is on tells of danger, but where it is switched on."""
    if said.about == "misread" and question.asking.startswith(_READ_BY_A_METER):
        return False  # what a meter missed there is what somebody dies of
    asked_for = (said.about == "live" and question.asking == "control_power_on") or (
        said.about == "alarm" and "relief" in question.about  # it must be open there
    )
    return said.about in HEARD_IN_ANSWERS | _NOW_AND_THEN or asked_for
