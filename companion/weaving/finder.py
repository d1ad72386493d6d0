"""The place-finder: from what can be seen at the fell to all picks that may lie there newest.

A position is the index of the newest pick in the cloth. The picks below it are taken in the order of the treadling;
below the first pick of a section that is woven to a length may also lie its last pick, from the repeat before. Jumps
are not taken into account: what was woven across one is not found beyond it.

Rows are matched from the oldest one up: `fits[pick]` tells whether the rows so far match with the newest of them at
`pick`; one more row shifts `fits` by a pick and asks for its own look. So n rows cost n passes over the columns.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from companion.weaving.pick_table import PickTable

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

    `since_change` is exact: the pick below these has another weft, or there is none.
    """

    rows: tuple[SeenRow, ...] = ()
    since_change: int | None = None
    treadle: int | None = None


def positions(table: PickTable, evidence: Evidence, near: int | None = None) -> NDArray[np.int64]:
    """Return the picks (int64) that may lie newest, nearest to `near` first (the earlier of two), else in order."""
    fits = np.zeros(table.picks, dtype=np.bool_)
    for rows, beginning in _readings(table, evidence):
        fits |= _matching(table, rows, beginning)
    if evidence.treadle is not None:
        fits &= _with_treadle(table, evidence.treadle)
    found = np.flatnonzero(fits).astype(np.int64)
    return found if near is None else found[np.argsort(np.abs(found - near), kind="stable")]


def rows_to_be_sure(table: PickTable, found: NDArray[np.int64]) -> int | None:
    """Return how many of the newest rows tell every one of these positions from the others; None beyond MOST_ROWS.

    Seeing that the cloth begins below a row counts as one row more. 0 where there is one position or none.
    """
    alike = np.zeros(len(found), dtype=np.int64)
    kinds = 1
    for rows in range(MOST_ROWS + 1):
        if kinds >= len(found):
            return rows
        look = look_back(table.look, found, rows) + 1
        distinct, alike = np.unique(alike * (int(look.max()) + 1) + look, return_inverse=True)
        kinds = len(distinct)
    return None


def look_back(column: NDArray[np.int64], found: NDArray[np.int64], rows: int) -> NDArray[np.int64]:
    """Return the column's value `rows` picks below each position, -1 below the first pick."""
    back = found - rows
    return np.where(back >= 0, column[np.maximum(back, 0)], -1)


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
    """Return for each pick whether all rows (newest first) match with the newest of them there."""
    if not rows:
        return np.ones(table.picks, dtype=np.bool_)
    looks: dict[SeenRow, NDArray[np.bool_]] = {}
    fits = np.ones(table.picks, dtype=np.bool_)
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
    if len(fits):
        above[0] = begins
        above[1:] = fits[:-1]
    for first, last in table.loops:
        above[first] |= fits[last]
    return above


def _looking_like(table: PickTable, row: SeenRow) -> NDArray[np.bool_]:
    up, down = table.raised[:, list(row.up)], table.raised[:, list(row.down)]
    sheds = np.asarray(up.all(axis=1) & ~down.any(axis=1), dtype=np.bool_)
    looks = sheds[table.shed_code]
    if row.yarns is not None:
        looks &= np.isin(table.weft, list(row.yarns))
    return np.asarray(looks, dtype=np.bool_)


def _with_treadle(table: PickTable, treadle: int) -> NDArray[np.bool_]:
    if not 0 <= treadle < table.pressed.shape[1]:
        return np.zeros(table.picks, dtype=np.bool_)
    return np.asarray(table.pressed[:, treadle][table.treadle_code], dtype=np.bool_)
