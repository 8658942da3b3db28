"""What may come next in a walked call: answers, commands, corrections, time going by, a kill."""

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from typing import NamedTuple

from assistant.branches.conditions import FITTED
from assistant.branches.loading import conditions_of
from assistant.branches.steps import Procedure
from assistant.call import modes
from assistant.call.heard import Heard, Silence
from assistant.call.prompts import local_words
from assistant.language.meaning import Answer, Command, Confirmed, Meaning, Part, Question, Remark, Value
from assistant.language.vocabulary import vocabulary
from assistant.profile import Rack, Site
from assistant.safety.walker import Walker

Next = Heard | Silence | str
"""Something heard, time going by, or `resume`: a kill and a resume."""
LEAVING = ("skip", "back", "finish")
"""Commands that leave a step once they are confirmed: the walk confirms them at once. Those that leave nothing
("say again", "hold on", a "no") come back to where they were said and are not walked."""
_NUMBERS: dict[str, tuple[Value, ...]] = {"volts": (0.0, 5.0, 120.0), "temperature": (200.0, 40.0)}
_READ: dict[str, tuple[Value, ...]] = {
    "shell_pressure": (10.0, -5.0), "ground_megohms": (50.0, 0.5), "control_fuse": ("good", "blown"),
    "watch.suction_pressure": (10.0, 30.0, 1.0), "cutout_pressure": (2.0, 300.0),
    "oil_pump_pressure": (50.0, 15.0), "probe_pipe_temperature": (80.0, 10.0),
    "running_now": ("running", "just tripped"), "chain_dead_check": ("discharge", "motor", "oil", "two"),
    "part_left_in_use": ("none", "borrowed"), "follow_up_in_hours": (24.0, 300.0), "isolated_pressure": (0.0, 30.0),
    "watch.discharge_temperature": (180.0, 300.0), "discharge_temperature": (180.0, 300.0), "alarm_minutes_ago": (10.0, 90.0),
    "starter_coil_ohms": (100.0, "over_range"), "injection_coil_ohms": (400.0, "over_range"),
    "meter_proved_after": (True, "failed"), "module_output_fuse": ("good", "blown"),
}  # fmt: skip
"""Readings whose value a rule of safety looks at, and the values that the walk gives them."""
_TELLING = frozenset({
    "ladder_kind", "clothing_meets_label", "detector_state", "injection_hand_valve", "live_or_dead", "refrigerant_label",
    "cylinder_checked", "injection_after", "crankcase_heater", "oil_level", "service_valves_open", "others_clear", "rack",
    "coil_seated", "injection_feed", "dead_volts.power", "dead_volts.control", "dead_volts.drive", "panel_tag",
    "crankcase_temperature", "leak_found", "leak_repaired", "switch_position", "crankcase_and_heads", "rotation",
    "supervisor_agreed", "lock_still_on", "room_safe", "everybody_safe",
})  # fmt: skip
"""More of them: every choice, or the values of their kind. The others work only through judged conditions, which come out
either way: one value stands for all."""
REMARKS = {"alarm": "the gas alarm is going", "lock off": "the lock is off", "another's lock": "somebody else's lock is on it",
           "distress": "help me", "bypassed": "somebody bypassed the oil control"}  # fmt: skip
"""What is said about safety at any question, and in which words."""
LEFT = {"clamp_left_on": "the clamp's still on"}
"""What is hooked up that only words tell of, where no step of this rack hooks it up: told on the way to what clears it."""


def telling(procedure: Procedure) -> frozenset[str]:
    """Readings whose value a rule of safety, an obligation or a step's condition looks at."""
    looked_at = {id_ for step in procedure.steps for id_, _ in conditions_of(step)}
    return _TELLING | _READ.keys() | looked_at


def values(id_: str, question: Question, rack: Rack | None, racks: tuple[str, ...], told: frozenset[str]) -> tuple[Value, ...]:
    """What this id is answered with on the walk."""
    entry = vocabulary()[id_]
    if id_ in _READ:
        return _READ[id_]
    if entry.kind == "acknowledge":
        return (True,)
    if entry.kind == "yes_no":
        return ("yes", "no")
    if entry.kind == "free":
        return ("words",)
    if entry.kind == "choice":
        return _choices(id_, [*entry.choices, *dict.fromkeys(question.local.get(id_, {}).values())], rack, racks, told)
    numbers = _NUMBERS.get(entry.kind, (10.0,))
    return numbers if id_ in told else numbers[:1]


def _choices(id_: str, all_: list[Value], rack: Rack | None, racks: tuple[str, ...], told: frozenset[str]) -> tuple[Value, ...]:
    if rack and id_ in ("panel_tag", "refrigerant_label"):
        # One that agrees and one that does not stand for all.
        good = [v for v in all_ if v == rack.refrigerant or v in {c.tag for c in rack.compressors}][:2]
        return tuple(dict.fromkeys([*good, *all_[-1:]]))
    if id_ == "rack":
        return racks
    return tuple(dict.fromkeys(all_)) if id_ in told else tuple(all_[:1])


def kinds(site: Site) -> tuple[str, ...]:
    """The racks that stand for all: one of each kind of panel."""
    found: dict[tuple[object, ...], str] = {}
    for rack in site.racks:
        panel, probe = rack.panel, rack.probe
        drive = panel.drive or panel.capacitors
        key = (panel.control_isolator_stops, drive, probe.feed_test_possible, probe.mount == "in_gas", rack.flammable,
               rack.refrigerant == "R744", rack.closed_room, *(holds(rack) for holds in FITTED.values()))  # fmt: skip
        found.setdefault(key, rack.id)
    return tuple(found.values())


def answers(d: Walker, racks: tuple[str, ...], told: frozenset[str]) -> Iterator[Meaning]:
    """Every answer to what is asked that can matter."""
    question, rack = d.question or Question("command"), d.state.rack
    if question.asking == "command":
        step = d.state.steps.get(d.state.step)
        looks = step.tells if step and "/" not in d.asked_at else {}
        alike = {looks[words]: words for words in reversed(question.go_ahead) if words in looks}  # one word for what it tells
        for words in tuple(reversed(alike.values())) or question.go_ahead[:1]:
            yield Command("continue", words)
    elif question.asking == "confirm":
        yield Confirmed(True)
        yield Confirmed(False)
    elif question.asking == "note":
        yield Answer((Part("note", "words"),))
    else:
        first = d.state.tag_wanted if question.asking == "panel_tag" else None  # where something hangs, it is that panel's
        for value in sorted(values(question.asking, question, rack, racks, told), key=lambda v: v != first if first else 0):
            rest = tuple(Part(i, values(i, question, rack, racks, told)[0]) for i in question.also)
            yield Answer((Part(question.asking, value), *rest))
        if question.also:
            yield Answer((Part(question.asking, values(question.asking, question, rack, racks, told)[0]),))
        for i in question.also:
            for value in values(i, question, rack, racks, told)[1:]:
                yield Answer((Part(i, value),))


def corrected(told: frozenset[str]) -> tuple[str, ...]:
    """Readings that an obligation or a rule rests on: each is corrected wherever it is on record."""
    ids = (told | {"compressor"}) - {"rack"}
    return tuple(sorted(i for i in ids if vocabulary()[i].kind not in ("acknowledge", "free")))


class Utterance(NamedTuple):
    name: str
    heard: tuple[Next, ...]
    """What is heard, in turn."""


def _heard(meaning: Meaning, at: datetime) -> Heard:
    """Words that are taken for this meaning."""
    return Heard(_named(meaning), at, meaning=meaning)


def plain(d: Walker, racks: tuple[str, ...], told: frozenset[str]) -> list[Utterance]:
    """The plain answers that may come next, or the end of a wait."""
    if d.waiting:
        return [Utterance("wait over", (Silence(d.waiting.until),))]
    return list(_answered(d, racks, told))


def _answered(d: Walker, racks: tuple[str, ...], told: frozenset[str]) -> Iterator[Utterance]:
    at = d.now + timedelta(seconds=5)
    return (Utterance(_named(meaning), (_heard(meaning, at),)) for meaning in answers(d, racks, told))


def utterances(d: Walker, racks: tuple[str, ...], told: frozenset[str]) -> Iterator[Utterance]:
    """Everything that may come next."""
    s = d.state
    yield from _answered(d, racks, told)
    if d.waiting:
        yield from plain(d, racks, told)
    elif s.lock.dead or s.feed.window or s.lock.proof:
        # Thirty minutes away from the panel, or all seconds of the feed, and only then the answer.
        for meaning in answers(d, racks, told):
            yield Utterance(f"{_named(meaning)}, an hour later", (_heard(meaning, d.now + timedelta(hours=1)),))
        yield Utterance("silence", (Silence(d.now + timedelta(seconds=40)),))
        yield Utterance("an hour", (Silence(d.now + timedelta(hours=1)),))
    if d.mode.name != modes.EMERGENCY:
        yield from _commands(d, told)
    yield Utterance("killed", ("resume",))


def _commands(d: Walker, told: frozenset[str]) -> Iterator[Utterance]:
    s = d.state
    at = d.now + timedelta(seconds=5)
    for over in ("continue", "finish"):
        yield Utterance(f"emergency, {over}", (_heard(Command("emergency"), at), _heard(Command(over), at)))
    hour = d.now + timedelta(hours=1)
    yield Utterance("hold an hour", (_heard(Command("hold"), at), _heard(Command("continue"), hour)))
    for name in LEAVING:
        if not (name == "finish" and s.finishing):
            yield Utterance(name, (_heard(Command(name), at), _heard(Confirmed(True), at)))
    for about, words in REMARKS.items():
        yield Utterance(f"remark: {about}", (Heard(words, at, meaning=Remark(about)),))
    for id_ in corrected(told):
        if id_ in s.readings:
            for value in _other_values(d, id_, told):
                better = _heard(Answer((Part(id_, value),)), at)
                yield Utterance(f"correct {id_}: {value}", (_heard(Command("correct", id_), at), better))


def _other_values(d: Walker, id_: str, told: frozenset[str]) -> Iterable[Value]:
    s = d.state
    if id_ == "compressor":
        return [c.id for c in s.rack.compressors if c.id != s.value(id_)][:1] if s.rack else ()
    local = local_words(s, (id_,)) if vocabulary()[id_].kind == "choice" else {}
    return [v for v in values(id_, Question(id_, local=local), s.rack, (), told) if v != s.value(id_)]


def _named(meaning: Meaning) -> str:
    match meaning:
        case Answer(parts=parts):
            return ", ".join(str(p.value) for p in parts)
        case Confirmed(yes=yes):
            return "yes" if yes else "no"
        case Command(name=name, about=about):
            return about if name == "continue" and about else f"{name} {about}".strip()
        case Remark(about=about):
            return about
    return str(meaning)
