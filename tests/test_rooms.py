"""Who may know whom: the rooms that think touch nothing, the monitor knows nothing of what it watches, and no circles."""

import ast
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

HOME = Path(__file__).parent.parent
ROOT = HOME / "assistant"
PURE = ("call", "language", "branches", "trade", "safety")
TOUCHING = ("assistant.hearing", "assistant.sound", "assistant.record", "assistant.fronts", "assistant.cli")
DEVICES = ("sounddevice", "vosk", "pyttsx3")
DOORS = {"CoolProp": "trade/refrigerant.py", "vosk": "hearing/recogniser.py", "pyttsx3": "sound/voice.py"}
MODULES = {".".join(f.relative_to(HOME).with_suffix("").parts).removesuffix(".__init__"): f for f in sorted(ROOT.rglob("*.py"))}
WALKS = {"walk", "walker", "utterances", "likeness", "drawing", "lines"}
"""What of the safety room drives the call, and so knows it; the rest watches."""


@cache
def imports(file: Path) -> frozenset[str]:
    """Every module that a file imports, wherever in it: at its top, deferred, or for types alone."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {a.name for a in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            inside = {f"{node.module}.{a.name}" for a in node.names} & set(MODULES)
            found |= inside or {node.module}
    return frozenset(found)


@pytest.mark.parametrize("room", PURE)
def test_a_room_that_thinks_touches_nothing(room: str):
    for file in (ROOT / room).rglob("*.py"):
        bad = {i for i in imports(file) if i.startswith(TOUCHING) or i in DEVICES}
        assert not bad, f"{file.relative_to(ROOT)} imports {bad}"


def test_each_library_enters_by_one_door():
    for library, door in DOORS.items():
        users = {str(f.relative_to(ROOT)) for f in ROOT.rglob("*.py") if any(i.split(".")[0] == library for i in imports(f))}
        assert users <= {door, "hearing/graph.py"}, f"{library} is imported in {users}"


def test_no_imports_go_in_a_circle_not_even_deferred_ones():
    knows = {name: imports(file) & set(MODULES) - {name} for name, file in MODULES.items()}
    try:
        TopologicalSorter(knows).prepare()
    except CycleError as circle:
        pytest.fail(" -> ".join(reversed(circle.args[1])))


@pytest.mark.parametrize("file", [f for f in (ROOT / "safety").glob("*.py") if f.stem not in WALKS], ids=lambda f: f.stem)
def test_what_watches_knows_nothing_of_the_call_and_its_steps(file: Path):
    bad = {i for i in imports(file) if i.startswith(("assistant.call", "assistant.branches", "assistant.trade.diagnosis"))}
    assert not bad, f"{file.name} imports {bad}"


@pytest.mark.parametrize(("room", "may_not_know"), [
    ("trade", ("branches", "call", "safety", "language.grammar")), ("branches", ("call", "safety")), ("call", ("safety",)),
    ("language", ("branches", "call", "safety", "trade.case")),
])  # fmt: skip
def test_a_room_below_does_not_know_the_one_above(room: str, may_not_know: tuple[str, ...]):
    above = tuple(f"assistant.{one}" for one in may_not_know)
    for file in (ROOT / room).rglob("*.py"):
        bad = {i for i in imports(file) if i.startswith(above)}
        assert not bad, f"{file.relative_to(ROOT)} imports {bad}"
