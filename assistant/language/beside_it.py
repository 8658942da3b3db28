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

from assistant.language.asides import another, strictly
from assistant.language.deeds import denied
from assistant.language.grammar import normalise, understand
from assistant.language.guess import AT_ZERO
from assistant.language.hedges import is_sound
from assistant.language.lone_numbers import FIGURES
from assistant.language.meaning import Answer, AskFor, Command, Meaning, NotUnderstood, Question
from assistant.language.narrated import narrates
from assistant.language.numbers import told_number
from assistant.language.own_unit import LIVE_VOLTS
from assistant.language.passed_over import cautious
from assistant.language.passed_over import value as value_of
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.spotting import ALIKE, general
from assistant.language.vocabulary import OWN_LOCK_HUNG, kind_of, vocabulary

_JOINS = re.compile(
    r"\s*,\s*|(?<!hundred)(?<!thousand) and then (?!(?:the )?(?:up|down)stream)|(?<!hundred)(?<!thousand) and (?!a half\b"
    r"|a quarter\b|a bit\b|slow|then (?:the"
    r" )?(?:up|down)stream)| then (?!upstream\b|downstream\b)| because | but (?=slow|noisy|loud|it (?:moves|turns|spins"
    r"|goes round|goes around|rotates)\b|it's (?:tight|stiff|hard)\b)"
)
_LEADS = re.compile(r"^(?:and|so|because|but|okay|yeah|yes|well|then(?! (?:the )?(?:up|down)stream)|i mean|with) (?=\w)")
_STATES = frozenset("shut closed open opened off on in out down up back seated home empty dead locked clear".split())
_ALIKE = (*ALIKE, {"seat", "seated", "down", "home", "on"})
_FASTENED = frozenset("bolt bolts screws cover covers lead wire wires".split())
_ITS_VALVE = "cylinder's"
_CYLINDER = ("valve", "bottle", "drum", "tank", "jug")
_ALL_ALONG = re.compile(
    r"(?: was| were| stayed| still)? (open|off|closed|shut|on)(?: (?:the whole time|all along|throughout|the entire time))$"
)
_GOT_IT = re.compile(r"^(?:i |we |i've |we've |have )*(?:got|have|put|set|strapped|fixed) (?=the |it |my |both |all )")
_TURNS = re.compile(
    r"\b(?:not|never|no|nothing|without|half|almost|nearly|still|yet|will|going|gonna|can't|won't|one of|some"
    r"|most|except)\b|n't\b|'ll\b"
)
_PUT_IT_BACK = re.compile(r"\bput (?:it|them|that) back\b|\bback (?:in|on) again\b")
_SOUNDS = frozenset(
    "okay|yeah|yes|yep|alright|well|yes sir|yes ma'am|yup|ah|sir|ma'am|boss|thank you|thanks|cheers|please|good night"
    "|bye|no worries"
    "|no problem|sure|sure thing|you bet|aye".split("|")
)
_WITH_TAPE = re.compile(
    r" with (?:some |the |a bit of )?(?:foil |electrical )?(?:tape|ties|a strap|a zip tie|zip ties|a clamp)\b"
)
_EVERYTHING = frozenset("all both everything".split())
_STEM = 6
"""Letters by which "equalizer" is the prompt's "equalizing"."""
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
        return pieces[0] if "," in words and pieces and _says_done(question, pieces[0]) else ""
    cores = [piece for piece in pieces if _says_done(question, piece)]
    together = " and ".join(piece for piece in pieces if piece in cores or _said_again(question, piece))
    everything = any(_EVERYTHING & set(core.split()) for core in cores)
    if denied(question, together) or (len(cores) > 1 and _PUT_IT_BACK.search(together)):
        return ""
    rest = [piece for piece in pieces if piece not in cores]
    if not cores or not all(_how_it_went(question, piece, everything) for piece in rest):
        return ""
    return next((core for core in cores if not set(core.split()) <= _DONE), cores[0])


def _pieces(words: str) -> list[str]:
    pieces = [normalise(piece) for piece in _JOINS.split(" ".join(words.split())) if piece.strip()]
    pieces = [_LEADS.sub("", piece) for piece in pieces if piece and not is_sound(piece)]
    return [piece for piece in pieces if piece not in _SOUNDS] or pieces


def _acknowledged(question: Question) -> bool:
    if question.asking == "command":
        return question.takes_a_done
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


def _how_it_went(question: Question, piece: str, everything: bool) -> bool:
    if everything and _only_things(question, piece):
        return True
    about = set(question.about)
    how = _patterns("how")
    if re.search(r"\b(?:out|off|loose)$", piece) and not about & {"out", "off", "unplugged", "unlock", "unplug"}:
        return False  # "gave it a tug and it slid right out"
    fitting = ["went"]
    fitting += ["fastened"] if about & _FASTENED else []
    fitting += ["put_away"] if about & set("off out unlock unplugged".split()) else []
    fitting += ["downstream_first"] if set("downstream open first".split()) <= about else []
    fitting += ["upstream_first"] if set("upstream first".split()) <= about else []
    fitting += ["suction_last"] if set("suction last".split()) <= about else []
    fitting += ["grounded"] if {"ground", "long"} <= about else []
    fitting += ["strapped"] if "thermocouple" in about else []
    fitting += ["untouched"] if about & {"open", "valves"} and question.asking == "service_valves_open" else []
    fitting += ["seated"] if {"seat", "coil"} <= about else []
    fitting += ["blocked"] if question.asking == "start_prevented" else []
    fitting += ["tried_start"] if question.asking == "locked_out" else []
    fitting += ["hung"] if question.asking in OWN_LOCK_HUNG else []
    fitting += ["weighed"] if {"hose", "hoses"} & about else []
    fitting += ["dark"] if question.asking == "control_power_off" or {"reset", "switched"} & about else []
    fitting += ["cleared"] if question.asking in ("others_clear", "control_power_on") else []
    fitting += ["put_back"] if {"start", "control", "back"} <= about else []
    fitting += ["unlocked"] if question.asking == "lock_removed" else []
    fitting += ["told"] if question.asking == "store_told" or "tell" in about else []
    fitting += ["owner"] if question.asking == "other_lock_gone" else []
    proves = question.asking in ("meter_proved_before", "meter_proved_after")
    fitting += ["tried"] if proves else []
    fitting += ["backed_off"] if question.asking == "service_valves_open" else []
    fitting += ["tagged"] if question.asking == "jumper_fitted" else []
    if proves and not how["tried"].fullmatch(piece) and (match := how["proved"].fullmatch(piece)):
        return _is_live(match["volts"])
    return any(how[name].fullmatch(piece) for name in fitting) or _said_again(question, piece)


def _only_things(question: Question, piece: str) -> bool:
    """Whether a piece only counts up what the prompt names, beside a word for all of it: "all open, discharge, oil"."""
    words = [word for word in piece.split() if word not in ("the", "and", "both", "too")]
    named = [word for word in question.about if word not in _STATES | general()]
    return bool(words) and all(any(word[:_STEM] == name[:_STEM] for name in named) for word in words)


def _is_live(volts: str) -> bool:
    """Whether a source that reads so is live: a meter is proved on nothing less."""
    read = told_number(volts)
    return read is not None and read > LIVE_VOLTS


def _said_again(question: Question, piece: str) -> bool:
    """Whether it says no more than the prompt, in words that mean the same: "power's off", "valve is closed"."""
    if _TURNS.search(piece) or piece.endswith("?"):
        return False
    piece = _WITH_TAPE.sub("", piece) if "thermocouple" in question.about else piece
    tokens = _plain(question, _GOT_IT.sub("", _ALL_ALONG.sub(r" \1", piece)))
    about = set(question.about)
    tokens = [word.removesuffix("s") if word not in about and word.removesuffix("s") in about else word for word in tokens]
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
    """Whether a piece tells why it is so, how it was seen, or the same once more."""
    why = _patterns("why")
    said = understand(question, core)
    if any(why[name].fullmatch(piece) for name in _fitting(question, core, said)):
        return True
    if piece in ("no", "nope", "nah") and question.look and cautious(question, [said]):
        return True
    if _guess_of(question, core, piece, said):
        return True
    if question.look and len(piece.split()) >= _TOLD and narrates(piece):
        return True
    return _counted(question) and (_same_number(question, core, piece, said) or _from_two(piece, value_of(said)))


def _guess_of(question: Question, core: str, piece: str, said: Meaning) -> bool:
    """ "Seasonal I guess you'd call it, yeah, seasonal": a guess that names what is then said for sure."""
    if strictly(question) or _counted(question) or _TURNS.search(piece) or not isinstance(said, Answer):
        return False
    return (
        core in piece
        and piece != core
        and bool(_GUESSED.search(piece))
        and not another(question, tuple(piece.split()), [said], True)
    )


_GUESSED = re.compile(r"\b(?:guess|think|suppose|reckon|believe|i'd say|call it|probably|must be|looks like|i'd call)\b")


def _fitting(question: Question, core: str, said: Meaning) -> Iterator[str]:
    """The rows that may stand beside this answer."""
    tokens = set(core.split())
    value = value_of(said)
    if not strictly(question) or question.asking == "live_or_dead":
        yield "any"
    if question.asking in vocabulary() and kind_of(question.asking) not in ("acknowledge", "yes_no", "free"):
        yield from ("seen", "kind")
    if value in (0.0, "none_present"):
        yield "zero"
    if cautious(question, [said]):
        yield "cautious"
    if _counted(question) and isinstance(value, float) and value <= _SMALL and not question.asking.startswith("dead_volts"):
        yield "little"
    if _counted(question) and kind_of(question.asking) in ("temperature", "pressure"):
        yield "much"
    if question.asking in ("condenser_fans_running", "condenser_fans_called"):
        yield "rest"
    if value == "feeding":
        yield "going_on"
    if _counted(question):
        yield "either"
    if value in ("none", "no"):
        yield "none"
    if value in ("off", "no", "none", "stopped") or "off" in tokens:
        yield "off"
    if value in ("fouled", "blocked", "dirty") and value in tokens:
        yield "dirt"
    if question.look and tokens & {"closed", "dark"}:
        yield "closed" if "closed" in tokens else "several"
    if value == "dead":
        yield "dead"
    if value == 0.0 and question.asking in AT_ZERO:
        yield "holds"
    if value == "quick":
        yield "quick"
    if value == "tight":
        yield "tight"
    if value == "live":
        yield "live"
    if value == "low" and "low" in tokens:
        yield "low"
    yield from (word for word in ("always", "unknown") if word in tokens)
    if tokens & {"running", "turning", "spinning"}:
        yield "running"


def _counted(question: Question) -> bool:
    """Whether one number is asked for that no panel is opened by."""
    entry = vocabulary().get(question.asking)
    return entry is not None and entry.kind in NUMBER_KINDS and not question.also and not strictly(question)


def _same_number(question: Question, core: str, piece: str, said: Meaning) -> bool:
    """ "Half, so fifty percent", "three, it says three stages on": the same number once more, beside nothing that turns it."""
    again = understand(question, piece)
    if isinstance(again, Answer) and value_of(again) == value_of(said):
        return True
    figures = [word for word in core.split() if word in FIGURES]
    if not isinstance(again, NotUnderstood | AskFor) or [word for word in piece.split() if word in FIGURES] != figures:
        return False
    return bool(figures) and bool(_SAYS_IT.match(piece)) and not _TURNS.search(piece)


_SAYS_IT = re.compile(
    r"(?:it|that|the|display|screen|controller|board|gauge|meter|i|we|so|and)(?: \w+)?(?:'s| says| reads| shows| see| count) "
)
_IN_AND_OUT = re.compile(
    r"(?:it's |from |the )*(?:in|inlet|before|top|upstream|going in)(?:'s| is| at)? (?P<one>[a-z0-9 .]+?),? (?:and )?(?:the )?"
    r"(?:out|outlet|after|bottom|downstream|coming out|going out)(?:'s| is| at)? (?P<other>[a-z0-9 .]+)"
)


def _from_two(piece: str, value: object) -> bool:
    """ "In ninety four out eighty seven", beside seven: the two that it is the difference of."""
    match = _IN_AND_OUT.fullmatch(piece)
    if match is None or not isinstance(value, float):
        return False
    one, other = told_number(match["one"]), told_number(match["other"])
    return one is not None and other is not None and abs(abs(one - other) - value) < _EQUAL


_TOLD = 3
"""Words from which a piece tells what hands did, and names no state: "opened" is one."""
_EQUAL = 0.05
_SMALL = 3.0
