"""What may come next in a walked call: answers, commands, corrections, time going by, a kill."""

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from functools import cache
from typing import NamedTuple

from assistant.call.branches import BRANCH_VALUES
from assistant.call.heard import Heard, Silence
from assistant.call.prompts import local_words
from assistant.language.meaning import Answer, Command, Confirmed, Meaning, Part, Question, Value
from assistant.language.vocabulary import vocabulary
from assistant.profile import Rack, Site
from assistant.safety.walker import Walker, word, words_for

Next = Heard | Silence | str
"""Something heard, time going by, or `resume`: a kill and a resume."""
LEAVING = ("skip", "back", "finish")
"""Commands that leave a step once they are confirmed: the walk confirms them at once. Those that leave nothing
("say again", "hold on", a "no") come back to where they were said and are not walked."""
_NUMBERS: dict[str, tuple[Value, ...]] = {"volts": (0.0, 5.0, 120.0), "temperature": (200.0, 40.0)}
LIVE_IDS = ("ladder_kind", "clothing_meets_label", "detector_state", "injection_hand_valve", "live_or_dead")
CHARGE_IDS = ("refrigerant_label", "cylinder_checked")
START_IDS = ("injection_after", "crankcase_heater", "oil_level", "service_valves_open", "others_clear")


TELLING = frozenset({
    *LIVE_IDS, *CHARGE_IDS, *START_IDS, "rack", "coil_seated", "injection_feed", "dead_volts.power",
    "dead_volts.control", "dead_volts.drive", "panel_tag", "chain_dead_check", "crankcase_temperature",
    "follow_up_in_hours", "leak_found", "leak_repaired", "switch_position", "part_left_in_use",
})  # fmt: skip
"""Readings whose value a safety rule or an obligation looks at. The others work only through findings, which are
free: one value stands for all."""


def values(id_: str, question: Question, rack: Rack | None, racks: tuple[str, ...]) -> tuple[Value, ...]:
    entry = vocabulary()[id_]
    if id_ not in TELLING and entry.kind == "choice":
        return tuple([*entry.choices, *dict.fromkeys(question.local.get(id_, {}).values())][:1])
    if id_ == "chain_dead_check":
        return ("discharge", "motor", "oil", "two")
    if id_ in BRANCH_VALUES:
        return BRANCH_VALUES[id_]
    if id_ not in TELLING and entry.kind in ("volts", "temperature"):
        return (10.0,)
    if entry.kind == "acknowledge":
        return (True,)
    if entry.kind == "yes_no":
        return ("yes", "no")
    if entry.kind == "choice":
        values = [*entry.choices, *dict.fromkeys(question.local.get(id_, {}).values())]
        if rack and id_ in ("panel_tag", "refrigerant_label"):
            # One that agrees and one that does not stand for all.
            good = [v for v in values if v == rack.refrigerant or v in {c.tag for c in rack.compressors}][:2]
            return tuple(dict.fromkeys([*good, *values[-1:]]))
        if id_ == "part_left_in_use":
            return ("none", "borrowed")
        if id_ == "rack":
            return racks
        if id_ in ("compressor", "first_to_trip", "site", "follow_up_owner"):
            return tuple(values[:1])
        return tuple(dict.fromkeys(values))
    if entry.kind == "free":
        return ("words",)
    if id_ == "follow_up_in_hours":
        return (24.0, 300.0)
    return _NUMBERS.get(entry.kind, (10.0,))


def kinds(site: Site) -> tuple[str, ...]:
    """The racks that stand for all: one of each kind of panel."""
    found: dict[tuple[object, ...], str] = {}
    for rack in site.racks:
        panel, probe = rack.panel, rack.probe
        drive = panel.drive or panel.capacitors
        key = (panel.control_isolator_stops, drive, probe.feed_test_possible, probe.mount == "in_gas", rack.flammable,
               rack.refrigerant == "R744", rack.closed_room)  # fmt: skip
        found.setdefault(key, rack.id)
    return tuple(found.values())


def answers(question: Question, rack: Rack | None, racks: tuple[str, ...]) -> Iterator[Meaning]:
    if question.asking == "command":
        for words in question.go_ahead[:1] + tuple(w for w in question.go_ahead if "leave" in w):
            yield Command("continue", words)
    elif question.asking == "confirm":
        yield Confirmed(True)
        yield Confirmed(False)
    elif question.asking == "note":
        yield Answer((Part("note", "words"),))
    else:
        for value in values(question.asking, question, rack, racks):
            first = Part(question.asking, value)
            rest = tuple(Part(i, values(i, question, rack, racks)[0]) for i in question.also)
            yield Answer((first, *rest))
        if question.also:
            yield Answer((Part(question.asking, values(question.asking, question, rack, racks)[0]),))
        for i in question.also:
            for value in values(i, question, rack, racks)[1:]:
                yield Answer((Part(i, value),))


_LOOKED_AT = (TELLING | BRANCH_VALUES.keys() | {"compressor"}) - {"rack"}
CORRECTED = tuple(sorted(i for i in _LOOKED_AT if vocabulary()[i].kind != "acknowledge"))
"""Readings that an obligation or a rule rests on: each is corrected wherever it is on record."""


class Utterance(NamedTuple):
    name: str
    heard: tuple[Next, ...]
    """What is heard, in turn."""
    plain: bool = False
    """A plain answer, or the end of a wait."""


def utterances(d: Walker, racks: tuple[str, ...]) -> Iterator[Utterance]:
    """Everything that may come next."""
    s = d.state
    at = d.now + timedelta(seconds=5)
    said = [(_named(m), _words(m)) for m in answers(d.question or Question("command"), s.rack, racks)]
    for name, words in said:
        yield Utterance(name, (Heard(words, at),), not d.waiting)
    if d.waiting:
        yield Utterance("wait over", (Silence(d.waiting.until),), True)
    elif s.dead or s.power_on_at:
        # Thirty minutes away from the panel, or all seconds of the feed, and only then the answer.
        for name, words in said:
            yield Utterance(f"{name}, an hour later", (Heard(words, d.now + timedelta(hours=1)),))
        yield Utterance("silence", (Silence(d.now + timedelta(seconds=40)),))
        yield Utterance("an hour", (Silence(d.now + timedelta(hours=1)),))
    if not s.emergency:
        yield from _commands(d)
    yield Utterance("killed", ("resume",))


def _commands(d: Walker) -> Iterator[Utterance]:
    s = d.state
    at = d.now + timedelta(seconds=5)
    for over in ("continue", "finish"):
        yield Utterance(f"emergency, {over}", (_command("emergency", at), _command(over, at)))
    for name in LEAVING:
        if not (name == "finish" and s.finishing):
            yield Utterance(name, (_command(name, at), Heard(word(Confirmed(True)), at)))
    for id_ in CORRECTED:
        if id_ in s.readings:
            for value in _other_values(d, id_):
                better = Heard(word(Answer((Part(id_, value),))), at)
                yield Utterance(f"correct {id_}: {value}", (Heard(word(Command("correct", id_)), at), better))


@cache
def _command_word(name: str) -> str:
    return word(Command(name))


def _command(name: str, at: datetime) -> Heard:
    return Heard(_command_word(name), at)


def _other_values(d: Walker, id_: str) -> Iterable[Value]:
    s = d.state
    if id_ == "compressor":
        return [c.id for c in s.rack.compressors if c.id != s.value(id_)][:1] if s.rack else ()
    local = local_words(s, (id_,)) if vocabulary()[id_].kind == "choice" else {}
    return [v for v in values(id_, Question(id_, local=local), s.rack, ()) if v != s.value(id_)]


def _words(meaning: Meaning) -> str:
    return words_for(meaning.about, Command("continue")) if isinstance(meaning, Command) else word(meaning)


def _named(meaning: Meaning) -> str:
    match meaning:
        case Answer(parts=parts):
            return ", ".join(str(p.value) for p in parts)
        case Confirmed(yes=yes):
            return "yes" if yes else "no"
        case Command(about=words):
            return words
    return str(meaning)
