"""The footing spoken, where a speech program is there and the weaver wants it; never the only sign of anything."""

from __future__ import annotations

import shutil
import subprocess

SPEAKER = "espeak-ng"
"""A speech program that Debian packages; it is not installed by the set-up."""


def can_speak() -> bool:
    """Tell whether the speech program is there."""
    return shutil.which(SPEAKER) is not None


class Voice:
    """Says one thing at a time; what is newer cuts off what is older. Silent where it is not wanted or cannot speak."""

    def __init__(self, wanted: bool) -> None:
        self._program = shutil.which(SPEAKER) if wanted else None
        self._speaking: subprocess.Popen[bytes] | None = None

    def say(self, words: str) -> None:
        """Begin to say these words and return at once."""
        self.close()
        if self._program is None:
            return
        try:
            self._speaking = subprocess.Popen(
                [self._program, "--", words],
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
            )
        except OSError:
            # A program that went away in the meantime: weaving goes on in silence.
            self._program = None

    def close(self) -> None:
        """Fall silent; safe to call twice."""
        if self._speaking is not None:
            self._speaking.kill()
            self._speaking.wait()
            self._speaking = None
