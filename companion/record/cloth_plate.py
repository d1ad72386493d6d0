"""The cloth as it looks, drawn sharp at its true aspect: each thread in its colour, as wide as it lies.

Wefts are bars across, and what of the warp is up lies over them; between threads a dark line is left, as in cloth.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate, groupby

import numpy as np

from companion.draft.cloth import Surface, weave
from companion.draft.facing import Facing, FirstPick, Side
from companion.draft.masks import Shed
from companion.draft.model import Colour, Draft
from companion.draft.rooms import ThreadRooms, warp_rooms, weft_rooms
from companion.record.ink import GREY, Boxes, InkMark
from companion.record.quarters import Plate

_FINEST = 1.2
"""Points to a thread: finer ones would melt into each other on paper."""
_LARGEST = 7.0
_GAP_SHARE = 0.12
"""Of a thread's room, what is left dark beside it."""
_DARKER = 0.45
_THINNEST_SHARE = 0.4
"""Of its share of a dent: however thin a file says that a thread is, it can be seen."""


def cloth_plate(
    draft: Draft,
    surface: Surface,
    width: float,
    height: float,
    facing: Facing,
    picks: Sequence[int] | None = None,
) -> Plate:
    """Return face or back in at most so much room, from the first end and pick on; `left_out` says what finds no room.

    `picks` are those that lie there (indices, oldest first), otherwise all of the draft. The back is read through the
    cloth: the first end stays on its side. The first pick lies where a draft has it.
    """
    lying = range(draft.picks) if picks is None else picks
    by_end, by_pick = warp_rooms(draft), weft_rooms(draft)
    ends = list(range(draft.ends))
    rooms = [by_pick.room_cm[pick] for pick in lying]
    # Of an end beside an empty dent only its share of its own is thread.
    finest = min((size for size in (*by_end.held_cm, *rooms) if size > 0), default=1.0)
    # As large as all of it fits, but no thread finer than can be seen; then a part of it is shown.
    scale = min(width / (sum(by_end.room_cm) or 1.0), height / (sum(rooms) or 1.0), _LARGEST / finest)
    scale = max(scale, _FINEST / finest)
    across = _fitting(by_end.room_cm, width / scale)
    down = _fitting(rooms, height / scale)
    shown = list(lying[:down]) if picks is None else list(lying[len(lying) - down :])
    ends = ends[:across]
    if not ends or not shown:
        return Plate(0.0, 0.0, ())
    backwards = facing.first_end is Side.RIGHT
    columns = _laid([by_end.room_cm[end] * scale for end in ends], backwards)
    bars = _laid([by_pick.room_cm[pick] * scale for pick in shown], facing.first_pick is FirstPick.AT_BOTTOM)
    size = (sum(room for _, room in columns), sum(room for _, room in bars))
    threads = _threads(draft, surface, ends, shown, _in_dents(columns, by_end, scale, backwards), bars, size[0])
    marks = (Boxes(((0.0, 0.0, *size),), _gap_colour(draft)), *threads)
    left_out = [
        f"{which}{number} of {there}"
        for which, number, there in (
            ("ends 1–", len(ends), draft.ends),
            ("picks 1–" if picks is None else "newest picks ", len(shown), len(lying)),
        )
        if number < there
    ]
    return Plate(*size, (*marks, Boxes(((0.0, 0.0, *size),), GREY, 0.5)), ", ".join(left_out))


def _fitting(rooms: Sequence[float], space: float) -> int:
    """Return how many of these threads, from the first on, lie in so much space; at least one where there are any."""
    return max(min(1, len(rooms)), sum(edge <= space * (1 + 1e-9) for edge in accumulate(rooms)))


def _laid(rooms: Sequence[float], backwards: bool) -> list[tuple[float, float]]:
    """Return where each thread's room begins and how wide it is; `backwards` the first one lies last."""
    whole, at, places = sum(rooms), 0.0, []
    for room in rooms:
        places.append((whole - at - room if backwards else at, room))
        at += room
    return places


def _in_dents(
    columns: Sequence[tuple[float, float]], rooms: ThreadRooms, scale: float, backwards: bool
) -> list[tuple[float, float]]:
    """Return where each thread itself begins in its room, and how wide it is: beside it the dents stay empty."""
    places = []
    for (left, room), held, thick in zip(columns, rooms.held_cm, rooms.thick_cm, strict=False):
        wide = max(min(thick, held), held * _THINNEST_SHARE) * scale
        aside = (held * scale - wide) / 2
        places.append((left + room - aside - wide if backwards else left + aside, wide))
    return places


def _threads(
    draft: Draft,
    surface: Surface,
    ends: Sequence[int],
    picks: Sequence[int],
    columns: Sequence[tuple[float, float]],
    bars: Sequence[tuple[float, float]],
    across: float,
) -> Iterator[InkMark]:
    wefts: dict[Colour, list[tuple[float, float, float, float]]] = defaultdict(list)
    for pick, (top, room) in zip(picks, bars, strict=True):
        gap = room * _GAP_SHARE / 2
        wefts[draft.yarns[draft.weft[pick]].colour].append((0.0, top + gap, across, room - 2 * gap))
    yield from (Boxes(tuple(places), colour) for colour, places in wefts.items())
    sheds = draft.sheds()
    on_top = weave([draft.threading[end] for end in ends], [Shed(sheds[pick]) for pick in picks])
    seen = on_top if surface is Surface.FACE else ~on_top
    warps: dict[Colour, list[tuple[float, float, float, float]]] = defaultdict(list)
    for place, (end, (left, room)) in enumerate(zip(ends, columns, strict=True)):
        gap = room * _GAP_SHARE / 2
        for first, last in _runs(np.asarray(seen[:, place]).tolist()):
            edges = (*bars[first], *bars[last - 1])
            top, bottom = min(edges[0], edges[2]), max(edges[0] + edges[1], edges[2] + edges[3])
            warps[draft.yarns[draft.warp[end]].colour].append((left + gap, top, room - 2 * gap, bottom - top))
    yield from (Boxes(tuple(places), colour) for colour, places in warps.items())


def _runs(ups: Iterable[bool]) -> Iterator[tuple[int, int]]:
    """Yield each stretch of picks that an end lies over: its first place and the one after its last."""
    first = 0
    for up, stretch in groupby(ups):
        length = len(list(stretch))
        if up:
            yield first, first + length
        first += length


def _gap_colour(draft: Draft) -> Colour:
    """Return what shows between the threads: the colours of the draft together, darkened."""
    colours = np.array([yarn.colour for yarn in draft.yarns], dtype=np.float64)
    return Colour(*(int(part) for part in colours.mean(axis=0) * _DARKER))
