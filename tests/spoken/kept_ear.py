"""What an ear has once made of a sound, kept: a phrase by one voice over one piece of noise is worked out once for all calls.

The ear is the product's own. It is fed block by block, and asked as always; as long as all blocks so far are those of a sound
that it heard before by the same grammar, what it said then is said again, and from the first block that is not, it hears itself.
"""

import hashlib
import pickle
import sqlite3
from collections.abc import Callable, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from functools import cached_property
from importlib.metadata import version
from pathlib import Path
from typing import Any, Generic, TypeVar, cast

from assistant.hearing import graph, recogniser, second_ear
from assistant.hearing.guesses import Decoder, Guess, Opinion
from assistant.hearing.recogniser import Recogniser
from assistant.hearing.second_ear import SecondEar
from assistant.hearing.voice_activity import VoiceDetector
from assistant.language.audible import audible
from assistant.language.meaning import Question
from assistant.sound.audio_file import Samples

_DIGEST_BYTES = 12
T = TypeVar("T")
_DECIDE = (graph.__file__, recogniser.__file__)
"""What decides how a sound is decoded: after a change there nothing that was kept counts."""


def _digest(*parts: bytes) -> bytes:
    return hashlib.blake2b(b"|".join(parts), digest_size=_DIGEST_BYTES).digest()


class Kept:
    """Answers by key in one file, which several processes share."""

    def __init__(self, file: Path) -> None:
        self._known: dict[bytes, Any] = {}
        self._new: dict[bytes, Any] = {}
        self._base = sqlite3.connect(file, timeout=60, isolation_level=None)
        self._base.execute("pragma journal_mode = wal")
        self._base.execute("pragma synchronous = off")
        self._base.execute("create table if not exists heard (key blob primary key, value blob)")

    def __getitem__(self, key: bytes) -> Any:
        """What was put there by any process; None where nothing was."""
        if key not in self._known:
            with closing(self._base.execute("select value from heard where key = ?", (key,))) as found:
                row = found.fetchone()
            if row is None:
                return None
            self._known[key] = pickle.loads(row[0])
        return self._known[key]

    def __setitem__(self, key: bytes, value: Any) -> None:
        self._known[key] = self._new[key] = value

    def write(self) -> None:
        """Let the other processes know."""
        if self._new:
            rows = [(key, pickle.dumps(value)) for key, value in self._new.items()]
            self._base.execute("begin immediate")
            self._base.executemany("insert or replace into heard values (?, ?)", rows)
            self._base.execute("commit")
            self._new.clear()


@dataclass
class _Stream:
    """What was made of a stream after so many blocks, by the digest of all of them."""

    digests: list[bytes] = field(default_factory=list)
    said: dict[tuple[int, str], Any] = field(default_factory=dict)


class _Hearer(Generic[T]):
    """Something that is fed a stream, asked only where what it would say is not known."""

    def __init__(self, kept: Kept, kind: bytes, make: Callable[[], T], feed: Callable[[T, Samples], object]) -> None:
        self._kept, self._make, self._feed_it = kept, make, feed
        self._here = kind
        self._key = b""
        self._known: list[_Stream] = []
        self._blocks: list[Samples] = []
        self._heard: T | None = None
        self._now = _Stream()

    def fed(self, block: Samples, name: str, said: Callable[[T], Any]) -> Any:
        """What it says to one more block."""
        self._blocks.append(block)
        self._here = _digest(self._here, block.tobytes())
        self._now.digests.append(self._here)
        if len(self._blocks) == 1:
            self._key = self._here
            self._known = self._kept[self._key] or []
        return self.asked(name, said, fed=1)

    def asked(self, name: str, said: Callable[[T], Any], fed: int = 0) -> Any:
        """What it says after all blocks so far; `fed` of them it has not been fed when it is asked."""
        count = len(self._blocks)
        if self._heard is None:
            for stream in self._known:
                if stream.digests[count - 1 : count] == [self._here] and (count, name) in stream.said:
                    answer = self._now.said[count, name] = stream.said[count, name]
                    return answer
            self._heard = self._make()
            for block in self._blocks[: count - fed]:
                self._feed_it(self._heard, block)
        answer = self._now.said[count, name] = said(self._heard)
        return answer

    def keep(self) -> None:
        """What was heard anew."""
        if self._heard is not None:
            others = [one for one in self._kept[self._key] or [] if one.digests != self._now.digests]
            self._kept[self._key] = [*others, self._now]


class _Decoder:
    """See `Decoder`."""

    def __init__(self, hearer: _Hearer[Decoder]) -> None:
        self._hearer = hearer

    def feed(self, block: Samples) -> bool:
        return cast(bool, self._hearer.fed(block, "fed", lambda decoder: decoder.feed(block)))

    def partial(self) -> str:
        return cast(str, self._hearer.asked("partial", lambda decoder: decoder.partial()))

    def finish(self) -> list[Guess]:
        return cast(list[Guess], self._hearer.asked("finish", lambda decoder: decoder.finish()))

    def ended(self) -> list[Guess]:
        return cast(list[Guess], self._hearer.asked("ended", lambda decoder: decoder.ended()))


class _Detector:
    """See `VoiceDetector`."""

    def __init__(self, hearer: _Hearer[VoiceDetector]) -> None:
        self._hearer = hearer

    def probability(self, frame: Samples) -> float:
        return cast(float, self._hearer.fed(frame, "voice", lambda detector: detector.probability(frame)))


class _Second:
    """See `SecondOpinion`."""

    def __init__(self, kept: Kept, ear: SecondEar) -> None:
        self._kept, self._ear = kept, ear
        self._kind = second_ear.SHA256.encode()

    def ahead(self, sound: Samples) -> None:
        """Nothing: it begins when it is asked for what is not known."""

    def knows(self, words: str) -> bool:
        return self._ear.knows(words)

    def likeliest(self, sound: Samples) -> str:
        return cast(str, self._once(_digest(self._kind, sound.tobytes()), lambda: self._ear.likeliest(sound)))

    def opinion(self, sound: Samples, candidates: Sequence[str]) -> Opinion:
        key = _digest(self._kind, sound.tobytes(), "|".join(candidates).encode())
        words, letters, own = self._once(key, lambda: self._plain(self._ear.opinion(sound, candidates)))
        return Opinion(words, letters, own)

    def _plain(self, opinion: Opinion) -> tuple[dict[str, float], dict[str, float], tuple[Guess, ...]]:
        return dict(opinion.words), dict(opinion.letters), opinion.own

    def _once(self, key: bytes, heard: Callable[[], Any]) -> Any:
        if (known := self._kept[key]) is None:
            self._kept[key] = known = heard()
        return known


class KeptEar(Recogniser):
    """The product's ear, which works nothing out twice."""

    def __init__(self, folder: Path, kept: Kept, home: Path | None = None) -> None:
        """
        Args:
            folder: the speech model.
            kept: what was heard before.
            home: where the strict grammars are kept, which several processes share.
        """
        super().__init__(folder, home)
        self._kept = kept
        self._kind = _digest(folder.name.encode(), version("vosk").encode(), *(Path(p).read_bytes() for p in _DECIDE))
        self._streams: list[_Hearer[Any]] = []
        self._grammars: dict[str, bytes] = {}

    def hear(self, samples: Samples, question: Question) -> Any:
        """See `Recogniser.hear`."""
        self._streams.clear()
        found = super().hear(samples, question)
        for stream in self._streams:
            stream.keep()
        self._kept.write()
        return found

    def detector(self) -> VoiceDetector:
        """See `Recogniser.detector`."""
        return _Detector(self._hearer(b"voice", super().detector, lambda one, block: one.probability(block)))

    def decoder(self, question: Question) -> Decoder:
        """See `Recogniser.decoder`."""
        fresh = super().decoder
        return _Decoder(self._hearer(self._grammar(question), lambda: fresh(question), lambda one, block: one.feed(block)))

    @cached_property
    def second(self) -> Any:
        """See `Recogniser.second`."""
        ear = super().second
        return ear and _Second(self._kept, ear)

    @cached_property
    def _dictation(self) -> Decoder:
        return super().decoder(Question("note"))

    def _dictated(self, samples: Samples) -> str:
        return self._once(b"dictated", samples, super()._dictated)

    def _in_sentences(self, samples: Samples) -> str:
        return self._once(b"in sentences", samples, super()._in_sentences)

    def _once(self, how: bytes, samples: Samples, hear: Callable[[Samples], str]) -> str:
        key = _digest(self._kind, how, samples.tobytes())
        if (known := self._kept[key]) is None:
            self._kept[key] = known = hear(samples)
        return cast(str, known)

    def _hearer(self, kind: bytes, make: Callable[[], T], feed: Callable[[T, Samples], object]) -> _Hearer[T]:
        self._streams.append(_Hearer(self._kept, _digest(self._kind, kind), make, feed))
        return self._streams[-1]

    def _grammar(self, question: Question) -> bytes:
        wanted = audible(question)
        if wanted.name == "phrases" or wanted.name not in self._grammars:
            self._grammars[wanted.name] = _digest(pickle.dumps((wanted.free, wanted.phrases, wanted.strict)))
        return self._grammars[wanted.name]
