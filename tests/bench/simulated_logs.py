"""The log of every simulated fault, before and after a change: what differs is printed, call by call.

    python -m tests.bench.simulated_logs write FOLDER     one file a fault: what was recorded, spoken and asked
    python -m tests.bench.simulated_logs compare A B      what differs; exits 1 when anything does

A change that should change nothing is guarded by it; one that should is listed by it.
"""

import json
import sys
from datetime import datetime
from difflib import unified_diff
from pathlib import Path
from typing import Any

from assistant.call.effects import Effect, Listen, Record, Say
from assistant.call.facts import as_record
from tests.branch_rack import FAULTS, BranchRack
from tests.simulated import Rack
from tests.talk import Talk
from tests.test_branches import site_of
from tests.test_disturbed_calls import INJECTION

INJECTION_FAULTS = (*INJECTION, "module_output_fuse", "probe_failed", "probe_wiring_faulty", "probe_loose",
                    "injection_coil_shorted", "drier_plugged", "not_called")  # fmt: skip


def line(effect: Effect) -> dict[str, Any]:
    """An effect as one line: a fact without its time, a sentence, a question, a wait."""
    match effect:
        case Record(fact=fact):
            return as_record(fact)
        case Say(purpose=purpose, text=text):
            return {"kind": "say", "purpose": purpose, "text": text}
        case Listen(question=question, step=step):
            return {"kind": "ask", "step": step, "asking": question.asking, "also": question.also, "of": question.of}
    return {"kind": type(effect).__name__.lower()}


def call(fault: str) -> list[str]:
    """What one simulated call recorded, said and asked; ends with the fault's complaint where it does not seal."""
    talk = Talk(site_of(fault) if fault in FAULTS else None)
    rack = BranchRack(fault) if fault in FAULTS else Rack(fault)
    try:
        talk.to_the_seal(rack)
        end = ""
    except AssertionError as error:
        end = str(error)
    lines = [json.dumps(line(x), default=_plain, sort_keys=True) for _, turn in talk.history for x in turn]
    return [*lines, end] if end else lines


def _plain(value: object) -> str:
    return value.isoformat() if isinstance(value, datetime) else str(value)


def write(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for fault in (*INJECTION_FAULTS, *FAULTS):
        (folder / f"{fault.replace(' ', '_')}.jsonl").write_text("\n".join(call(fault)) + "\n", encoding="utf-8")


def compare(before: Path, after: Path) -> int:
    names = sorted({f.name for f in [*before.glob("*.jsonl"), *after.glob("*.jsonl")]})
    different = 0
    for name in names:
        old, new = (f.read_text(encoding="utf-8").splitlines() if f.exists() else [] for f in (before / name, after / name))
        diff = list(unified_diff(old, new, f"before {name}", f"after {name}", lineterm="", n=0))
        different += bool(diff)
        print(*diff, sep="\n") if diff else None
    print(f"{different} of {len(names)} simulated calls differ")
    return int(different > 0)


if __name__ == "__main__":
    match sys.argv[1:]:
        case ["write", folder]:
            write(Path(folder))
        case ["compare", before, after]:
            sys.exit(compare(Path(before), Path(after)))
        case _:
            sys.exit(__doc__)
