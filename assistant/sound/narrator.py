"""The voice of a call: phrases that a natural voice has spoken beforehand where they are enough, else the plain engine."""

import os

from assistant.sound.audio_file import Samples
from assistant.sound.pace import at_pace
from assistant.sound.pack import Pack
from assistant.sound.voice import WORDS_PER_MINUTE, Voice

PLAIN = "RACKCALL_PLAIN_VOICE"
"""Set in the environment, the pack is left out."""


class Narrator:
    """Renders sentences, each by one of the two voices alone."""

    def __init__(self, pack: Pack | None = None) -> None:
        """Start the engine, which always works, and look what the pack has.

        Raises:
            VoiceMissing: the engine cannot be started.
        """
        self.words_per_minute = WORDS_PER_MINUTE
        self._engine = Voice()
        self._pack = None if os.environ.get(PLAIN) else pack or Pack()

    def render(self, text: str) -> Samples:
        """A text as sound, at this pace.

        Args:
            text: up to a few sentences; empty text gives no samples.

        Returns:
            int16, shape (n_samples,), mono, 16 kHz.

        Raises:
            VoiceMissing: the pack lacks it, and the engine wrote nothing.
        """
        sound = self._pack.render(text) if self._pack else None
        if sound is not None:
            return at_pace(sound, self.words_per_minute / WORDS_PER_MINUTE)
        self._engine.words_per_minute = self.words_per_minute
        return self._engine.render(text)
