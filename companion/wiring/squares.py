"""From a gamp to a draft of one of its squares, by touch."""

from __future__ import annotations

from collections.abc import Callable

from companion.draft.errors import DraftError
from companion.draft.facing import Side
from companion.draft.gamp import gamp_of
from companion.draft.model import Draft
from companion.draft.square import square_of
from companion.journal.shelf import file_stem, tidy_name
from companion.present.squares import SquareWanted, ask_square
from companion.screens.flow import FlowPlace
from companion.wiring.navigator import Navigator


def choose_square(ways: Navigator, stem: str, draft: Draft, show: Callable[[str, Draft], None]) -> None:
    """Let the weaver choose a square of the draft in the file `stem`; `show` gets a file's name and the square.

    From there the way back leads to the last question, as another size or other edges may be wanted.
    """

    def make(wanted: SquareWanted) -> None:
        try:
            square = square_of(draft, wanted.area, wanted.finish)
        except DraftError as error:
            ways.message(str(error))
            return
        show(file_stem(tidy_name(f"{stem} {wanted.area.name or 'square'}")), square)

    gamp = gamp_of(draft)
    rightmost_first = ways.around.facing.first_end is Side.RIGHT
    ways.push(lambda: FlowPlace(ask_square(draft, gamp, rightmost_first), ways.around, make))
