"""The answer alone, where what is told beside it only says how it went, or why it is so: "done, took a bit of force".

What is found is a shorter sentence, which is then understood as any other: nothing is taken here. Beside what is acknowledged
each clause must be one that is known (`beside_it.toml`), or say again what the prompt asked for.
"""

import itertools
import re
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from assistant.language.asides import strictly
from assistant.language.deeds import denied
from assistant.language.grammar import normalise, understand
from assistant.language.hedges import is_sound
from assistant.language.meaning import Answer, Command, Meaning, Question
from assistant.language.spotting import general
from assistant.language.vocabulary import vocabulary

_JOINS = re.compile(
    r"\s*,\s*| and then (?!(?:the )?(?:up|down)stream)| and (?!a half\b|a quarter\b|a bit\b|slow|then (?:the"
    r" )?(?:up|down)stream)| then (?!upstream\b|downstream\b)| because | but (?=slow|noisy|loud)"
)
_LEADS = re.compile(r"^(?:and|so|because|but|okay|yeah|yes|well|then(?! (?:the )?(?:up|down)stream)|i mean|with) (?=\w)")
_STATES = frozenset("shut closed open opened off on in out down up back seated home empty dead locked clear".split())
_ALIKE = ({"shut", "closed", "close"}, {"open", "opened"}, {"seat", "seated", "down", "home", "on"})
_FASTENED = frozenset("bolt bolts screws cover covers lead wire wires".split())
_ITS_VALVE = "cylinder's"
_CYLINDER = ("valve", "bottle", "drum", "tank", "jug")
_ALL_ALONG = re.compile(
    r"(?: was| were| stayed| still)? (open|off|closed|shut|on)(?: (?:the whole time|all along|throughout|the entire time))$"
)
_TURNS = re.compile(
    r"\b(?:not|never|no|nothing|without|half|almost|nearly|still|yet|will|going|gonna|can't|won't|one of|some"
    r"|most|except)\b|n't\b|'ll\b"
)
_PUT_IT_BACK = re.compile(r"\bput (?:it|them|that) back\b|\bback (?:in|on) again\b")
_NEAR = 2
"""Words between a thing and its state in a prompt, at most."""
_DONE = frozenset("done finished complete completed sorted understood".split())


@cache
def _patterns(kind: str) -> dict[str, re.Pattern[str]]:
    with open(Path(__file__).with_name("beside_it.toml"), "rb") as file:
        rows = tomllib.load(file)[kind]
    return {name: re.compile("|".join(f"(?:{pattern})" for pattern in patterns)) for name, patterns in rows.items()}


def done_alone(question: Question, words: str) -> str:
    """The clause that says that it is done, where all others only tell how it went; empty where there is no such thing.

    Args:
        question: what was asked.
        words: as typed, with their commas.

    >>> asked = Question("command", go_ahead=("done",), about=("terminal", "cover", "on", "every", "bolt"))
    >>> done_alone(asked, "done, took a bit of force"), done_alone(asked, "done, one bolt's missing")
    ('done', '')
    """
    if not _acknowledged(question):
        return ""
    pieces = _pieces(words)
    if len(pieces) < 2:
        return ""
    cores = [piece for piece in pieces if _says_done(question, piece)]
    together = " and ".join(piece for piece in pieces if piece in cores or _said_again(question, piece))
    if denied(question, together) or (len(cores) > 1 and _PUT_IT_BACK.search(together)):
        return ""
    if not cores or not all(piece in cores or _how_it_went(question, piece) for piece in pieces):
        return ""
    return next((core for core in cores if not set(core.split()) <= _DONE), cores[0])


def _pieces(words: str) -> list[str]:
    pieces = [normalise(piece) for piece in _JOINS.split(" ".join(words.split())) if piece.strip()]
    pieces = [_LEADS.sub("", piece) for piece in pieces if piece and not is_sound(piece)]
    return [piece for piece in pieces if piece not in ("okay", "yeah", "yes", "yep", "alright", "well")] or pieces


def _acknowledged(question: Question) -> bool:
    if question.asking == "command":
        return not question.look and "done" in question.go_ahead
    entry = vocabulary().get(question.asking)
    return entry is not None and entry.kind == "acknowledge" and not question.also


def _says_done(question: Question, piece: str) -> bool:
    """Whether it says by itself that it is done; a state alone is less than the prompt asked for."""
    if not _stands_so(question, piece):
        return False
    said = understand(question, piece)
    if isinstance(said, Command):
        return said.name == "continue"
    return isinstance(said, Answer) and [part.value for part in said.parts] == [True] and not said.parts[0].doubt


def _how_it_went(question: Question, piece: str) -> bool:
    about = set(question.about)
    how = _patterns("how")
    fitting = ["went"]
    fitting += ["fastened"] if about & _FASTENED else []
    fitting += ["put_away"] if about & set("off out unlock unplugged".split()) else []
    fitting += ["downstream_first"] if set("downstream open first".split()) <= about else []
    fitting += ["upstream_first"] if set("upstream first".split()) <= about else []
    fitting += ["suction_last"] if set("suction last".split()) <= about else []
    fitting += ["grounded"] if {"ground", "long"} <= about else []
    fitting += ["told"] if question.asking == "store_told" or "tell" in about else []
    fitting += ["owner"] if question.asking == "other_lock_gone" else []
    return any(how[name].fullmatch(piece) for name in fitting) or _said_again(question, piece)


def _said_again(question: Question, piece: str) -> bool:
    """Whether it says no more than the prompt, in words that mean the same: "power's off", "valve is closed"."""
    if _TURNS.search(piece) or piece.endswith("?"):
        return False
    tokens = _plain(question, _ALL_ALONG.sub(r" \1", piece))
    about = set(question.about)
    for same in _ALIKE:
        about |= same if about & same else set()
    if len(tokens) == 1 and tokens[0] in _STATES:
        return tokens[0] in about and bool(_things_of(question, tokens[0]))  # "shut, and hoses are off"
    known = about | general() - _STATES | {"both", "all", "it", "they", "is", "are", "the"}
    named = set(tokens) & set(question.about) - _STATES - general()
    return bool(named) and bool(set(tokens) & _STATES) and set(tokens) <= known and _stands_so(question, piece)


def _plain(question: Question, piece: str) -> list[str]:
    """The words without what hangs on them, a valve as the cylinder's where one is asked for."""
    tokens = [word.removesuffix("'s").removesuffix("'re") for word in piece.split()]
    bottle = _ITS_VALVE.removesuffix("'s")
    return [bottle if word in _CYLINDER and bottle in question.about else word for word in tokens]


def _stands_so(question: Question, piece: str) -> bool:
    """Whether the prompt has these states beside this thing: its "open solenoid" says nothing of one that is closed."""
    tokens = _plain(question, _ALL_ALONG.sub(r" \1", piece))
    thing = next((word for word in tokens if word in question.about and word not in _STATES | general()), "")
    states = set(tokens) & _STATES
    return not thing or not states or any(thing in _things_of(question, state) for state in states)


def _things_of(question: Question, state: str) -> set[str]:
    """The things that the prompt says so of: those right before the state, else the one behind it, a word or two away."""
    told, plain = question.about, _STATES | general()
    alike = {state}.union(*(same for same in _ALIKE if state in same)) & _STATES
    found: set[str] = set()
    for at in (at for at, word in enumerate(told) if word in alike):
        nearest = itertools.takewhile(lambda word: word not in _STATES, reversed(told[max(0, at - _NEAR) : at]))
        before = {word for word in nearest if word not in plain}
        behind = [told[n] for n in range(at + 1, min(len(told), at + 1 + _NEAR)) if told[n] not in plain]
        found |= before or set(behind[:1])
    return found


def reason_apart(question: Question, words: str) -> Iterator[str]:
    """The clause that answers, where all others only tell why it is so.

    >>> list(reason_apart(Question("crankcase_heater"), "off, the breaker for it was down"))
    ['off']
    """
    if _acknowledged(question) or question.also or question.asking == "confirm":
        return
    pieces = _pieces(words)
    for at, core in enumerate(pieces):
        rest = pieces[:at] + pieces[at + 1 :]
        if rest and all(_why(question, core, other) for other in rest):
            yield core


def _why(question: Question, core: str, piece: str) -> bool:
    why = _patterns("why")
    tokens = set(core.split())
    value = _value(understand(question, core))
    fitting = [] if strictly(question) and question.asking != "live_or_dead" else ["any"]
    fitting += ["zero"] if value in (0.0, "none_present") else []
    fitting += ["none"] if value in ("none", "no") else []
    fitting += ["off"] if value in ("off", "no", "none", "stopped") or "off" in tokens else []
    fitting += ["always"] if "always" in tokens else []
    fitting += ["unknown"] if "unknown" in tokens else []
    fitting += ["running"] if tokens & {"running", "turning", "spinning"} else []
    return any(why[name].fullmatch(piece) for name in fitting)


def _value(said: Meaning) -> object:
    return said.parts[0].value if isinstance(said, Answer) and len(said.parts) == 1 else None
