"""Pedals that act as a keyboard (page-turners): key codes of a window in, presses out. Pure: the window calls it.

A key means what the weaver taught it by pressing. It speaks once when it goes down and not again until it has come
up: a window repeats a key that is held, and does not say so.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from drivers.events import Press, Pressed
from drivers.tally import Ignored, Tally

KeyMeanings = Mapping[int, Press]
"""What each key code asks for."""

USUAL_KEYS: KeyMeanings = MappingProxyType(
    {
        281: Press.ADVANCE,  # page down
        275: Press.ADVANCE,  # right
        274: Press.ADVANCE,  # down
        32: Press.ADVANCE,  # space
        13: Press.ADVANCE,  # enter
        271: Press.ADVANCE,  # enter of the number block
        280: Press.BACK,  # page up
        276: Press.BACK,  # left
        273: Press.BACK,  # up
        8: Press.BACK,  # backspace
    }
)
"""What page-turners usually send, as the codes that Kivy's window gives (`kivy.core.window.Keyboard.keycodes`)."""


class KeyPedal:
    """The keys of a keyboard-like pedal."""

    def __init__(self, meanings: KeyMeanings, ignored: Tally) -> None:
        self._meanings = meanings
        self._ignored = ignored
        self._down: set[int] = set()

    def key_down(self, code: int, at_s: float) -> Pressed | None:
        """Return the press that this key asks for, or None for a repeat and for keys without a meaning."""
        if code in self._down:
            self._ignored[Ignored.KEY_REPEAT] += 1
            return None
        self._down.add(code)
        if code not in self._meanings:
            self._ignored[Ignored.UNMAPPED_KEY] += 1
            return None
        return Pressed(self._meanings[code], at_s)

    def key_up(self, code: int) -> None:
        """Let the key speak again."""
        self._down.discard(code)

    def focus_lost(self) -> None:
        """Forget what is down: the window will not hear those keys come up."""
        self._down.clear()


@dataclass(frozen=True, slots=True)
class KeyLesson:
    """Teaching a pedal: press a key for each of `wanted`, in order. Ask with `asking`, read `meanings` at the end."""

    wanted: tuple[Press, ...] = (Press.ADVANCE, Press.BACK)
    codes: tuple[int | None, ...] = ()

    @property
    def asking(self) -> Press | None:
        """What the next key will mean; None when all are taught."""
        return self.wanted[len(self.codes)] if len(self.codes) < len(self.wanted) else None

    @property
    def meanings(self) -> dict[int, Press]:
        """What has been taught so far."""
        return {code: press for code, press in zip(self.codes, self.wanted, strict=False) if code is not None}

    def pressed(self, code: int) -> KeyLesson:
        """Return the lesson after this key; one that already has a meaning teaches nothing (it may be a repeat)."""
        if self.asking is None or code in self.codes:
            return self
        return replace(self, codes=(*self.codes, code))

    def skipped(self) -> KeyLesson:
        """Return the lesson with no key for what is asked: the pedal has too few."""
        return self if self.asking is None else replace(self, codes=(*self.codes, None))
