"""The cloth that a draft weaves: which thread is on top at every crossing.

A long cloth has few different sheds and few different shafts, so it is kept as a small table of sheds x shafts
and two lists of indices (`Crossings`); the full matrix is only made for whoever wants to see it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from companion.draft.masks import Shed
from companion.draft.model import Draft

_Array = TypeVar("_Array", bound=NDArray[np.generic])


class Surface(Enum):
    """A side of the cloth. The back is read through the cloth: end 1 stays where it is on the face."""

    FACE = "face"
    BACK = "back"


@dataclass(frozen=True, slots=True, eq=False)
class Crossings:
    """Which thread is on top at each crossing, with equal rows and columns kept once. All arrays are read-only.

    `raised`: sheds x shafts, bool, each shed of the cloth once; a last column that is never raised stands for the ends
    that are on no shaft. `shed_of_pick` (picks) and `shaft_of_end` (ends) are indices into it, intp.
    """

    raised: NDArray[np.bool_]
    shed_of_pick: NDArray[np.intp]
    shaft_of_end: NDArray[np.intp]

    @property
    def picks(self) -> int:
        """How many picks there are."""
        return len(self.shed_of_pick)

    @property
    def ends(self) -> int:
        """How many ends there are."""
        return len(self.shaft_of_end)

    @property
    def picks_of_shed(self) -> NDArray[np.intp]:
        """How many picks open each shed."""
        return np.bincount(self.shed_of_pick, minlength=self.raised.shape[0])

    @property
    def ends_of_shaft(self) -> NDArray[np.intp]:
        """How many ends hang on each shaft; the last number counts those on none."""
        return np.bincount(self.shaft_of_end, minlength=self.raised.shape[1])

    def matrix(self, picks: slice = slice(None)) -> NDArray[np.bool_]:
        """Return the crossings of these picks in full: picks x ends, bool, True = warp up; read-only."""
        chosen = self.shed_of_pick[picks]
        if len(self.raised) < len(chosen):
            return _read_only(np.take(np.take(self.raised, self.shaft_of_end, axis=1), chosen, axis=0))
        # Where hardly two picks are alike, rows first spares copying all of the cloth twice.
        return _read_only(np.take(self.raised[chosen], self.shaft_of_end, axis=1))


def crossings(threading: Sequence[int | None], sheds: Iterable[Shed]) -> Crossings:
    """Return what a threading (shaft index per end) and a shed per pick weave.

    An end on no shaft is never raised: it lies below every pick, on rising and sinking looms alike.
    """
    known: dict[Shed, int] = {}
    shed_of_pick = [known.setdefault(shed, len(known)) for shed in sheds]
    shafts = max(
        max((shaft + 1 for shaft in threading if shaft is not None), default=0),
        max((shed.bit_length() for shed in known), default=0),
    )
    return Crossings(
        raised=_read_only(_table(tuple(known), shafts)),
        shed_of_pick=_read_only(np.array(shed_of_pick, dtype=np.intp)),
        shaft_of_end=_read_only(np.array([shafts if shaft is None else shaft for shaft in threading], dtype=np.intp)),
    )


def crossings_of(draft: Draft) -> Crossings:
    """Return what a draft weaves, kept small; see `interlacement` for the whole matrix."""
    return crossings(draft.threading, draft.sheds())


def weave(threading: Sequence[int | None], sheds: Iterable[Shed]) -> NDArray[np.bool_]:
    """Weave any sheds on a threading: picks x ends, bool, True = warp up; read-only.

    `weave([0, 1], [Shed(0b01), Shed(0b10)])` is plain weave, `[[True, False], [False, True]]`.
    """
    return crossings(threading, sheds).matrix()


def interlacement(draft: Draft) -> NDArray[np.bool_]:
    """Return the draft's cloth: picks x ends, bool, True = warp up; first pick in row 0; read-only."""
    return crossings_of(draft).matrix()


def _table(sheds: Sequence[Shed], shafts: int) -> NDArray[np.bool_]:
    size = shafts // 8 + 1
    packed = np.frombuffer(b"".join(shed.to_bytes(size, "little") for shed in sheds), dtype=np.uint8)
    # One bit more than there are shafts: the column of the ends on no shaft.
    bits = np.unpackbits(packed.reshape(len(sheds), size), axis=1, count=shafts + 1, bitorder="little")
    return bits.astype(np.bool_)


def _read_only(array: _Array) -> _Array:
    array.setflags(write=False)
    return array
