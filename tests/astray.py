"""A technician who goes astray: he answers a simulated rack, and by chance anything else that is a word of the question, skips,
goes back, corrects, volunteers, names alarms and locks, goes silent for hours, and is cut off.

What he says is not what the rack has, so nothing of its causes is judged: the monitor of the safety rules watches, and the call
must come to its seal.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from random import Random

from assistant.call.effects import Ended, Listen
from assistant.call.facts import CallOpened
from assistant.call.heard import Heard
from assistant.language.grammar import understand
from assistant.language.meaning import Question, Remark
from assistant.language.quantities import NUMBER_KINDS
from assistant.language.vocabulary import vocabulary
from assistant.profile import Person, Rack, Site
from tests.bench.truth import site_for
from tests.branch_rack import FAULTS, BranchRack
from tests.rig.scenes import SCENES
from tests.rig.technician import Rig
from tests.simulated import Rack as Answers
from tests.talk import Talk
from tests.test_branches import site_of
from tests.test_faults import FAULTS as INJECTION

STEERING = ("skip this", "skip this", "i don't know", "go back", "say again", "hold on", "continue", "finish job", "never mind")
SAID_AT_ANY_TIME = (
    "the gas alarm is going", "the lock is off", "somebody else's lock is on it", "somebody is hurt", "emergency", "it tripped",
    "read back", "where am i", "why", "make a note", "the cover's still off", "i left the jumper in", "i'm dizzy",
    "the discharge valve is shut", "somebody's in the panel", "the power's back on", "my leads are still on",
    "somebody bypassed the oil control", "it won't start", "it won't reset", "kill it",
    "she quit", "it tripped again", "there's still pressure in it", "it's in a vacuum", "the module's still connected",
    "it's the wrong cylinder", "the line just burst", "my lead fell off", "the meter was on ohms", "my glove's torn",
    "i'm standing in water", "i locked the wrong machine", "that was compressor four's disconnect", "it bit me",
    "i never checked the other side", "this is not safe",
)  # fmt: skip
NUMBERS = ("zero", "one", "two", "five", "twelve", "twenty two", "sixty", "ninety five", "one forty", "two ten", "three eighty")
PEOPLE = (Person("ada", ("ada",), "Ada"), Person("kim", ("kim",), "Kim"))
KINDS: tuple[Callable[[Rack], Rack], ...] = (
    lambda rack: rack,
    lambda rack: replace(rack, panel=replace(rack.panel, drive=True, winding_sets=2)),
    lambda rack: replace(rack, panel=replace(rack.panel, control_isolator_stops="rack", capacitors=True)),
    lambda rack: replace(rack, refrigerant="R454C", closed_room=False),
    lambda rack: replace(rack, probe=replace(rack.probe, mount="in_gas")),
    lambda rack: replace(rack, probe=replace(rack.probe, kind="ptc", test_plug="jumper"), machine_kind="scroll"),
)
"""What the rack may be like, beside what its fault takes."""
LONGEST = 700


class Astray:
    """One call, from its seed."""

    def __init__(self, seed: int, share: float) -> None:
        """
        Args:
            seed: of the fault, the site and everything said.
            share: of 1 turn, how often he goes astray.
        """
        self.random, self.share = Random(seed), share
        site, self.rack = self._fault(seed)
        site = replace(site, racks=(KINDS[seed % len(KINDS)](site.racks[0]), *site.racks[1:]))
        named = self.random.random() < 0.7
        site = site if named else replace(site, technicians=PEOPLE)
        trips = (("a", "two", 10.0), ("a", "two", 3.0)) if self.random.random() < 0.15 else ()
        opened = CallOpened("paper", "", "test", machine_trips=trips, technician="Ada" if named else "")
        self.talk = Talk(site, opened=opened)
        self.turns: list[str] = []

    def _fault(self, seed: int) -> tuple[Site, Answers | Rig]:
        kind, number = seed % 3, seed // 3
        if kind == 0:
            scene = SCENES[number % len(SCENES)]
            return site_for((scene,), "R22"), Rig("none", scenes=(scene,), seed=seed)
        if kind == 1:
            fault = list(FAULTS)[number % len(FAULTS)]
            return site_of(fault), BranchRack(fault)
        return site_of("none"), Answers(INJECTION[number % len(INJECTION)][0])

    def to_the_seal(self) -> Talk:
        """Raises AssertionError where the call does not end, with what was said last.

        A room that nobody may go into can end a call open.
        """
        while not isinstance(self.talk.effects[-1], Ended):
            assert len(self.turns) < LONGEST, f"the call does not end: {self.turns[-20:]}"
            listen = self.talk.effects[-1]
            assert isinstance(listen, Listen), listen
            self._turn(listen, tired=len(self.turns) > LONGEST // 2)
        return self.talk

    def _turn(self, listen: Listen, tired: bool) -> None:
        chance = self.random.random()
        if chance < 0.03 * self.share:
            self.turns.append("(cut off)")
            self.talk.kill(after_s=self.random.choice((60, 4000)))
        elif chance < 0.06 * self.share:
            self.turns.append("(silent)")
            self.talk.wait(self.random.choice((30, 400, 9000)))
        else:
            words = self._answer(listen) if tired else self._words(listen)
            self.turns.append(f"{listen.step} {listen.question.asking}: {words}")
            self._say(listen, words, self.random.choice((3, 4, 10)))

    def _say(self, listen: Listen, words: str, after_s: float) -> None:
        """By chance a remark is heard as the ear hears one that it is not sure of."""
        meaning = understand(listen.question, words) if words in SAID_AT_ANY_TIME else None
        if isinstance(meaning, Remark) and self.random.random() < 0.4:
            at = self.talk.now + timedelta(seconds=after_s)
            self.talk.receive(Heard(words, at, sure=False, confidence=0.5, meaning=meaning))
        else:
            self.talk.hear(words, after_s=after_s)

    def _words(self, listen: Listen) -> str:
        q = listen.question
        if self.random.random() > self.share:
            return self._answer(listen)
        match self.random.choices(("value", "steer", "correct", "volunteer", "alarm"), (60, 20, 8, 6, 6))[0]:
            case "steer":
                return self.random.choice(STEERING)
            case "correct" if q.recorded:
                return f"correction {vocabulary()[self.random.choice(q.recorded)].say}"
            case "volunteer" if q.volunteer:
                id_ = self.random.choice(q.volunteer)
                return f"{vocabulary()[id_].say} {self._value(id_)}"
            case "alarm":
                return self.random.choice(SAID_AT_ANY_TIME)
        return self._other(q, listen)

    def _other(self, q: Question, listen: Listen) -> str:
        if q.asking == "confirm":
            return self.random.choice(("yes", "no"))
        if q.asking == "command":
            return self.random.choice(q.go_ahead)
        return " ".join(self._value(id_) for id_ in (q.asking, *q.also))

    def _value(self, id_: str) -> str:
        entry = vocabulary()[id_]
        if entry.kind in NUMBER_KINDS:
            return self.random.choice(NUMBERS)
        return self.random.choice({"yes_no": ("yes", "no"), "acknowledge": ("done", "not yet")}.get(
            entry.kind, entry.choices or ("nothing to add",)))  # fmt: skip

    def _answer(self, listen: Listen) -> str:
        """The rack's own; of what it does not know any."""
        try:
            return self.talk.words_of(self.rack)
        except KeyError:
            return self._value(listen.question.asking) if listen.question.asking in vocabulary() else "yes"
