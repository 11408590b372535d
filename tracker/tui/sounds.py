"""What a maker may hear: when the bell rings, and what is spoken by a command of their choice."""

from __future__ import annotations

import subprocess
from enum import Enum

LONGEST_SPEECH = 300
"""Characters; a voice that reads longer ones is still talking at the next tap."""


class Sound(Enum):
    """An occasion to be heard."""

    COLOUR = "colour"
    ROUND = "round"
    WARNING = "warning"


class Voice:
    """Speaks through a command, without a shell and without waiting for it. The newest words cut off older ones."""

    def __init__(self, command: tuple[str, ...]) -> None:
        self.command = self._command = command
        self._speaking: list[subprocess.Popen[bytes]] = []
        self.trouble = ""

    def say(self, words: str) -> None:
        """Begin to say this. A command that cannot be run is told in `trouble` and not tried again."""
        speech = words.lstrip("-–— ")[:LONGEST_SPEECH]
        if not self._command or not speech:
            return
        self.hush()
        try:
            speaking = subprocess.Popen(
                [*self._command, speech],
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
            )
        except OSError as wrong:
            self.trouble = f"{self._command[0]} cannot speak: {(wrong.strerror or 'it cannot be run').lower()}"
            self._command = ()
        else:
            self._speaking.append(speaking)

    @property
    def is_silent(self) -> bool:
        return all(speaking.poll() is not None for speaking in self._speaking)

    def hush(self) -> None:
        """Stop what is being said. What has stopped by now is forgotten; nothing is waited for."""
        for speaking in self._speaking:
            if speaking.poll() is None:
                speaking.terminate()
        self._speaking = [speaking for speaking in self._speaking if speaking.poll() is None]
