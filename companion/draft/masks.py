"""Sets of shafts, of treadles and of indices as bit masks; the one module of companion/ that shifts bits.

Bit 0 is shaft 1 (nearest the weaver) or treadle 1 (leftmost). People count from 1, so everything that a
person sees passes through `shafts_of`/`shed_of` and `treadles_of`/`treadle_set`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from typing import NewType

import numpy as np
import numpy.typing as npt

Shed = NewType("Shed", int)
"""The set of raised shafts (or, where a docstring says so, of tied shafts)."""
TreadleSet = NewType("TreadleSet", int)
"""The set of treadles pressed for one pick."""

NO_SHAFT = Shed(0)
NO_TREADLE = TreadleSet(0)


def bit(index: int) -> int:
    """Return the set of one member, told by its index from 0: `bit(2)` is `0b100`."""
    return 1 << index


def first_bits(members: int) -> int:
    """Return the set of the indices below `members`: `first_bits(3)` is `0b111`."""
    return (1 << members) - 1


def has_bit(mask: int, index: int) -> bool:
    """Tell whether the index, from 0, is in the set."""
    return bool(mask >> index & 1)


def _mask(numbers: Iterable[int], what: str) -> int:
    mask = 0
    for number in numbers:
        if number < 1:
            raise ValueError(f"{what} are numbered from 1, not {number}")
        mask |= bit(number - 1)
    return mask


def bits_of(mask: int) -> Iterator[int]:
    """Yield the indices, from 0 and rising, of the bits set in `mask`."""
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


@cache
def members_of(mask: int) -> tuple[int, ...]:
    """Return the indices of `bits_of` all at once, remembered: for the small sets that a search asks for again."""
    return tuple(bits_of(mask))


def shed_of(shafts: Iterable[int]) -> Shed:
    """Return the shed that raises these shafts, numbered from 1: `shed_of([1, 3])` is `0b101`."""
    return Shed(_mask(shafts, "shafts"))


def shafts_of(shed: Shed) -> tuple[int, ...]:
    """Return the shafts of a shed, numbered from 1 and rising: `shafts_of(0b101)` is `(1, 3)`."""
    return tuple(bit + 1 for bit in bits_of(shed))


def treadle_set(treadles: Iterable[int]) -> TreadleSet:
    """Return the set of these treadles, numbered from 1: `treadle_set([2, 3])` is `0b110`."""
    return TreadleSet(_mask(treadles, "treadles"))


def treadles_of(pressed: TreadleSet) -> tuple[int, ...]:
    """Return the treadles of a set, numbered from 1 and rising: `treadles_of(0b110)` is `(2, 3)`."""
    return tuple(bit + 1 for bit in bits_of(pressed))


def every_shaft(shafts: int) -> Shed:
    """Return the shed that raises all of `shafts` shafts."""
    return Shed(first_bits(shafts))


def complement(shed: Shed, shafts: int) -> Shed:
    """Return the shed that raises exactly the shafts that `shed` leaves down: the cloth face down."""
    return Shed(every_shaft(shafts) & ~shed)


def union(sheds: Iterable[Shed]) -> Shed:
    """Return the shed that raises every shaft raised in any of `sheds`."""
    raised = 0
    for shed in sheds:
        raised |= shed
    return Shed(raised)


def ties_pressed(tieup: tuple[Shed, ...], pressed: TreadleSet) -> Shed:
    """Return the union of the ties of the pressed treadles."""
    return union(tieup[treadle] for treadle in bits_of(pressed))


def is_raised(shed: Shed, shaft_index: int) -> bool:
    """Tell whether the shaft with this index (from 0) is in the shed."""
    return has_bit(shed, shaft_index)


def with_shaft(shed: Shed, shaft_index: int, raised: bool) -> Shed:
    """Return the shed with one shaft (index from 0) put in or taken out."""
    return Shed(shed | bit(shaft_index)) if raised else Shed(shed & ~bit(shaft_index))


def common(one: Shed, other: Shed) -> Shed:
    """Return the shafts that are in both: `common(0b011, 0b110)` is `0b010`."""
    return Shed(one & other)


def without(shed: Shed, other: Shed) -> Shed:
    """Return the shafts of `shed` that are not in `other`."""
    return Shed(shed & ~other)


def within(part: int, whole: int) -> bool:
    """Tell whether every member of `part` is in `whole`."""
    return part & ~whole == 0


def count(mask: int) -> int:
    """Return how many members a set has."""
    return mask.bit_count()


def counts(masks: npt.NDArray[np.int64]) -> npt.NDArray[np.uint8]:
    """Return how many members each of many sets has: sets and members in any one shape, 2 and 1 (uint8) for 3 and 4."""
    if hasattr(np, "bitwise_count"):
        members: npt.NDArray[np.uint8] = np.bitwise_count(masks)
        return members
    # Before numpy 2: byte by byte.
    of_byte = np.array([value.bit_count() for value in range(256)], dtype=np.uint8)
    bytes_of = np.ascontiguousarray(masks).view(np.uint8).reshape(*masks.shape, 8)
    by_byte: npt.NDArray[np.uint8] = of_byte[bytes_of].sum(axis=-1, dtype=np.uint8)
    return by_byte


def print_shed(shed: Shed) -> str:
    """Return a shed as weavers write it: `1 3`, or `none`."""
    return " ".join(map(str, shafts_of(shed))) or "none"


def pulls(up: Shed, down: Shed, shafts: int) -> int:
    """Return shafts pulled up and shafts pulled down as one set: bit s is shaft s up, bit `shafts + s` is s down."""
    return up | down << shafts


def pulls_up(pulled: int, shafts: int) -> Shed:
    """Return the shafts that a set of pulls pulls up: `pulls_up(0b10_01, 2)` is `0b01`."""
    return Shed(pulled & every_shaft(shafts))


def pulls_down(pulled: int, shafts: int) -> Shed:
    """Return the shafts that a set of pulls pulls down: `pulls_down(0b10_01, 2)` is `0b10`."""
    return Shed(pulled >> shafts)
