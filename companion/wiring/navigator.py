"""The way that the weaver has come: places on one another, the newest on the screen, and the way back through them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from companion.present.tie_up import NOT_DONE, said_signs
from companion.present.trade_words import in_trade_words, words_quoted
from companion.screens.surroundings import Surroundings
from companion.screens.tie_up import TieUpScreen
from companion.screens.window import FellsideWindow

MakePlace = Callable[[], Any]
"""Makes a place, a widget that is a `companion.screens.place.Place`, with the surroundings as they are then."""


@dataclass(slots=True)
class _Stop:
    """One place on the way; made anew on the way back where `fresh`, since what it shows may have changed."""

    make: MakePlace
    place: Any
    fresh: bool
    left: Callable[[], None]


class Navigator:
    """Shows places in the window; every place is given its way back."""

    def __init__(self, window: FellsideWindow) -> None:
        self.window = window
        self._stops: list[_Stop] = []

    @property
    def around(self) -> Surroundings:
        """What a place is made with now."""
        return self.window.surroundings

    def home(self, make: MakePlace, fresh: bool = False) -> Any:
        """Show a place from which no way leads back, and forget the way so far."""
        place = make()
        while self._stops:
            self._stops.pop().left()
        return self._show(_Stop(make, place, fresh, _nothing))

    def push(self, make: MakePlace, fresh: bool = False, left: Callable[[], None] = lambda: None) -> Any:
        """Show a place on top of the one that is shown; `left` is called when the weaver has gone back from it."""
        return self._show(_Stop(make, make(), fresh, left))

    def replace(self, make: MakePlace, fresh: bool = False) -> Any:
        """Show a place instead of the one that is shown: the way back leads past it."""
        self._stops.pop().left()
        return self.push(make, fresh)

    def pop(self) -> None:
        """Go back to the place below; the lowest one stays."""
        if len(self._stops) > 1:
            self._stops.pop().left()
            stop = self._stops.pop()
            if stop.fresh:
                stop.place = stop.make()
            else:
                stop.place.fit(self.around.sizes)
            self._show(stop)

    def message(self, line: str, headline: str = NOT_DONE) -> None:
        """Tell the weaver what came of it, on a place of its own whose way on leads back."""

        def make() -> TieUpScreen:
            screen = TieUpScreen(self.around, lambda _deed: self.pop())
            screen.signs = in_trade_words(said_signs(headline, line), self.around.look.trade, words_quoted(line))
            return screen

        self.push(make)

    def is_shown(self, place: Any) -> bool:
        """Tell whether the weaver looks at this place now."""
        return self.window.place is place

    def _show(self, stop: _Stop) -> Any:
        self._stops.append(stop)
        stop.place.leave = self.pop
        self.window.show(stop.place)
        return stop.place


def _nothing() -> None:
    return
