"""What the recogniser can hear at a question: a strict grammar, or a list of phrases."""

from dataclasses import dataclass
from functools import cache, lru_cache

from assistant.language.both_ends import UNKNOWN_WORD
from assistant.language.breath import ALIKE_LEADS, ALIKE_TAILS
from assistant.language.hedges import hedges
from assistant.language.meaning import Question, Value
from assistant.language.offered import commands, phrases
from assistant.language.phrasebook import Automaton, Net, rules, tagged
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import vocabulary

_NAMED = {"pressure": ("suction", "suction pressure", "discharge", "discharge pressure", "head", "head pressure")}
"""Names of readings that are listened for before a number of their kind: long ones, that noise makes of nothing else."""
_UNSTEADY_KINDS = frozenset(("pressure", "temperature", "volts", "amps"))


@dataclass(frozen=True)
class Audible:
    """What is listened for."""

    name: str
    """What one model in memory can be used for again: the kind of number, or the ids asked together."""
    strict: Automaton | None = None
    """Whole answers, commands or unknown words; None where a list of phrases does."""
    phrases: tuple[str, ...] = ()
    """For a choice, a yes or no, an acknowledgement: every phrase; put on any loaded model in no time."""
    free: bool = False
    """A note: everything the model knows."""


def spoken_commands() -> list[str]:
    """The commands that noise leaves alone; the others are for the keyboard."""
    return [phrase for phrase in commands() if phrase not in _typed()]


def _typed() -> set[str]:
    """Phrases that are understood but not listened for: noise makes them out of other answers."""
    return {*tagged("commands", "typed"), *tagged("choices", "typed")}


_KEPT = 8
_latest: list[tuple[Question, Audible]] = []


def audible(question: Question) -> Audible:
    """What is listened for at this question. It is asked for a question several times an answer, and takes 20 to 80 ms
    to make: the latest are kept."""
    for asked, known in _latest:
        if asked is question:
            return known
    made = _audible(question)
    _latest.insert(0, (question, made))
    del _latest[_KEPT:]
    return made


def _audible(question: Question) -> Audible:
    typed = _typed() - set(_own(question))
    fixed = tuple(phrase for phrase in phrases(question) if phrase not in typed)
    if question.asking == "command":
        return Audible("phrases", phrases=fixed)
    id = question.of if question.asking == "confirm" else question.asking
    kinds = [vocabulary()[i].kind for i in (id, *question.also) if i in vocabulary()]  # else a command is confirmed
    if not kinds:
        return Audible("phrases", phrases=fixed)
    if kinds == ["free"]:
        return Audible("free", free=True)
    if len(kinds) > 1 and question.asking != "confirm":
        name = (
            f"{'+'.join((id, *question.also))} {hash((fixed, _place(question)))}"  # the same ids have other words at another site
        )
        names = tuple((id, tuple(words)) for id, words in question.local.items())
        return Audible(name, strict=_several((id, *question.also), names, _place(question), fixed))
    if kinds[0] not in NUMBER_KINDS:
        return Audible("phrases", phrases=fixed)
    return Audible(kinds[0], strict=_number(kinds[0]))


def _own(question: Question) -> list[str]:
    words = [phrase for names in question.local.values() for phrase in names]
    for id in {question.asking, question.of, *question.also} & set(vocabulary()):
        words += vocabulary()[id].choices
    return words + (list(question.go_ahead) if question.asking == "command" else [])


def _unknown(net: Net) -> None:
    """Any other talk: a rival of every answer."""
    talk = net.state()
    net.step(net.start, talk, UNKNOWN_WORD)
    net.step(talk, talk, UNKNOWN_WORD)
    net.step(talk, net.end)


@cache
def _number(kind: str) -> Automaton:
    """A number of this kind, asked for or asked back; the words its ids take instead; commands."""
    net = Net()
    net.rule("numbers", kind, net.start, net.end)
    _hedged(net, kind)
    refused = net.state()
    net.phrase("no", net.start, refused)
    net.rule("numbers", kind, refused, net.end)
    net.rule("numbers", "instead", refused, net.end)
    if kind in _UNSTEADY_KINDS:
        net.rule("numbers", "unsteady", net.start, net.end)
    known = set(rules("choices"))
    ids = [entry.id for entry in vocabulary().values() if entry.kind == kind]
    tables = {kind, "absent", *(id.replace(".", "_") for id in ids), *(id.split(".")[0] for id in ids)}
    fixed = {phrase for table in tables & known for phrase in tagged("choices", table)} - set(tagged("choices", "no_number"))
    fixed |= {*tagged("yes_no", "heard_at_numbers"), *spoken_commands()}
    for phrase in sorted(fixed - _typed()):
        net.phrase(phrase, net.start, net.end)
    _unknown(net)
    return net.automaton()


def _hedged(net: Net, kind: str) -> None:
    """A number with what people hang on it, and readings of its kind by their names: "suction twelve, discharge two ten"."""
    begun, said = net.state(), net.state()
    for lead in hedges()["heard_leads"]:
        net.phrase(" ".join(lead), net.start, begun)
    for name in _NAMED.get(kind, ()):
        net.phrase(name, net.start, begun)
        net.phrase(name, said, begun)
    net.rule("numbers", kind, begun, net.end)
    net.rule("numbers", kind, begun, said)
    net.rule("numbers", kind, net.start, said)
    for tail in hedges()["heard_tails"]:
        net.phrase(" ".join(tail), said, net.end)


def _alike(net: Net, ids: tuple[str, ...]) -> None:
    """One value for all three of a set: "all three four eighty", "four eighty on all three"."""
    kind = vocabulary()[ids[0]].kind
    if kind not in NUMBER_KINDS or sum(i.split(".")[0] == ids[0].split(".")[0] for i in ids) < 3:
        return
    begun, said = net.state(), net.state()
    for lead in ALIKE_LEADS:
        net.phrase(lead, net.start, begun)
    net.rule("numbers", kind, begun, net.end)
    net.rule("numbers", kind, net.start, said)
    for tail in ALIKE_TAILS:
        net.phrase(tail, said, net.end)


def _place(question: Question) -> tuple[str, ...]:
    """The site's names, before its rack: "north store, rack b three", also where the site is not asked for."""
    return tuple(question.local.get("site", ())) if question.asking == "rack" else ()


@lru_cache(maxsize=32)
def _several(
    ids: tuple[str, ...], names: tuple[tuple[str, tuple[str, ...]], ...], place: tuple[str, ...], fixed: tuple[str, ...]
) -> Automaton:
    """Each id's answer in the order of the question, any of them left out.

    Args:
        ids: what is asked for.
        names: the site's words, by id.
        place: the site's own names, said before its rack.
        fixed: whatever else may be said.
    """
    local: dict[str, dict[str, Value]] = {id: dict.fromkeys(words, "") for id, words in names}
    net = Net()
    here = net.state()
    net.step(net.start, here)
    for name in place:
        net.phrase(name, net.start, here)
    for id in ids:
        there = net.state()
        net.step(here, there)
        kind = vocabulary()[id].kind
        if kind in NUMBER_KINDS:
            with_unit = f"{kind}_with_unit"
            net.rule("numbers", with_unit if with_unit in rules("numbers") else kind, here, there)
        for phrase in phrases(Question(id, local=local)):
            if phrase not in commands():
                net.phrase(phrase, here, there)
        here = there
    net.step(here, net.end)
    _alike(net, ids)
    for phrase in fixed:
        net.phrase(phrase, net.start, net.end)
    _unknown(net)
    return net.automaton()
