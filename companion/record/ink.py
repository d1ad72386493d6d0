"""A printed page as values: boxes, lines and letters at places in points, whatever it is printed with.

A point is 1/72 inch. x runs to the right and y down, both from the page's upper left corner; letters stand on `y`.
`ink_svg` and `ink_pdf` are two ways of printing a page; both show the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import Enum

from companion.draft.model import Colour
from companion.draft.units import Units

BLACK = Colour(0, 0, 0)
GREY = Colour(150, 150, 150)
"""The lines of a grid."""
DARK = Colour(34, 34, 34)
"""What is filled in a grid."""
PAPER_WHITE = Colour(255, 255, 255)


class Paper(Enum):
    """A size of paper; the value is what it is called."""

    LETTER = "letter"
    A4 = "a4"


SIZES = {Paper.LETTER: (612.0, 792.0), Paper.A4: (595.28, 841.89)}
"""Width and height in points: 8.5 x 11 inches, and 210 x 297 mm (ISO 216)."""


class Anchor(Enum):
    """Where letters stand to their place; the value is SVG's word."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True)
class Boxes:
    """Rectangles of one colour, each (left, top, width, height); framed where `line` points are given."""

    places: tuple[tuple[float, float, float, float], ...]
    colour: Colour
    line: float = 0.0


@dataclass(frozen=True, slots=True)
class Rules:
    """Straight lines, each (x, y, x, y), `width` points wide."""

    places: tuple[tuple[float, float, float, float], ...]
    width: float = 0.4
    colour: Colour = GREY


@dataclass(frozen=True, slots=True)
class Letters:
    """A line of text; `turned` is written upwards."""

    x: float
    y: float
    text: str
    size: float
    bold: bool = False
    anchor: Anchor = Anchor.START
    turned: bool = False


InkMark = Boxes | Rules | Letters


@dataclass(frozen=True, slots=True)
class InkPage:
    """What stands on a page of this size, in the order in which it is printed."""

    width: float
    height: float
    marks: tuple[InkMark, ...]


def usual_paper(units: Units) -> Paper:
    """Return the paper that a weaver who measures so prints on."""
    return Paper.LETTER if units is Units.INCH else Paper.A4


def moved(marks: Iterable[InkMark], right: float, down: float) -> Iterator[InkMark]:
    """Yield marks at another place of the page."""
    for mark in marks:
        match mark:
            case Boxes(places):
                yield replace(mark, places=tuple((x + right, y + down, across, tall) for x, y, across, tall in places))
            case Rules(places):
                yield replace(
                    mark,
                    places=tuple((x + right, y + down, to_x + right, to_y + down) for x, y, to_x, to_y in places),
                )
            case Letters():
                yield replace(mark, x=mark.x + right, y=mark.y + down)
