"""The four kinds of loom as a few strokes, seen from the side: what moves which shaft when something is pressed.

Two shafts with a thread through each; the one that is tied to what is pressed stands on the left. Drawn by us, from
how these looms work (common practice, no source). Coordinates go from 0 to 100, the floor at the bottom.
"""

from __future__ import annotations

from dataclasses import dataclass

from companion.remap.loom.loom import Action

ACROSS = 100.0
_THIN, _THICK = 1.4, 4.0
_TIED_X, _OTHER_X = 42.0, 62.0
_HIGH, _REST, _LOW = 62.0, 52.0, 42.0
_HALF_SHAFT = 13.0

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line through these points, so many units thick."""

    points: tuple[Point, ...]
    thick: float = _THIN


@dataclass(frozen=True, slots=True)
class Disc:
    """A filled circle: a pivot, a roller, a knob, an eye."""

    centre: Point
    radius: float


@dataclass(frozen=True, slots=True)
class Wedge:
    """A filled triangle: the head of an arrow."""

    corners: tuple[Point, Point, Point]


Shape = Stroke | Disc | Wedge


def loom_drawing(action: Action) -> tuple[Shape, ...]:
    """Return the shapes of a kind of loom, those behind first."""
    match action:
        case Action.RISING:
            return _jack()
        case Action.SINKING:
            return _counterbalance()
        case Action.COUNTERMARCHE:
            return _countermarche()
        case Action.LEVERS:
            return _table_loom()


def _jack() -> tuple[Shape, ...]:
    lever = (Stroke(((16, 18), (_TIED_X, 34)), _THICK), Disc((29, 26), 3), Stroke(((16, 18), (16, 11))))
    return (
        *_shed(_HIGH, _LOW),
        *lever,
        Stroke(((_TIED_X, 34), (_TIED_X, _HIGH - _HALF_SHAFT)), _THICK),
        Stroke(((54, _LOW - _HALF_SHAFT - 1), (70, _LOW - _HALF_SHAFT - 1)), _THICK),
        Stroke(((8, 12), (78, 6)), _THICK),
        *_arrow((_TIED_X, 79), (_TIED_X, 94)),
    )


def _counterbalance() -> tuple[Shape, ...]:
    top = 90.0
    return (
        *_shed(_LOW, _HIGH),
        Disc(((_TIED_X + _OTHER_X) / 2, top), 8),
        Stroke(((_TIED_X, _LOW + _HALF_SHAFT), (45, top))),
        Stroke(((_OTHER_X, _HIGH + _HALF_SHAFT), (59, top))),
        Stroke(((_TIED_X, _LOW - _HALF_SHAFT), (_TIED_X, 9))),
        Stroke(((8, 12), (78, 6)), _THICK),
        *_arrow((28, 40), (28, 22)),
        *_arrow((76, 64), (76, 82)),
    )


def _countermarche() -> tuple[Shape, ...]:
    return (
        *_shed(_HIGH, _LOW),
        Stroke(((12, 82), (_TIED_X, 92)), _THICK),
        Disc((27, 87), 3),
        Stroke(((_TIED_X, 92), (_TIED_X, _HIGH + _HALF_SHAFT))),
        Stroke(((12, 82), (12, 11))),
        Stroke(((_OTHER_X, 82), (92, 92)), _THICK),
        Disc((77, 87), 3),
        Stroke(((_OTHER_X, 82), (_OTHER_X, _LOW + _HALF_SHAFT))),
        Stroke(((_OTHER_X, _LOW - _HALF_SHAFT), (_OTHER_X, 7))),
        Stroke(((6, 12), (78, 6)), _THICK),
        *_arrow((28, 56), (28, 74)),
        *_arrow((76, 46), (76, 28)),
    )


def _table_loom() -> tuple[Shape, ...]:
    return (
        *_shed(_HIGH, _LOW),
        Stroke(((2, 14), (98, 14)), _THICK),
        Stroke(((86, 14), (86, 92))),
        Stroke(((24, 92), (86, 92)), _THICK),
        Stroke(((_TIED_X, 92), (_TIED_X, _HIGH + _HALF_SHAFT))),
        Stroke(((_OTHER_X, 92), (_OTHER_X, _LOW + _HALF_SHAFT))),
        Stroke(((24, 92), (10, 68)), _THICK),
        Disc((10, 68), 5),
        Stroke(((24, 92), (6, 96)), _THICK),
        Disc((6, 96), 4),
        *_arrow((22, 70), (22, 52)),
    )


def _shed(tied_eye: float, other_eye: float) -> tuple[Shape, ...]:
    """Return two shafts at these heights and the threads through their eyes, from the cloth to the beam."""
    shapes: list[Shape] = []
    for x, eye in ((_TIED_X, tied_eye), (_OTHER_X, other_eye)):
        shapes += [
            Stroke(((2, _REST), (x, eye), (98, _REST))),
            Stroke(((x, eye - _HALF_SHAFT), (x, eye + _HALF_SHAFT)), _THICK),
            Disc((x, eye), 3.5),
        ]
    return tuple(shapes)


def _arrow(start: Point, tip: Point) -> tuple[Shape, ...]:
    """Return an arrow straight up or down."""
    (x, begin), (_, end) = start, tip
    head = 9.0 if end > begin else -9.0
    return (
        Stroke(((x, begin), (x, end - head)), _THICK),
        Wedge(((x - 6, end - head), (x + 6, end - head), (x, end))),
    )
