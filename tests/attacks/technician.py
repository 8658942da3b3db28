"""The simulated technician of the other tests, who answers the bare go-aheads from the words that are asked."""

import re
from typing import Any

from tests.branch_rack import FAULTS, HEALTHY_LOOKS, BranchRack, Fault
from tests.simulated import Rack

GOES_ON = ("understood", "continue", "okay", "done")
HEALTHY = [word for word in dict.fromkeys(HEALTHY_LOOKS.values()) if word not in ("tripped", "no")] + ["tripped", "no"]
"""Where nothing is wrong; the words that also name a fault come last."""
BY_KIND = {
    "choice": "",
    "yes_no": "yes",
    "acknowledge": "done",
    "free": "nothing to add",
    "minutes": "ten minutes",
    "temperature": "sixty",
    "difference": "one",
    "volts": "two oh eight",
    "pressure": "twelve",
    "ohms": "four ten",
    "amps": "twenty three",
    "megohms": "two hundred",
    "count": "one",
    "mass": "none",
    "volume": "none",
    "percent": "sixty",
    "hertz": "sixty",
}
"""The answer to an id that this technician does not know."""
NO_BRANCH = Fault("none", {}, {}, {})


class Technician(BranchRack):
    """Answers by id and by the words asked, never by the name of a step."""

    @property
    def its(self) -> Fault:
        return FAULTS.get(self.fault, NO_BRANCH)

    def answer(self, ask: dict[str, Any]) -> str:
        self._kind, self._choices = ask.get("kind", ""), tuple(ask.get("choices", ()))
        return super().answer(ask)

    def _confirm(self, ask: dict[str, Any]) -> str:
        try:
            return super()._confirm(ask)
        except KeyError:  # what is asked back is no reading of the vocabulary
            return "yes"

    def _command(self, ask: dict[str, Any]) -> str:
        choices = [str(c) for c in ask["choices"]]
        prompt = f"{ask.get('prompt', '')}".lower()
        if "repaired" in choices:
            self.repaired = True
            wanted = self.words.get("repaired", self.its.repaired)
            return wanted if wanted in choices else "repaired"
        if "close" in prompt and "hand valve" in prompt:
            self.valve_shut = True
        if "open" in prompt and "hand valve" in prompt:
            self.valve_shut = False
        if choices[:2] == ["closed", "open"]:
            return "closed"
        if "started" in choices:
            self.running = True
        if "switched off" in choices or re.search(r"\bstop it\b", prompt):
            self.running = False
        for word in (*self.words.values(), *self.its.looks.values(), *GOES_ON, *HEALTHY):
            if word in choices:
                return word
        return choices[0]

    def _act(self, id_: str) -> None:
        super()._act(id_)
        if id_ == "lock_still_on" and self._say(id_) == "no":
            self.locked = False

    def _say(self, id_: str) -> str:
        if id_ in self.words:
            return self.words[id_]
        mine = {
            "technician": "sam",
            "protection_shown": "none shown",
            "supervisor_agreed": "no",
            "lock_still_on": "yes" if self.locked else "no",
            "everybody_safe": "yes",
            "room_safe": "yes",
            "crankcase_and_heads": "warm",
            "addition_reason": "leak",
            "isolated_pressure": "zero",
            "part_used": "one coil same as found",
            "part_to_order": "none",
        }
        if id_ in mine:
            return mine[id_]
        if self.fault not in FAULTS:
            try:
                return Rack._say(self, id_)
            except KeyError:
                pass
        try:
            return super()._say(id_)
        except KeyError:
            first = self._choices[0] if self._choices else ""
            return first if self._kind == "choice" else BY_KIND.get(self._kind, "done")
