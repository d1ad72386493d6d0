"""Playing the sounds; where there is no sound card, nothing is heard and nothing fails."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from kivy.core.audio import SoundLoader

from companion.present.cue import Sound


class Sounds:
    """The program's sounds; `file_of` gives the path of an asset. Silent where a sound cannot be played."""

    def __init__(self, file_of: Callable[[str], Path], wanted: bool) -> None:
        self._loaded: dict[Sound, Any] = {}
        if not wanted:
            return
        for sound in Sound:
            loaded = SoundLoader.load(str(file_of(f"sounds/{sound.value}.wav")))
            # A missing file or device gives a sound of no length instead of an error.
            if loaded is not None and loaded.length > 0:
                self._loaded[sound] = loaded

    def play(self, sound: Sound) -> None:
        """Play a sound from its start; returns at once."""
        loaded = self._loaded.get(sound)
        if loaded is not None:
            loaded.stop()
            loaded.play()
