"""The squares of a gamp by touch: seen as a table, marked where they are woven, and made drafts of their own."""

from __future__ import annotations

from collections.abc import Callable, Sequence, Set
from dataclasses import dataclass

from companion.draft.errors import DraftError
from companion.draft.gamp import Area, gamp_of
from companion.draft.model import Draft
from companion.draft.square import square_of
from companion.journal.shelf import file_stem, tidy_name
from companion.present.fell import Picture
from companion.present.square_table import SquareSeen, SquareTable, square_picture, square_table, table_facing
from companion.present.square_words import with_mark
from companion.present.squares import MarkWanted, SquareDeed, ask_square
from companion.screens.flow_place import FlowPlace
from companion.screens.squares import SquaresScreen
from companion.weaving.state import MarkedSquare
from companion.wiring.navigator import Navigator


@dataclass(frozen=True, slots=True)
class Marks:
    """The marks on the cloth of a draft that is woven: `now` are those that stand, `put` puts one there.

    `lying` are the picks (indices) in the cloth.
    """

    now: Callable[[], Sequence[MarkedSquare]]
    put: Callable[[MarkWanted], None]
    lying: Callable[[], Set[int]]


class SquaresWay:
    """The table of the squares of a draft, called `stem`; `show` gets the name of a file and a square made a draft.

    From there the way back leads to the last question, as another size or other edges may be wanted. Without `marks`
    nothing is woven yet, and nothing can be marked.
    """

    def __init__(
        self, ways: Navigator, stem: str, draft: Draft, show: Callable[[str, Draft], None], marks: Marks | None = None
    ) -> None:
        self._ways = ways
        self._stem = stem
        self._draft = draft
        self._show = show
        self._marks = marks
        self._gamp = gamp_of(draft)
        self._screen: SquaresScreen | None = None
        ways.push(self._make, keeps=True)

    def look_again(self, line: str = "") -> None:
        """Show the marks as they are now, and a line where there is one."""
        if self._screen is not None:
            self._screen.table = self._table()
            if line:
                self._screen.say(line)

    def _make(self) -> SquaresScreen:
        self._screen = SquaresScreen(self._ways.around, self._table(), self._picture, self._touched)
        return self._screen

    def _marked(self) -> Sequence[MarkedSquare]:
        return () if self._marks is None else self._marks.now()

    def _table(self) -> SquareTable:
        lying = None if self._marks is None else self._marks.lying()
        return square_table(self._draft, self._gamp, self._ways.around.facing, self._marked(), lying)

    def _picture(self, area: Area) -> Picture:
        lying = None if self._marks is None else self._marks.lying()
        facing = table_facing(self._ways.around.facing, self._marks is not None)
        return square_picture(self._draft, area, facing, lying)

    def _touched(self, square: SquareSeen) -> None:
        asked = ask_square(self._draft, square, self._marks is not None)
        self._ways.push(lambda: FlowPlace(asked, self._ways.around, self._wanted))

    def _wanted(self, deed: SquareDeed) -> None:
        if isinstance(deed, MarkWanted):
            if self._marks is not None:
                self._ways.pop()
                self._marks.put(deed)
            return
        try:
            square = square_of(self._draft, deed.area, deed.finish)
        except DraftError as error:
            self._ways.message(str(error))
            return
        square = with_mark(square, self._marked(), deed.area)
        self._show(file_stem(tidy_name(f"{self._stem} {deed.area.name or 'square'}")), square)
