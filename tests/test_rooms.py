"""The rooms that think import none of the rooms that touch the world; each library has one door."""

import ast
from pathlib import Path

ROOT = Path(__file__).parent.parent / "assistant"
PURE = ("call", "language", "branches", "trade", "safety")
TOUCHING = ("assistant.hearing", "assistant.sound", "assistant.record", "assistant.fronts", "assistant.cli")
DOORS = {"CoolProp": "trade/refrigerant.py", "vosk": "hearing/recogniser.py", "pyttsx3": "sound/voice.py"}


def imports(file: Path) -> set[str]:
    found: set[str] = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {a.name for a in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module)
    return found


def test_the_pure_rooms_stay_pure():
    for room in PURE:
        for file in (ROOT / room).glob("*.py"):
            bad = {i for i in imports(file) if i.startswith(TOUCHING) or i in ("sounddevice", "vosk", "pyttsx3")}
            assert not bad, f"{file.name} imports {bad}"


def test_each_library_enters_by_one_door():
    for library, door in DOORS.items():
        users = {str(f.relative_to(ROOT)) for f in ROOT.rglob("*.py") if any(i.split(".")[0] == library for i in imports(f))}
        assert users <= {door, "hearing/graph.py"}, f"{library} is imported in {users}"


def test_the_safety_rules_import_nothing_of_how_the_dialogue_decides():
    assert not {"assistant.call.engine", "assistant.call.state", "assistant.call.findings"} & imports(
        ROOT / "safety" / "rules.py"
    )
