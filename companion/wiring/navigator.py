"""The way that the weaver has come: places on one another, the newest on the screen, and the way back through them.

A page of its own is a function that makes its place and pushes it; it needs to know nothing of where the weaver came
from. What has a bookmark is found again after the program was ended under it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TypeVar

from companion.present.tie_up import NOT_DONE, said_signs
from companion.present.trade_words import in_trade_words, words_quoted
from companion.screens.place import Place
from companion.screens.surroundings import Surroundings
from companion.screens.tie_up import TieUpScreen
from companion.screens.window import FellsideWindow
from companion.workshop.bookmarks import Bookmark

Shown = TypeVar("Shown", bound=Place)
Marking = Bookmark | Callable[[], Bookmark | None] | None
"""Where a place is found again; a call where that may change while it is shown."""


@dataclass(slots=True)
class _Stop:
    """One place on the way, with what it was made with; made anew on the way back where `fresh`.

    `aside`: what lies below was only looked away from, and is found again as it was. `keeps`: nothing that is done here
    changes what lies below, so that it is found again so, too.
    """

    make: Callable[[], Place]
    place: Place
    around: Surroundings
    mark: Marking
    fresh: bool = False
    left: Callable[[], None] = lambda: None
    aside: bool = False
    keeps: bool = False


class Navigator:
    """Shows places in the window; every place is given its way back.

    `make` makes a place with the surroundings as they are then. It is called again on the way back where what the place
    shows may have changed (`fresh`), and where the window looks different by then. `mark` says where the place is found
    again.
    """

    def __init__(self, window: FellsideWindow) -> None:
        self.window = window
        self._stops: list[_Stop] = []

    @property
    def around(self) -> Surroundings:
        """What a place is made with now."""
        return self.window.surroundings

    @property
    def bookmarks(self) -> tuple[Bookmark, ...]:
        """Where the weaver is, from the lowest place on; what cannot be found again is left out of the way."""
        marks = (stop.mark() if callable(stop.mark) else stop.mark for stop in self._stops)
        return tuple(mark for mark in marks if mark is not None)

    def home(self, make: Callable[[], Shown], fresh: bool = False, mark: Marking = None) -> Shown:
        """Show a place from which no way leads back, and forget the way so far."""
        place = make()
        while self._stops:
            self._stops.pop().left()
        self._show(_Stop(make, place, self.around, mark, fresh))
        return place

    def push(
        self,
        make: Callable[[], Shown],
        fresh: bool = False,
        left: Callable[[], None] = lambda: None,
        mark: Marking = None,
        keeps: bool = False,
    ) -> Shown:
        """Show a place on top of the one that is shown; `left` is called when the weaver has gone back from it.

        `keeps`: what is shown now is found again as it was, questions half answered and all.
        """
        place = make()
        self._look_back()
        self._show(_Stop(make, place, self.around, mark, fresh, left, keeps=keeps))
        return place

    def look_aside(self, make: Callable[[], Place]) -> None:
        """Show a place for a moment: the way back leads to the very place that is shown now, whatever it would be."""
        self._show(_Stop(make, make(), self.around, None, aside=True))

    def replace(self, make: Callable[[], Shown], mark: Marking = None) -> Shown:
        """Show a place instead of the one that is shown: the way back leads past it."""
        place = make()
        self._look_back()
        self._stops.pop().left()
        self._show(_Stop(make, place, self.around, mark))
        return place

    def instead(self, waited_at: Place, make: Callable[[], Place]) -> None:
        """Make a place and put it where the weaver waited; nothing where the weaver has left."""
        for index, stop in enumerate(self._stops):
            if stop.place is waited_at:
                stop.place = make()
                stop.place.take_way_back(self.pop if index else None)
                if stop is self._stops[-1]:
                    self.window.show(stop.place)

    def pop(self) -> None:
        """Go back to the place below; the lowest one stays."""
        if len(self._stops) > 1:
            gone = self._stops.pop()
            gone.left()
            stop, around = self._stops.pop(), self.around
            if not (gone.aside or gone.keeps) and (stop.fresh or replace(stop.around, sizes=around.sizes) != around):
                stop.place, stop.around = stop.make(), around
            stop.place.fit(around.sizes)
            self._show(stop)

    def message(self, line: str, headline: str = NOT_DONE) -> None:
        """Tell the weaver what came of it, on a place of its own whose way on leads back."""

        def make() -> TieUpScreen:
            screen = TieUpScreen(self.around, lambda _deed: self.pop())
            screen.signs = in_trade_words(said_signs(headline, line), self.around.look.trade, words_quoted(line))
            return screen

        self.push(make)

    def is_shown(self, place: Place) -> bool:
        """Tell whether the weaver looks at this place now, or only aside from it."""
        shown = [stop.place for stop in self._stops if not stop.aside]
        return bool(shown) and shown[-1] is place

    def _look_back(self) -> None:
        """Come back from what was shown for a moment: what comes now stands on the place that it was asked from."""
        if self._stops and self._stops[-1].aside:
            self._stops.pop().left()

    def _show(self, stop: _Stop) -> None:
        self._stops.append(stop)
        stop.place.take_way_back(self.pop if len(self._stops) > 1 else None)
        self.window.show(stop.place)
