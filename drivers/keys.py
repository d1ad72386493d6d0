"""Pedals that act as a keyboard (page-turners): key codes of a window in, presses out. Pure: every time is an argument.

A key means what the weaver taught it by pressing. It speaks once when it goes down and not again until it has come
up: a window repeats a key that is held, and does not say so.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from drivers.debounce import Edge
from drivers.events import Listener, Press, Pressed
from drivers.gestures import Gestures, GestureTimes, PedalUse
from drivers.tally import Ignored, Tally

KeyMeanings = Mapping[int, Press]
"""What each key code asks for."""

_NAMES = {
    281: "page down",
    275: "right",
    274: "down",
    32: "space",
    13: "enter",
    271: "enter",  # of the number block
    280: "page up",
    276: "left",
    273: "up",
    8: "backspace",
}
"""What is printed on keys that write nothing, by the codes of Kivy's window (`kivy.core.window.Keyboard.keycodes`)."""

USUAL_KEYS: KeyMeanings = MappingProxyType(
    dict.fromkeys((281, 275, 274, 32, 13, 271), Press.ADVANCE) | dict.fromkeys((280, 276, 273, 8), Press.BACK)
)
"""What page-turners usually send."""


_USUAL_TIMES = GestureTimes()


def key_names(meanings: KeyMeanings, wanted: Press) -> tuple[str, ...]:
    """Return what is printed on the keys that ask for this, each name once: `("page down", "right", …)`."""
    return tuple(dict.fromkeys(_name(code) for code, press in meanings.items() if press is wanted))


def _name(code: int) -> str:
    printed = chr(code).upper() if code <= sys.maxunicode else ""
    return _NAMES.get(code) or (printed if printed.isprintable() and printed else f"the key {code}")


class KeyPedal:
    """The keys of a keyboard-like pedal: tells `listener` of presses, with the same gestures as a foot-switch.

    `double_tap` is what two quick ones for "next" ask for; None: every key speaks at once when it goes down.
    """

    def __init__(
        self,
        meanings: KeyMeanings,
        listener: Listener,
        ignored: Tally,
        double_tap: Press | None = None,
        times: GestureTimes = _USUAL_TIMES,
    ) -> None:
        self._meanings = meanings
        self._listener = listener
        self._ignored = ignored
        self._down: set[int] = set()
        uses = {press: PedalUse(press, hold=None) for press in Press}
        uses[Press.ADVANCE] = PedalUse(Press.ADVANCE, hold=None, double_tap=double_tap)
        self._gestures = {press: Gestures(use, times, ignored) for press, use in uses.items()}

    def key_down(self, code: int, at_s: float) -> bool:
        """Take a key that went down, or the repeat of one that is down; tell whether it has a meaning."""
        meaning = self._meanings.get(code)
        if code in self._down:
            self._ignored[Ignored.KEY_REPEAT] += 1
        elif meaning is None:
            self._down.add(code)
            self._ignored[Ignored.UNMAPPED_KEY] += 1
        else:
            self._down.add(code)
            self._tell(self._gestures[meaning].observe(Edge(True, at_s), at_s))
        return meaning is not None

    def key_taken(self, code: int) -> None:
        """Hear nothing of a key that went down for another, to write a letter, until it has come up."""
        self._down.add(code)

    def key_up(self, code: int, at_s: float) -> None:
        """Let the key speak again."""
        meaning = self._meanings.get(code)
        if code in self._down and meaning is not None:
            self._tell(self._gestures[meaning].observe(Edge(False, at_s), at_s))
        self._down.discard(code)

    def time_passed(self, at_s: float) -> None:
        """Tell of a tap that no second one has followed; call it some twenty times a second where double taps count."""
        for gestures in self._gestures.values():
            self._tell(gestures.observe(None, at_s))

    def focus_lost(self) -> None:
        """Forget what is down: the window will not hear those keys come up."""
        self._down.clear()

    def _tell(self, presses: list[Pressed]) -> None:
        for pressed in presses:
            self._listener(pressed)


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
