"""Everything that the pack must hold: what the product itself says, read from its procedures and its code.

Nothing is listed by hand that can be read: a sentence that is changed in a `steps.toml` or in a prompt is wanted at once, and
the old one is not wanted any more. What has a place to be filled in gives its parts: whole clauses, to be put beside
numbers, names and units at a clause's boundary.
"""

import ast
import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from assistant.branches.actions import ACTIONS
from assistant.call import prompts
from assistant.call.procedure import own_procedure
from assistant.language.answering import SENTENCES
from assistant.language.by_example import DONE_AND_SAFE
from assistant.language.meaning import Question
from assistant.language.numbers import DIGITS, spoken_number
from assistant.language.offered import choices
from assistant.language.vocabulary import vocabulary
from assistant.language.wording import _SAYS_ITSELF, _SHORT, CAUSES, cautions, sentence, spelled, spoken_cause
from assistant.paths import data_folder
from assistant.profile import REFRIGERANTS
from assistant.sound.pack import clauses, key, sentences

ROOT = data_folder("models").parent
SPOKEN_CODE = (
    "call/asking.py", "call/answers.py", "call/again.py", "call/commands.py", "call/engine.py", "call/prompts.py",
    "call/replies.py", "call/permits.py", "call/known.py", "call/judge.py", "call/history.py", "call/conversation.py",
    "call/due.py", "call/unready.py", "call/valves.py", "call/wrong_thing.py", "call/window.py", "call/probe_in_gas.py",
    "call/while_running.py", "call/noted.py", "call/leaving.py", "call/temporary.py", "call/watched.py",
    "branches/actions.py", "trade/watch.py",
    "fronts/microphone.py", "fronts/choosing.py", "language/wording.py",
)  # fmt: skip
"""Modules whose strings are said."""
UNITS = (
    "degrees", "degree", "pounds", "pound", "volts", "volt", "amps", "amp", "ohms", "ohm", "k", "meg", "percent", "minutes",
    "minute", "hours", "hour", "days", "hours ago", "hour ago", "minutes ago", "an hour and a half ago", "days ago", "kilos",
    "kilo", "quarts", "quart", "liters", "liter", "bar", "hertz", "kelvin", "seconds", "tripped", "running", "fan", "fans",
    "starts an hour", "start an hour", "fans called", "fan called", "check",
    "percent a year",
)  # fmt: skip
"""What stands behind a number."""
NUMBERS = ((201, 301, "."), (101, 201, "."), (301, 401, "."), (101, 301, ","), (401, 601, "."), (301, 501, ","))
"""Numbers over a hundred that are spoken whole: from, to, as the end of what is said or as what is followed by more."""
LETTERS = ("eigh", *"BCDEFGH")
"""Racks are called so."""
FIXED = {"mass": ("pounds", "kilos"), "quarts": ("quarts", "liters"), "hand": ("six inches", "fifteen centimeters"),
         "plug": ("jumper", "resistor"), "control": ("high pressure", "low pressure")}  # fmt: skip
"""Places that are filled with one of two words: said whole with each."""


def procedure_texts() -> list[str]:
    """Every sentence of the procedures and cautions with its places in braces; what is only told on "why" comes last."""
    steps, warned = own_procedure().steps, cautions().values()
    found = [words[form] for form in ("short", "full", "full_si") for words in warned if form in words]
    found += [step.ask for step in steps]
    found += [sentence(word) for step in steps for word in step.tells]
    found += [text for pair in ACTIONS.values() for text in pair]
    found += [words[form] for form in ("why", "why_si") for words in warned if form in words]
    found += [step.why for step in steps]
    return [text for text in dict.fromkeys(found) if text]


def procedure_sentences() -> list[str]:
    """The same, each sentence by itself, those of two units with each; what stands beside a place is left to the clauses."""
    whole = [said for text in procedure_texts() for filled in _filled(text) for said in sentences(filled)]
    return [said for said in dict.fromkeys(whole) if "{" not in said]


def wanted() -> dict[str, str]:
    """Every phrase of the pack: its key, and the text that it is spoken from, the most important first."""
    found: dict[str, str] = {}

    def add(texts: Iterable[str]) -> None:
        for text in texts:
            found.setdefault(key(text), text)

    asked = procedure_sentences()
    told = {said for step in own_procedure().steps for said in sentences(step.why)}
    add(said for said in asked if said not in told)
    add(_both(spoken_number(float(n)) for n in (*range(101), *range(200, 1000, 100))))
    add(_both(f"oh {digit}" for digit in DIGITS))
    found.update({f"{digit}-": f"{digit.capitalize()} ten." for digit in DIGITS})
    add(_both((*UNITS, "supervisor", "colder by", "hotter by", "minus", "oh", *(f"point {d}" for d in ("oh", *DIGITS)))))
    add(_pieces(t for text in procedure_texts() for t in _filled(text)))
    add(_both(words for words in _SAYS_ITSELF.values() if words))
    add(_both(spoken_cause(cause) for cause in (*ACTIONS, *CAUSES)))
    add(sentence(word) for word in ("proven", "supported", "suspected", "ruled out"))
    add(_both(rule.say for rule in own_procedure().obligations.values()))
    add(f"{name}," for name in dict.fromkeys((*_SHORT.values(), *(entry.say for entry in vocabulary().values()))))
    add(_numbers(*NUMBERS[:3]))
    add(_asked_back())
    add(_code())
    add(asked)
    add(_both((*_values(), *LETTERS, *(spelled(name) for name in REFRIGERANTS))))
    add(_numbers(*NUMBERS[3:]))
    return found


def _asked_back() -> Iterator[str]:
    """What is asked back or once more: a word of a look, the rest of an answer, how a number was meant."""
    yield from (DONE_AND_SAFE, "And all safe?")
    yield from (f"{word.capitalize()}?" for step in own_procedure().steps for word in step.tells)
    yield from (said for text in SENTENCES.values() for said in sentences(text))
    for file in sorted((ROOT / "assistant").rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            given = [node.args[0]] if isinstance(node, ast.Call) and node.args and _is_ask(node.func) else []
            given += [word.value for word in node.keywords if word.arg == "doubt"] if isinstance(node, ast.Call) else []
            given += [either for told in given if isinstance(told, ast.BoolOp) for either in told.values]
            for told in given:
                if isinstance(told, ast.Constant) and isinstance(told.value, str) and _spoken(told.value):
                    yield from sentences(told.value)
    yield from (said for id_ in vocabulary() for said in sentences(prompts.alone(id_)))


def _is_ask(function: ast.expr) -> bool:
    return isinstance(function, ast.Name) and function.id == "AskFor"


def _numbers(*ranges: tuple[int, int, str]) -> Iterator[str]:
    for low, high, mark in ranges:
        yield from (f"{spoken_number(float(n)).capitalize()}{mark}" for n in range(low, high))


def _filled(text: str) -> list[str]:
    """The text with each of the two words in its places."""
    texts = [text]
    for name, words in FIXED.items():
        texts = [t.replace(f"{{{name}}}", word) for t in texts for word in (words if f"{{{name}}}" in t else ("",))]
    return texts


def _both(names: Iterable[str]) -> Iterator[str]:
    """Each as the end of a sentence, and as what is followed by more."""
    for name in names:
        yield sentence(name)
        yield f"{name[:1].upper()}{name[1:]},"


def _pieces(texts: Iterable[str]) -> Iterator[str]:
    """Clauses beside a place in braces: before it as what is followed by more, behind it as the end."""
    for text in texts:
        for said in sentences(text):
            if "{" not in said:
                continue
            for words, mark in clauses(said):
                parts = [part.strip() for part in re.split(r"\{[^}]*\}", words)]
                for at, part in enumerate(parts):
                    if re.search(r"[a-z]", part, re.I):
                        yield part + (mark if at == len(parts) - 1 else ",")


def _code() -> Iterator[str]:
    """The sentences of the spoken modules, and the clauses of those with places."""
    for name in SPOKEN_CODE:
        for text in _strings(ROOT / "assistant" / name):
            marked = text if text.rstrip()[-1:] in ".?!:," else sentence(text)
            yield from (said for said in sentences(marked) if "{" not in said and said[-1] in ".?!")
            yield from _pieces([marked])


def _strings(file: Path) -> Iterator[str]:
    """Every string of a module that reads like speech; places as `{}`."""
    tree = ast.parse(file.read_text(encoding="utf-8"))
    inside: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr | ast.Raise | ast.Compare | ast.Subscript):
            if not isinstance(node, ast.Expr) or isinstance(node.value, ast.Constant):
                inside |= {id(n) for n in ast.walk(node)}
        if isinstance(node, ast.Call) and _unsaid(node.func):
            inside |= {id(n) for n in ast.walk(node)}
        if isinstance(node, ast.JoinedStr):
            inside |= {id(part) for part in node.values}
    for node in ast.walk(tree):
        text = ""
        if isinstance(node, ast.JoinedStr) and id(node) not in inside:
            text = "".join(str(part.value) if isinstance(part, ast.Constant) else "{}" for part in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in inside:
            text = node.value
        if _spoken(text):
            yield text.strip()


def _unsaid(function: ast.expr) -> bool:
    """Whether what a call is given goes on record, or is a row of a table."""
    if isinstance(function, ast.Attribute):
        return function.attr in ("go", "startswith", "endswith", "record", "removesuffix", "get", "has")
    return isinstance(function, ast.Name) and function.id[:1].isupper() and function.id != "Reply"


def _spoken(text: str) -> bool:
    """Whether it reads like something said: words with spaces or a full stop, nothing of files and formats."""
    plain = re.sub(r"\{[^}]*\}", "", text)
    if re.search(r"[_=/\\<>|*\[\]%#]|\d\.\d|--|  >|\(", plain) or not re.search(r"[a-z]{2}", plain):
        return False
    return (" " in plain.strip() or plain.strip()[-1:] in ".?") and not plain.startswith(".")


def _values() -> Iterator[str]:
    """Words that readings are answered with."""
    seen: dict[str, None] = {}
    for id_, entry in vocabulary().items():
        for word in entry.choices:
            seen.setdefault(word)
        if not entry.choices:
            continue
        for word in choices(Question(id_))[:4]:
            seen.setdefault(word)
    yield from seen
