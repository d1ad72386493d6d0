"""Clear away the pages that are gone while nobody touches anything.

A page that was left is some thousand objects in circles, which Python frees only when it looks for circles. By itself
it looks whenever enough has been made, and that is while the next page is being made: a tenth of a second then, half a
second on a small computer, between a touch and its answer.
"""

from __future__ import annotations

import gc
from types import TracebackType
from typing import Any, Self

from kivy.clock import Clock
from kivy.core.window import Window

AT_REST_S = 0.6
"""So long after the last touch a weaver looks, or weaves by pedal."""
WORTH_A_LOOK = 3_000
"""Objects made and not freed since the last look; the smallest page is more, a pick is far less."""
_SELDOM = (50_000, 20, 50)
"""Python's own looks, for who touches on and on without a rest."""


class ClearedAtRest:
    """From here to the end of the `with`, look for circles when touches have come to rest.

    What has been made by the first rest lives as long as the program, and is left out of every look.
    """

    def __init__(self) -> None:
        self._usual = gc.get_threshold()
        self._look_soon = Clock.create_trigger(self._look, AT_REST_S)
        self._settled = False

    def __enter__(self) -> Self:
        gc.set_threshold(*_SELDOM)
        Window.bind(on_touch_up=self._touched)
        self._look_soon()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        Window.unbind(on_touch_up=self._touched)
        self._look_soon.cancel()
        gc.unfreeze()
        gc.set_threshold(*self._usual)

    def _touched(self, *_: Any) -> None:
        self._look_soon.cancel()
        self._look_soon()

    def _look(self, *_: Any) -> None:
        if not self._settled:
            self._settled = True
            gc.freeze()
        elif gc.get_count()[0] > WORTH_A_LOOK:
            gc.collect()
