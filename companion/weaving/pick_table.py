"""The places of a piece as numpy columns, made once, for questions that look at all of them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from companion.draft.cloth import crossings
from companion.draft.facing import Side
from companion.draft.masks import bits_of
from companion.draft.model import Treadled
from companion.weaving.lying import Lying, as_journal_has_it, as_listed
from companion.weaving.state import State
from companion.weaving.warp import Piece


@dataclass(frozen=True, eq=False, slots=True)
class PickTable:
    """Columns over the places of a piece (see `lying`), read-only; without a journal a place is a pick.

    `weft` (places, int64) is the yarn of each pick; `look` (places, int64) is equal where two picks lie alike: same
    weft colour, same shed. `shed_code` (places, int64) is a row of `raised` (distinct sheds x ends on the warp,
    bool, True = warp up); `treadle_code` (places, int64) a row of `pressed` (distinct footings x treadles, bool).
    `since_change` (places, int64) counts the newest picks of one weft, this one included. `yarns` is how many yarns the
    draft has; `starts` is where the shuttle of each of them lay before the first pick. `thrown` (places, bool) is False
    where the weft was laid in.
    """

    lying: Lying
    weft: NDArray[np.int64]
    look: NDArray[np.int64]
    shed_code: NDArray[np.int64]
    raised: NDArray[np.bool_]
    treadle_code: NDArray[np.int64]
    pressed: NDArray[np.bool_]
    since_change: NDArray[np.int64]
    yarns: int
    starts: tuple[Side, ...]
    thrown: NDArray[np.bool_]

    @property
    def pick(self) -> NDArray[np.int64]:
        """The pick of each place."""
        return self.lying.pick

    @property
    def picks(self) -> int:
        """How many picks the treadling lists; they are the first places."""
        return self.lying.listed

    @property
    def places(self) -> int:
        """How many places there are."""
        return len(self.lying.pick)

    @property
    def lasts_unknown(self) -> bool:
        """Whether a section woven to a length has one weft: of its laps nobody knows how many picks since a change."""
        return any(
            len(np.unique(self.weft[laps.first_pick : laps.last_pick + 1])) == 1
            for laps in self.lying.laps
            if laps.first_pick <= laps.last_pick
        )

    def below(self, places: NDArray[np.int64], rows: int) -> NDArray[np.int64]:
        """Return the place `rows` picks below each of these places, -1 below the beginning of the cloth."""
        back = places - rows
        return np.where(back >= np.where(places < self.picks, 0, self.picks), back, -1)

    def look_back(self, column: NDArray[np.int64], places: NDArray[np.int64], rows: int) -> NDArray[np.int64]:
        """Return the column's value `rows` picks below each place, -1 below the beginning of the cloth."""
        back = self.below(places, rows)
        return np.where(back >= 0, column[np.maximum(back, 0)], -1)

    def rows(self, place: int, rows: int) -> tuple[int, ...]:
        """Return the picks (indices) from this place down, newest first: so many, or fewer above the beginning."""
        beginning = 0 if place < self.picks else self.picks
        return tuple(self.pick[max(place + 1 - rows, beginning) : place + 1][::-1].tolist())


def pick_table(piece: Piece, now: State | None = None) -> PickTable:
    """Return the columns of this piece, as it lies on the loom (face up or face down).

    With `now`, that of the piece on the loom, also as its journal has it.
    """
    draft = piece.draft
    lying = as_listed(piece) if now is None else as_journal_has_it(piece, now)
    weft = np.array(draft.weft, dtype=np.int64)
    colours = {colour: code for code, colour in enumerate(dict.fromkeys(yarn.colour for yarn in draft.yarns))}
    colour_of = np.array([colours[yarn.colour] for yarn in draft.yarns], dtype=np.int64)
    cloth = crossings(draft.threading, piece.sheds)
    raised, shed_code = np.take(cloth.raised, cloth.shaft_of_end, axis=1), cloth.shed_of_pick
    treadles, treadle_code = _coded(_treadles_of_picks(piece))
    most = max((mask.bit_length() for mask in treadles), default=0)
    pressed = np.zeros((len(treadles), most), dtype=np.bool_)
    for row, mask in enumerate(treadles):
        pressed[row, list(bits_of(mask))] = True
    look = colour_of[weft] * max(len(raised), 1) + shed_code if len(weft) else weft
    weft, look, shed_code, treadle_code = (column[lying.pick] for column in (weft, look, shed_code, treadle_code))
    since_change = _since_change(weft, lying.listed)
    thrown = np.ones(piece.picks, dtype=np.bool_)
    thrown[list(piece.laid_in)] = False
    thrown = thrown[lying.pick]
    columns = (weft, look, shed_code, raised, treadle_code, pressed, since_change)
    for column in (lying.pick, thrown, *columns):
        column.flags.writeable = False
    return PickTable(lying, *columns, len(draft.yarns), tuple(map(piece.start_of, range(len(draft.yarns)))), thrown)


def _treadles_of_picks(piece: Piece) -> tuple[int, ...]:
    if piece.footings:
        known = {footing: footing.pressed for footing in set(piece.footings)}
        return tuple(known[footing] for footing in piece.footings)
    lifting = piece.draft.lifting
    return lifting.treadling if isinstance(lifting, Treadled) else (0,) * piece.picks


def _coded(masks: tuple[int, ...]) -> tuple[list[int], NDArray[np.int64]]:
    """Return the distinct masks in order of first use, and for each mask its place among them."""
    places = {mask: place for place, mask in enumerate(dict.fromkeys(masks))}
    return list(places), np.array([places[mask] for mask in masks], dtype=np.int64)


def _since_change(weft: NDArray[np.int64], listed: int) -> NDArray[np.int64]:
    index = np.arange(len(weft))
    changes = np.ones(len(weft), dtype=np.bool_)
    changes[1:] = weft[1:] != weft[:-1]
    changes[listed : listed + 1] = True
    return index - np.maximum.accumulate(np.where(changes, index, 0)) + 1
