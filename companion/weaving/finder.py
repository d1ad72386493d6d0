"""The place-finder: from what can be seen at the fell to all picks that may lie there newest.

A position is a place (see `lying`): the newest pick in the cloth, with the picks below it either in the order of the
treadling or, where a journal is known that has jumps, as it has them.

Rows are matched from the oldest one up: `fits[place]` tells whether the rows so far match with the newest of them at
`place`; one more row shifts `fits` by a place and asks for its own look. So n rows cost n passes over the columns.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from companion.weaving.pick_table import PickTable
from companion.weaving.sides import ShuttleSides, speak_against

MOST_ROWS = 64
"""The most rows that `rows_to_be_sure` looks back; more than that is no longer read off a cloth."""


@dataclass(frozen=True, slots=True)
class SeenRow:
    """What was seen of one pick: the yarns (indices) that its weft may be, and ends (indices) that lie up or down."""

    yarns: frozenset[int] | None = None
    up: tuple[int, ...] = ()
    down: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Evidence:
    """What the weaver knows: rows seen, newest first; how many newest picks have one weft; a treadle pressed last.

    `since_change` is exact: the pick below these has another weft, or there is none. `sides` tells where shuttles lie;
    it never rules a place out (see `sides`).
    """

    rows: tuple[SeenRow, ...] = ()
    since_change: int | None = None
    treadle: int | None = None
    sides: ShuttleSides = ()


def positions(table: PickTable, evidence: Evidence, near: int | None = None) -> NDArray[np.int64]:
    """Return the places (int64) that may be the fell, one for each pick, those before which the sides speak last.

    Among these the nearest to the pick `near` come first, else to the journal's place (the earlier of two), else in
    order. Of several places of one pick the first by this order is returned.
    """
    fits = np.zeros(table.places, dtype=np.bool_)
    for rows, beginning in _readings(table, evidence):
        fits |= _matching(table, rows, beginning)
    if evidence.treadle is not None:
        fits &= _with_treadle(table, evidence.treadle)
    found = np.flatnonzero(fits).astype(np.int64)
    return _one_for_each_pick(table, found[np.argsort(_rank(table, evidence, found, near), kind="stable")])


def _rank(table: PickTable, evidence: Evidence, found: NDArray[np.int64], near: int | None) -> NDArray[np.int64]:
    """Return numbers that put places in order: sides, then distance, then what the journal has before the listed."""
    distance = table.pick[found]
    if near is not None:
        distance = np.abs(distance - near)
    elif table.lying.away is not None:
        distance = table.lying.away[found]
    rank: NDArray[np.int64] = 2 * distance + (found < table.picks)
    if evidence.sides:
        rank += speak_against(table, evidence.sides, found) * (int(rank.max(initial=0)) + 1)
    return rank


def _one_for_each_pick(table: PickTable, ranked: NDArray[np.int64]) -> NDArray[np.int64]:
    if table.places == table.picks:
        return ranked
    _, first = np.unique(table.pick[ranked], return_index=True)
    return ranked[np.sort(first)]


def rows_to_be_sure(table: PickTable, found: NDArray[np.int64]) -> int | None:
    """Return how many of the newest rows tell every one of these places from the others; None beyond MOST_ROWS.

    `found` are places by index (places, int64). Seeing that the cloth begins below a row counts as one row more. 0
    where there is one place or none.
    """
    alike = np.zeros(len(found), dtype=np.int64)
    for rows in range(MOST_ROWS + 1):
        if int(alike.max(initial=-1)) + 1 >= len(found):
            return rows
        alike = _told_by_row(table, found, rows, alike)
    return None


def alike_in(table: PickTable, found: NDArray[np.int64], rows: int, alike: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return a number for each of these places (indices, int64), the same where so many newest rows lie alike.

    Places that are not `alike` (places, int64, from 0) to begin with have other numbers.
    """
    for row in range(rows):
        alike = _told_by_row(table, found, row, alike)
    return alike


def _told_by_row(table: PickTable, found: NDArray[np.int64], row: int, alike: NDArray[np.int64]) -> NDArray[np.int64]:
    look = table.look_back(table.look, found, row) + 1
    _, told = np.unique(alike * (int(look.max()) + 1) + look, return_inverse=True)
    return np.asarray(told, dtype=np.int64)


def rows_that_tell_place(table: PickTable, place: int) -> int | None:
    """Return how many newest rows lie nowhere else in the treadling as they lie at this place; None beyond MOST_ROWS.

    As `uniqueness.rows_that_tell` has it for every pick, but for one of them and at once.
    """
    others = np.flatnonzero(table.pick[: table.picks] != table.pick[place]).astype(np.int64)
    for rows in range(MOST_ROWS):
        mine = table.look_back(table.look, np.array([place], dtype=np.int64), rows)
        others = others[table.look_back(table.look, others, rows) == mine]
        if not len(others):
            return rows + 1
    return None


def _readings(table: PickTable, evidence: Evidence) -> Iterator[tuple[tuple[SeenRow, ...], bool]]:
    """Yield rows to match, and whether the cloth may begin below all but the oldest of them.

    "n picks since the change" is n rows of one weft over one row of any other, for each weft it may be.
    """
    since = evidence.since_change
    if since is None:
        yield evidence.rows, False
        return
    everyone = frozenset(int(yarn) for yarn in np.unique(table.weft))
    for yarn in sorted(everyone):
        wanted = [frozenset({yarn})] * since + [everyone - {yarn}]
        length = max(len(wanted), len(evidence.rows))
        rows = [*evidence.rows, *[SeenRow()] * (length - len(evidence.rows))]
        for row, yarns in enumerate(wanted):
            seen = rows[row].yarns
            rows[row] = replace(rows[row], yarns=yarns if seen is None else yarns & seen)
        yield tuple(rows), len(evidence.rows) <= since


def _matching(table: PickTable, rows: tuple[SeenRow, ...], may_begin: bool) -> NDArray[np.bool_]:
    """Return for each place whether all rows (newest first) match with the newest of them there."""
    looks: dict[SeenRow, NDArray[np.bool_]] = {}
    fits = np.ones(table.places, dtype=np.bool_)
    for age in reversed(range(len(rows))):
        if age < len(rows) - 1:
            fits = _one_pick_up(table, fits, begins=may_begin and age == len(rows) - 2)
        row = rows[age]
        if row not in looks:
            looks[row] = _looking_like(table, row)
        fits &= looks[row]
    return fits


def _one_pick_up(table: PickTable, fits: NDArray[np.bool_], begins: bool) -> NDArray[np.bool_]:
    above = np.empty_like(fits)
    above[1:] = fits[:-1]
    above[:1] = begins
    above[table.picks : table.picks + 1] = begins
    upper, lower = table.lying.joins.T
    above[upper[fits[lower]]] = True
    return above


def _looking_like(table: PickTable, row: SeenRow) -> NDArray[np.bool_]:
    up, down = table.raised[:, list(row.up)], table.raised[:, list(row.down)]
    sheds = np.asarray(up.all(axis=1) & ~down.any(axis=1), dtype=np.bool_)
    looks = sheds[table.shed_code]
    if row.yarns is not None:
        # By a table of yarns: some ten times faster than asking numpy which of so many picks are among a few yarns.
        looks &= np.isin(np.arange(table.yarns), list(row.yarns))[table.weft]
    return np.asarray(looks, dtype=np.bool_)


def _with_treadle(table: PickTable, treadle: int) -> NDArray[np.bool_]:
    if not 0 <= treadle < table.pressed.shape[1]:
        return np.zeros(table.places, dtype=np.bool_)
    return np.asarray(table.pressed[:, treadle][table.treadle_code], dtype=np.bool_)
