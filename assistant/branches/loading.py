"""Reads a folder of procedures, or names every fault in it: file, line, step, and the nearest name that is known."""

import re
import tomllib
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, fields
from difflib import get_close_matches
from math import inf
from pathlib import Path
from string import Formatter
from typing import Any

from assistant.branches.steps import (
    ACTS,
    BRANCHES,
    INSERTED,
    NEEDS,
    PARTS,
    PLACEHOLDERS,
    REPAIR_NEEDS,
    STATIONS,
    Obligation,
    Procedure,
    Repair,
    Step,
)
from assistant.language.meaning import Value
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import vocabulary
from assistant.profile import CONTACTS
from assistant.trade.limits import RANGES

HOME = Path(__file__).parent
"""The package's own procedures."""
FILE, OBLIGATIONS_FILE = "steps.toml", "obligations.toml"
_TABLES = {"step", "repair", "facts", "obligation"}
_LISTS = ("also", "needs", "when", "seeks", "cautions", "opens", "clears", "resets", "establishes", "hands_over", "go_ahead")
_NUMBERS = ("wait_minutes", "wait_minutes_after_power_off", "wait_minutes_after_start", "wait_minutes_after_trip")
_TRUTHS = ("required", "safe", "outside", "at_once", "free_to_skip", "harmless")
_IS = re.compile(r"(?P<id>\S+) is (?P<words>.+)")


class ProcedureFault(ValueError):
    """A procedure that cannot be used: every fault as a sentence with its file, line and step."""

    def __init__(self, faults: list[str]) -> None:
        super().__init__("\n".join(faults))
        self.faults = faults


@dataclass(frozen=True)
class Known:
    """What the loader cannot know by itself: names that other rooms give meaning to."""

    conditions: Collection[str]
    facts: Mapping[str, str]
    """Facts that are computed, each with its meaning."""
    cautions: Collection[str]
    machine_cautions: Collection[str]
    """Cautions that may carry `?`: something decides whether the machine makes them apply."""
    causes: Collection[str]
    actions: Collection[str]
    """Causes of which is known what to do about them."""
    established: Collection[str]
    """Facts of the files that the call itself establishes, and asks for by name."""
    obligations: Collection[str]
    """Obligations that the call, the log and the pages know by name: each must be there."""


class _Source:
    """One file with the lines of its tables."""

    def __init__(self, path: Path, name: str) -> None:
        self.name = name
        self.text = path.read_text(encoding="utf-8")
        self.lines = self.text.splitlines()
        self.data = tomllib.loads(self.text)

    def starts(self, table: str) -> list[int]:
        return [n for n, line in enumerate(self.lines, 1) if re.match(rf"\s*\[+\s*{table}\s*\]+", line)]

    def line(self, start: int, key: str = "") -> int:
        """The line of a key of the table that starts there; the table's own where it has no such key."""
        for number, line in enumerate(self.lines[start:], start + 1):
            if line.lstrip().startswith("["):
                break
            if key and re.match(rf"\s*\"?{re.escape(key)}\"?\s*=", line):
                return number
        return start


class _Reader:
    """Takes tables out of the files and collects what is wrong with them."""

    def __init__(self, known: Known) -> None:
        self.known = known
        self.faults: list[str] = []
        self.facts = dict(known.facts)
        self.obligations: dict[str, Obligation] = {}
        self.source: _Source
        self.start = 0
        self.of = ""
        self.fields: list[str] = []
        """The keys that the table which is read may have."""

    def at(self, source: _Source, start: int, of: str) -> None:
        self.source, self.start, self.of = source, start, of

    def fault(self, key: str, words: str) -> None:
        self.faults.append(f"{self.source.name}, line {self.source.line(self.start, key)}, {self.of}: {words}")

    def one_of(self, key: str, value: Any, names: Collection[str], what: str) -> None:
        """Refuse a name that is not known; says the nearest one that is."""
        if value in names:
            return
        self.fault(key, f"there is no {what} '{value}'" + _nearest(str(value), names))

    def keys(self, raw: Mapping[str, Any], kind: type, wanted: Iterable[str]) -> bool:
        self.fields = [f.name for f in fields(kind) if f.name != "place"]
        for key, value in raw.items():
            self.one_of(key, key, self.fields, "key")
            if value in ("", []):
                self.fault(key, f"'{key}' is empty; leave it out")
            if isinstance(value, list) and (twice := _twice(value)):
                self.fault(key, f"'{twice}' stands twice")
        missing = [key for key in wanted if key not in raw]
        for key in missing:
            self.fault("", f"'{key}' is missing")
        return not missing

    def typed(self, raw: Mapping[str, Any], lists: Collection[str], numbers: Collection[str] = (),
              truths: Collection[str] = (), tables: Collection[str] = ()) -> bool:  # fmt: skip
        """Whether every value is of its key's type; what is not is a fault."""
        before = len(self.faults)
        for key, value in raw.items():
            if key not in self.fields:
                continue  # that it is not known was said
            if key in lists:
                good, wanted = isinstance(value, list) and all(isinstance(v, str) for v in value), "a list of texts"
            elif key in numbers:
                named = key in _NUMBERS and isinstance(value, str) and value in RANGES and value.endswith("_minutes")
                good, wanted = _number(value) or named, "a number, or the name of a limit in minutes"
            elif key in truths:
                good, wanted = isinstance(value, bool), "true or false"
            elif key in tables:
                texts = key == "all_good" or (isinstance(value, dict) and all(isinstance(v, str) for v in value.values()))
                good, wanted = isinstance(value, dict) and texts, "a table" if key == "all_good" else "a table of texts"
            else:
                good, wanted = isinstance(value, str), "a text"
            if not good:
                self.fault(key, f"'{key}' is {value!r}; it is {wanted}")
        return len(self.faults) == before

    # ---- tables

    def obligation(self, raw: Mapping[str, Any]) -> None:
        good = self.keys(raw, Obligation, ("id", "say", "blocks_start", "hand_over"))
        if good and self.typed(raw, ("opened_by", "cleared_by"), ("within_hours",), ("blocks_start", "tells_detail")):
            self.one_of("hand_over", raw["hand_over"], ("never", "locked", "owner"), "way of handing over")
            if raw["id"] in self.obligations:
                self.fault("id", f"obligation '{raw['id']}' stands twice")
            for key in ("opened_by", "cleared_by"):
                for condition in raw.get(key, ()):
                    if condition.startswith("fact:"):
                        self.one_of(key, condition[5:], self.facts, "fact")
                    else:
                        self._is(key, condition)
            self._braces("say", raw["say"])
            self.obligations[raw["id"]] = Obligation(**self._of_the_fields(raw))

    def repair(self, raw: Mapping[str, Any]) -> Repair | None:
        lists = ("causes", "needs", "cautions", "needs_in_gas")
        if not (self.keys(raw, Repair, ("causes",)) and self.typed(raw, lists)):
            return None
        for cause in raw["causes"]:
            self.one_of("causes", cause, self.known.causes, "cause")
        for need in (*raw.get("needs", ()), *raw.get("needs_in_gas", ())):
            self.one_of("needs", need, REPAIR_NEEDS, "need of a repair")
        self._cautions(raw.get("cautions", ()))
        return Repair(**self._of_the_fields(raw))

    def _of_the_fields(self, raw: Mapping[str, Any]) -> dict[str, Any]:
        """What of a table its class knows; that the rest is not known was said."""
        return {key: value for key, value in _tuples(raw).items() if key in self.fields}

    def step(self, raw: Mapping[str, Any]) -> Step | None:
        tables = ("all_good", "tells", "other_words")
        good = self.keys(raw, Step, ("id", "part", "station", "ask", "asking"))
        if not (self.typed(raw, _LISTS, (*_NUMBERS, "watch_round", "effort"), _TRUTHS, tables) and good):
            return None
        given = _tuples(raw)
        if ("wait_minutes" in given) != ("wait_from" in given):
            self.fault("wait_minutes", "'wait_minutes' and 'wait_from' stand together: it waits so long from that reading on")
        if "tells" in given:
            given["go_ahead"] = tuple(given["tells"])
        place = f"{self.source.name}, line {self.source.line(self.start, 'id')}"
        step = Step(**self._of_the_fields(given), place=place)
        self._names(step)
        self._words(step)
        for condition in step.when:
            self._condition(condition)
        self._all_good(step)
        return step

    def _names(self, step: Step) -> None:
        self.one_of("part", step.part, (*PARTS, *INSERTED), "part of the call")
        self.one_of("station", step.station, STATIONS, "station")
        for cause in step.seeks:
            self.one_of("seeks", cause, self.known.causes, "cause")
        self.one_of("act", step.act, ACTS, "act")
        for key, names, what in (("needs", NEEDS, "need"), ("hands_over", ("locked", "owner"), "way of handing over"),
                                 ("resets", (*CONTACTS, "*"), "contact")):  # fmt: skip
            for name in getattr(step, key):
                self.one_of(key, name, names, what)
        for key, id_ in (("asking", step.asking), *(("also", i) for i in step.also)):
            self.one_of(key, id_, ("command", *vocabulary()), "id of the vocabulary")
        if step.wait_from:
            self.one_of("wait_from", step.wait_from, vocabulary(), "id of the vocabulary")
        if not re.fullmatch(r"[a-z0-9_]+", step.id):
            self.fault("id", f"'{step.id}': an id is lower-case letters, digits and underscores")
        if step.keeps_readings:
            self.one_of("keeps_readings", step.keeps_readings, ("repair", "charge"), "kind of readings to keep")
        self._cautions(step.cautions)
        for key in ("opens", "clears"):
            for id_ in getattr(step, key):
                self.one_of(key, id_, self.obligations, "obligation")
        for fact in step.establishes:
            self.one_of("establishes", fact, self.facts, "fact")
        for word in step.other_words.values():
            of = "tells" if step.tells else "go_ahead"
            self.one_of("other_words", word, step.tells or step.go_ahead, f"word of '{of}'")
        for facts in step.tells.values():
            if facts != " ".join(facts.split()):
                self.fault("tells", f"'{facts}': facts are parted by one space")
            for fact in str(facts).split():
                self.one_of("tells", fact, self.facts, "fact")

    def _cautions(self, names: Iterable[str]) -> None:
        for name in names:
            known = self.known.machine_cautions if name.endswith("?") else self.known.cautions
            self.one_of("cautions", name.rstrip("?"), known, "caution" if known is self.known.cautions else "caution with '?'")

    def _words(self, step: Step) -> None:
        self._braces("ask", step.ask, PLACEHOLDERS)
        for key in ("alone", "why"):
            self._braces(key, getattr(step, key))
        if step.go_ahead and step.asking != "command":
            self.fault("go_ahead", "only a step that asks for 'command' has words of its own to go ahead")
        for words in (*step.go_ahead, *step.other_words):
            if not re.fullmatch(r"[a-z']+(?: [a-z']+)*", words):
                self.fault("go_ahead", f"'{words}': spoken words are lower-case letters and spaces")

    def _braces(self, key: str, text: str, known: Collection[str] = ()) -> None:
        """Words in braces are the call's to fill in; where it fills in none, none stand."""
        try:
            names = [name for _, name, _, _ in Formatter().parse(text) if name is not None]
        except ValueError as error:
            self.fault(key, f"its braces: {error}")
            return
        for name in names:
            self.one_of(key, name, known, "word in braces")

    def _condition(self, condition: str) -> None:
        name = condition.removeprefix("!")
        if name.startswith("open:"):
            self.one_of("when", name[5:], self.obligations, "obligation")
        elif _IS.fullmatch(name):
            self._is("when", name)
        elif name.endswith((" read", " unread")):
            self.one_of("when", name.rpartition(" ")[0], vocabulary(), "id of the vocabulary")
        else:
            self.one_of("when", name, (*self.known.conditions, *self.facts), "condition or fact")

    def _is(self, key: str, condition: str) -> None:
        """`ID is WORD|WORD`, each a choice of that id."""
        found = _IS.fullmatch(condition)
        if found is None:
            self.fault(key, f"'{condition}' is not of the form 'ID is WORD'")
            return
        self.one_of(key, found["id"], vocabulary(), "id of the vocabulary")
        for word in found["words"].split("|") if found["id"] in vocabulary() else ():
            self.one_of(key, word, _choices(found["id"]), f"choice of {found['id']}")

    def _all_good(self, step: Step) -> None:
        for id_, value in step.all_good.items():
            self.one_of("all_good", id_, step.ids, "id asked by this step")
            entry = vocabulary().get(id_)
            if entry is None:
                continue
            if entry.kind == "acknowledge":
                if value is not True:
                    self.fault("all_good", f"'{id_}' is {value!r}; an acknowledgement is true")
            elif entry.kind in NUMBER_KINDS:
                if not _number(value):
                    self.fault("all_good", f"'{id_}' is {value!r}; it is a number")
            else:
                self.one_of("all_good", value, _choices(id_), f"choice of {id_}")


def _number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and 0 <= value < inf


def _twice(values: list[Any]) -> Any:
    """What stands twice in a list; None for nothing."""
    return next((value for k, value in enumerate(values) if value in values[:k]), None)


def _tuples(raw: Mapping[str, Any]) -> dict[str, Any]:
    """A table with its lists as tuples."""
    return {key: tuple(value) if isinstance(value, list) else value for key, value in raw.items()}


def _choices(id_: str) -> tuple[str, ...]:
    entry = vocabulary().get(id_)
    return () if entry is None else ("yes", "no") if entry.kind == "yes_no" else entry.choices


def is_one_of(condition: str, id_: str, value: Value) -> bool:
    """Whether this answer is what `ID is WORD|WORD` looks for."""
    found = _IS.fullmatch(condition)
    return found is not None and found["id"] == id_ and value in found["words"].split("|")


def conditions_of(step: Step) -> Iterator[tuple[str, tuple[str, ...]]]:
    """The readings that a step's conditions look at, each with the words that are looked for."""
    for condition in step.when:
        if found := _IS.fullmatch(condition.removeprefix("!")):
            yield found["id"], tuple(found["words"].split("|"))


def _sources(folder: Path) -> Iterator[_Source]:
    wanted = [folder / OBLIGATIONS_FILE, *(folder / branch / FILE for branch in BRANCHES)]
    for path in wanted:
        name = str(path.relative_to(folder))
        try:
            yield _Source(path, name)
        except OSError as error:
            raise ProcedureFault([f"{path}: {error.strerror}"]) from error
        except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
            raise ProcedureFault([f"{name}: {error}"]) from error


def _unread(folder: Path, read: list[str]) -> Iterator[str]:
    """Files of a folder that look like a procedure's, and are none."""
    names = sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*.toml"))
    return (f"{name}: no such file is read" + _nearest(name, read) for name in names if name not in read)


def load(folder: Path, known: Known) -> Procedure:
    """Every step of a folder: the run in order, then what is put before a step of it.

    Raises:
        ProcedureFault: a file is missing or something in it is wrong; names everything that is.
    """
    reader = _Reader(known)
    sources = list(_sources(folder))
    for source in sources:
        facts = source.data.get("facts", {})
        reader.facts |= {name: str(meaning) for name, meaning in facts.items()} if isinstance(facts, dict) else {}
    reader.faults += _unread(folder, [source.name for source in sources])
    for source in sources:
        _head(reader, source)
    steps: list[Step] = []
    repairs: dict[str, Repair] = {}
    for source in sources:
        for start, raw in zip(source.starts("repair"), source.data.get("repair", ()), strict=False):
            reader.at(source, start, "repair")
            repair = reader.repair(raw)
            for cause in repair.causes if repair else ():
                if cause in repairs:
                    reader.fault("causes", f"the repair of '{cause}' stands twice")
            repairs |= dict.fromkeys(repair.causes, repair) if repair else {}
        for start, raw in zip(source.starts("step"), source.data.get("step", ()), strict=False):
            reader.at(source, start, f"step '{raw.get('id', '?')}'")
            step = reader.step(raw)
            steps += [step] if step else []
            if step and any(s.id == step.id for s in steps[:-1]):
                reader.fault("id", f"step '{step.id}' stands twice")
    _whole(reader, steps)
    if reader.faults:
        raise ProcedureFault(reader.faults)
    order = [*PARTS, *INSERTED]
    run = tuple(sorted(steps, key=lambda s: order.index(s.part)))
    return Procedure(run, reader.obligations, reader.facts, repairs)


def _head(reader: _Reader, source: _Source) -> None:
    """What the steps of every file may name: obligations."""
    for table in source.data:
        reader.at(source, next(iter(source.starts(table)), 1), "the file")
        reader.one_of("", table, _TABLES, "table")
        inside = source.data[table]
        if table == "facts":
            good, wanted = isinstance(inside, dict) and all(isinstance(v, str) and v for v in inside.values()), "a table of texts"
        else:
            good = isinstance(inside, list) and all(isinstance(one, dict) for one in inside)
            wanted = f"a table in double brackets, [[{table}]]"
        if table in _TABLES and not good:
            reader.fault("", f"'{table}' is {wanted}")
            source.data[table] = {} if table == "facts" else []
    for start, raw in zip(source.starts("obligation"), source.data.get("obligation", ()), strict=False):
        reader.at(source, start, f"obligation '{raw.get('id', '?')}'")
        reader.obligation(raw)


def _nearest(name: str, names: Collection[str]) -> str:
    near = get_close_matches(name, list(names), 1, 0.6)
    return f"; the nearest is '{near[0]}'" if near else ""


def _names_of_nothing(reader: _Reader, steps: list[Step]) -> Iterator[str]:
    """What is defined and nothing makes true, and what the call knows and no file defines: mostly one word, spelt twice."""
    known, of_files = reader.known, reader.facts.keys() - reader.known.facts.keys()
    told = {fact for step in steps for facts in step.tells.values() for fact in str(facts).split()}
    established = {*known.established, *told, *(fact for step in steps for fact in step.establishes)}
    for fact in sorted(of_files - established):
        yield f"fact '{fact}': no step establishes it" + _nearest(fact, established - of_files)
    for fact in sorted(set(known.established) - of_files):
        yield f"there is no fact '{fact}' in any [facts], and the call establishes it" + _nearest(fact, of_files)
    rules = reader.obligations
    opened = {*(id_ for step in steps for id_ in step.opens), *(id_ for id_, rule in rules.items() if rule.opened_by)}
    for id_ in sorted(rules.keys() - opened - set(known.obligations)):
        yield f"{OBLIGATIONS_FILE}, obligation '{id_}': nothing opens it" + _nearest(id_, known.obligations)
    for id_ in sorted(set(known.obligations) - rules.keys()):
        yield f"{OBLIGATIONS_FILE}: there is no obligation '{id_}', which the call knows" + _nearest(id_, rules)
    for cause in sorted(set(known.causes) - set(known.actions)):
        yield f"cause '{cause}' has a rule, and branches/actions.py does not say what to do about it"
    looks = [step.among for step in steps]
    for step in steps:
        if step.among and looks.count(step.among) == 1:
            yield f"{step.place}, step '{step.id}': no other look is among '{step.among}'"


def _whole(reader: _Reader, steps: list[Step]) -> None:
    """What only the whole run shows: something opened that nothing ever clears or hands over, a name that stands for nothing."""
    reader.faults += _names_of_nothing(reader, steps)
    cleared = {id_ for step in steps for id_ in step.clears}
    for step in steps:
        for id_ in step.opens:
            rule = reader.obligations.get(id_)
            if rule and rule.hand_over == "never" and id_ not in cleared:
                reader.faults.append(f"{step.place}, step '{step.id}': it opens '{id_}', and no step clears that")
    for part in ("proof", "live gate"):
        if not any(step.part == part for step in steps):
            reader.faults.append(f"there is no step of the part '{part}'")
