"""The ground of the window: the place on the screen and, over it, the sign that opens its help.

A screen that has just changed answers no finger that was meant for the one before.

Whoever touches twice, or still has a finger down, has not seen what lies under it now. The time is our own choice: a
person needs some 200 to 300 ms to react to what is seen (from memory; common in handbooks of human factors).
"""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

from kivy.uix.floatlayout import FloatLayout

from companion.screens.look import Look
from companion.screens.theme import Sizes
from companion.screens.widgets.help_sign import HelpSign

SETTLE_S = 0.3
"""How long a screen lies still before it answers a finger."""
_BEGAN = "fellside began"
_VOID = "fellside void"


class Ground(FloatLayout):  # type: ignore[misc]
    """Holds the place on the screen and lets through only fingers that were meant for it.

    Call `changed` whenever something else lies under the finger. `clock` gives monotonic seconds. `help_sign` lies over
    every place that has help, in the upper corner on the side of the hand; it says `on_release`.
    """

    def __init__(self, settle_s: float = SETTLE_S, clock: Callable[[], float] = time.monotonic) -> None:
        super().__init__()
        self.settle_s = settle_s
        self._clock = clock
        self._changed_s = float("-inf")
        self.help_sign = HelpSign()
        self.bind(size=lambda *_: self.help_sign.stay_in(self))

    def put(self, place: Any, with_help: bool) -> None:
        """Show a place, and no other."""
        self.changed()
        self.clear_widgets()
        self.add_widget(place)
        if with_help:
            self.add_widget(self.help_sign)

    def fit(self, look: Look, sizes: Sizes, mirrored: bool) -> None:
        """Give the sign of the help its looks and its corner."""
        self.help_sign.wear(look, sizes, mirrored)
        self.help_sign.stay_in(self)

    def changed(self) -> None:
        """What lies here is another thing from now on."""
        self._changed_s = self._clock()

    def on_touch_down(self, touch: Any) -> bool:
        """Take a finger that came down; one that came too soon is nobody's."""
        touch.ud[_BEGAN] = now = self._clock()
        if now < self._changed_s + self.settle_s:
            touch.ud[_VOID] = True
            return True
        return bool(super().on_touch_down(touch))

    def on_touch_move(self, touch: Any) -> bool:
        """Take a finger that moves."""
        return self._let_go(touch) or bool(super().on_touch_move(touch))

    def on_touch_up(self, touch: Any) -> bool:
        """Take a finger that was lifted; what it lay on before is not what lies there now, so nothing happens."""
        return self._let_go(touch) or bool(super().on_touch_up(touch))

    def _let_go(self, touch: Any) -> bool:
        if touch.ud.get(_VOID):
            return True
        if touch.ud.get(_BEGAN, self._changed_s) >= self._changed_s:
            return False
        touch.ud[_VOID] = True
        for held in list(touch.grab_list):
            widget = held()
            if widget is not None:
                touch.ungrab(widget)
                if hasattr(widget, "state"):
                    widget.state = "normal"
        return True
