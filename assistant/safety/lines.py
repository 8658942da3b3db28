"""What a call does, as the lines that the monitor reads: facts as the log has them, and what is said, asked and waited for."""

from collections.abc import Iterable
from typing import Any

from assistant.call.effects import Effect, Ended, Listen, Manner, Record, Say, Wait
from assistant.call.facts import FACTS

_KINDS = {fact: kind for kind, fact in FACTS.items()}


def line(effect: Effect) -> dict[str, Any]:
    """One effect as its line."""
    match effect:
        case Record(fact=fact):
            return {"kind": _KINDS[type(fact)], **vars(fact)}
        case Say(purpose=purpose, text=text):
            return {"kind": "say", "purpose": purpose, "text": text}
        case Listen(question=question, step=step, unit=unit, quiet=quiet):
            return {"kind": "ask", "step": step, "asking": question.asking, "also": list(question.also), "of": question.of,
                    "go_ahead": list(question.go_ahead), "unit": unit, "quiet": quiet}  # fmt: skip
        case Wait(until=until, step=step):
            return {"kind": "wait", "until": until, "step": step}
        case Manner(word=word):
            return {"kind": "manner", "word": word}
        case Ended(state=state):
            return {"kind": "end", "state": state}


def lines(effects: Iterable[Effect]) -> list[dict[str, Any]]:
    """Effects as lines, in their order."""
    return [line(effect) for effect in effects]
