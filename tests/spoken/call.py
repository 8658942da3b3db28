"""One call by sound, from hello to seal, and what came of it."""

import zlib
from dataclasses import dataclass, field
from datetime import timedelta
from random import Random

from assistant.call.effects import Listen, Say
from assistant.call.facts import ObligationHandedOver, ReadingTaken
from assistant.call.heard import Heard, Unclear
from assistant.fronts.loop import WORDS_PER_S
from assistant.hearing.recogniser import Recogniser
from assistant.language.meaning import Question, Value
from assistant.language.vocabulary import vocabulary
from assistant.sound.audio_file import RATE_HZ
from tests.bench.ears import Sound, in_noise
from tests.bench.truth import Outcome, site_for, standings
from tests.rig.scenes import Scene
from tests.rig.technician import Rig
from tests.spoken.technician import Manners, Technician, Utterance
from tests.spoken.voices import Phrases
from tests.talk import Talk

MOST_UTTERANCES = 400
TYPING_S = 4.0
TAKES = 4
"""Pieces of noise that a phrase of a voice may lie over: a sound that was heard before is not worked out again."""
PACES = (0.9, 1.0, 1.1)
"""A voice has a pace of its own, so that its phrases are made once."""


@dataclass
class Spoken:
    """What came of a call."""

    outcome: Outcome
    voice: str
    utterances: int = 0
    typed: int = 0
    """Of them what he typed, for want of being heard."""
    readings: int = 0
    """Put on record."""
    answers: int = 0
    """Utterances to questions for readings: answers, the same again, and what was agreed to or denied."""
    questions: int = 0
    """Such questions; one that is asked again for want of an answer counts once."""
    seconds: float = 0.0
    """By the call's clock."""
    wrong: dict[str, tuple[Value, Value | None]] = field(default_factory=dict)
    """Readings that stand on record at the end with a value that he did not mean: it, and what he meant."""
    open: frozenset[str] = frozenset()
    """Obligations neither cleared nor handed over."""
    counted_talk: int = 0
    """Times that words to a colleague counted for something."""
    turns: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Room:
    """Where it is said: the ear that listens, the voices, and the noise under them."""

    ear: Recogniser
    phrases: Phrases
    noises: tuple[Sound, ...]
    snr_db: float | None


class SpokenCall:
    """A call under way."""

    def __init__(self, scene: Scene, room: Room, voice: str, seed: int, refrigerant: str, manners: Manners | None = None) -> None:
        chance = Random(seed)
        self.room, self.voice, self.seed = room, voice, seed
        self.talk = Talk(site_for((scene,), refrigerant))
        manners = manners or Manners()
        self.man = Technician(Rig("none", scenes=(scene,), seed=seed, refrigerant=refrigerant), seed, manners)
        self.speed = PACES[sum(voice.encode()) % len(PACES)]
        self.drops_out_at = chance.randrange(5, 45) if chance.random() < manners.drops_out else 0
        self.scene = scene
        self.result = Spoken(Outcome((scene,), {}, set(), 0, 0, False, ()), voice)

    def to_the_end(self) -> Spoken:
        told = 0
        while not self.talk.dialogue.over and self.result.utterances < MOST_UTTERANCES:
            listen = self.talk.effects[-1]
            if not isinstance(listen, Listen):
                break
            new = [fact for _, fact in self.talk.facts[told:]]
            told = len(self.talk.facts)
            self._turn(listen, new)
        return self._counted()

    def _turn(self, listen: Listen, new: list) -> None:  # type: ignore[type-arg]
        asked_back = {part.id: part.value for part, _ in self.talk.dialogue.doing.asked_back}
        utterance = self.man.says(listen, self._on_record(), new, asked_back)
        self.result.utterances += 1
        heard = self._typed(utterance) if utterance.typed else self._heard(utterance, listen.question)
        if listen.question.asking != "command" and utterance.for_a_reading:
            self.result.answers += 1
            self.result.questions += self.man.begins
        before = len(self.talk.facts)
        self.talk.receive(heard)
        if utterance.to_colleague and any(isinstance(fact, ReadingTaken) for _, fact in self.talk.facts[before:]):
            self.result.counted_talk += 1
        got = "(typed)" if utterance.typed else heard.words if isinstance(heard, Heard) else "(not clear)"
        asked = f"{listen.step} {listen.question.asking}"
        self.result.turns.append(f"{asked}: {utterance.words} > {got} [{self.talk.said[:160]}]")
        if self.result.utterances == self.drops_out_at and not self.talk.dialogue.over:
            self.result.turns.append("(dropped out)")
            self.talk.kill(after_s=120)
            self.man.open_question = ("", "")

    def _typed(self, utterance: Utterance) -> Heard:
        self.result.typed += 1
        return Heard(utterance.words, self.talk.now + timedelta(seconds=self._listened_s() + TYPING_S))

    def _heard(self, utterance: Utterance, question: Question) -> Heard | Unclear:
        """What the ear makes of it over the room's noise."""
        sound = self.room.phrases.of(utterance.words, self.voice, self.speed, utterance.gap_s)
        take = (self.seed + self.result.utterances) % TAKES
        seed = zlib.crc32(f"{utterance.words}|{self.voice}|{take}".encode())
        noise = self.room.noises[seed % len(self.room.noises)]
        hearing = self.room.ear.hear(in_noise(sound, self.room.snr_db, noise, seed), question)
        took_s = self._listened_s() + len(sound) / RATE_HZ + (hearing.late_ms or 0) / 1000
        return hearing.fact(self.talk.now + timedelta(seconds=took_s))

    def _listened_s(self) -> float:
        """How long the prompts took that he has just heard."""
        return sum(len(x.text.split()) for x in self.talk.effects if isinstance(x, Say)) / WORDS_PER_S

    def _on_record(self) -> dict[str, Value]:
        return {id_: reading.value for id_, reading in self.talk.dialogue.state.readings.items()}

    def _counted(self) -> Spoken:
        state, result = self.talk.dialogue.state, self.result
        kinds = {id_: entry.kind for id_, entry in vocabulary().items()}
        for id_, value in self._on_record().items():
            if kinds.get(id_) != "free" and self.man.meant.get(id_) != value:
                result.wrong[id_] = (value, self.man.meant.get(id_))
        asked = {fact.id for _, fact in self.talk.facts if isinstance(fact, ReadingTaken)}
        result.outcome = Outcome(
            (self.scene,), self._standings(), asked, 0, result.utterances, state.sealed, self.talk.broken()
        )  # fmt: skip
        result.readings = sum(isinstance(fact, ReadingTaken) for _, fact in self.talk.facts)
        handed = {fact.id for _, fact in self.talk.facts if isinstance(fact, ObligationHandedOver)}
        result.open = frozenset(set(state.open) - handed)
        result.seconds = (self.talk.now - self.talk.history[0][0]).total_seconds()
        return result

    def _standings(self) -> dict[str, str]:
        """The best that each cause had; of a proof that was taken back, what is left."""
        final = {c.cause: c.standing for c in self.talk.dialogue.state.conclusions.values()}
        return {cause: final[cause] if held == "proven" else held for cause, held in standings(self.talk).items()}
