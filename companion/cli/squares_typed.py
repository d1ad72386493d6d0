"""Squares of a gamp marked at the text stepper: a block and a section, a star, words."""

from __future__ import annotations

from collections.abc import Iterator

from companion.draft.errors import DraftError
from companion.draft.gamp import Gamp, area_of, gamp_of, stretch_called
from companion.present.square_words import STAR, marks_told
from companion.weaving.decide import Command
from companion.weaving.errors import WeavingError
from companion.weaving.events import Event
from companion.weaving.marking import mark_square
from companion.weaving.progress import Progress
from companion.weaving.state import State
from companion.weaving.warp import Warp

SQUARE_TAKES = "BLOCK SECTION [star|off] [WORDS]"
_OFF = "off"


def square_typed(rest: str) -> Command:
    """Return the command that marks a square: `3 2` with a star, `3 2 star soft`, `3 2 stiff` with words alone.

    `3 2 off` takes the mark away. Block and section are numbers or names of one word.
    """
    words = rest.split(maxsplit=3)

    def mark(warp: Warp, progress: Progress) -> Event:
        if len(words) < 2:
            raise WeavingError(f"write g {SQUARE_TAKES}; g alone lists the squares")
        piece = warp.pieces[progress.now.piece]
        gamp = gamp_of(piece.draft)
        try:
            block = stretch_called(gamp.blocks, words[0], "block")
            area = area_of(gamp, piece.draft, block, stretch_called(gamp.sections, words[1], "section"))
        except DraftError as error:
            raise WeavingError(str(error)) from error
        third = words[2].lower() if len(words) > 2 else STAR
        if third == _OFF:
            return mark_square(warp, progress, area, starred=False)
        text = " ".join(words[3:] if third == STAR else words[2:])
        return mark_square(warp, progress, area, third == STAR, text)

    return mark


def marked_lines(warp: Warp, now: State) -> list[str]:
    """Return the squares of the piece on the loom, and the marks that stand on it, one a line."""
    draft = warp.pieces[now.piece].draft
    marked = (one for one in now.squares if one.piece == now.piece)
    return [*_stretch_lines(gamp_of(draft)), *marks_told(draft, marked, set(now.cloth.newest_first()))]


def _stretch_lines(gamp: Gamp) -> Iterator[str]:
    for what, stretches in (("block", gamp.blocks), ("section", gamp.sections)):
        for number, one in enumerate(stretches, 1):
            yield f"{what} {number}  {one.name}"
