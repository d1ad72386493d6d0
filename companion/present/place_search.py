"""A search for the place as it stands: what the weaver has seen and said, and the places that fit it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from companion.draft.facing import Facing
from companion.draft.units import Units
from companion.present.asking import Asked, AtLoom
from companion.weaving.clues import Clues, clues_of
from companion.weaving.finder import Evidence, SeenRow, positions
from companion.weaving.narrowing import as_seen, easiest_question, likelihood, newest_rows
from companion.weaving.pick_table import PickTable, pick_table
from companion.weaving.progress import Progress
from companion.weaving.questions import NOTHING_KNOWN, About, PlaceQuestion
from companion.weaving.sides import speak_against
from companion.weaving.warp import Piece, Warp


@dataclass(frozen=True, slots=True)
class PlaceSearch:
    """What stays from question to question: `evidence` is what was seen, `unsure` what the weaver could not tell.

    `among` (places, bool) are those of the section, the repeat and the length that were said.
    """

    warp: Warp
    progress: Progress
    facing: Facing
    units: Units
    table: PickTable
    clues: Clues
    among: NDArray[np.bool_]
    evidence: Evidence = NOTHING_KNOWN
    unsure: frozenset[About] = frozenset()

    @property
    def piece(self) -> Piece:
        """The piece on the loom."""
        return self.warp.pieces[self.progress.now.piece]

    @property
    def found(self) -> NDArray[np.int64]:
        """The places that fit (places, int64), the likeliest first; those that a shuttle speaks against come last."""
        found = positions(self.table, self.evidence)
        found = found[self.among[found]]
        against = speak_against(self.table, self.evidence.sides, found)
        return found[np.lexsort((-likelihood(self.table, found), against))]

    @property
    def likely(self) -> NDArray[np.int64]:
        """Those that no shuttle speaks against."""
        found = self.found
        return found[~speak_against(self.table, self.evidence.sides, found)]

    def question(self, however_few: bool = False) -> PlaceQuestion | None:
        """Return what is asked next; None where nothing is. `however_few`: also where showing the places is quicker."""
        return easiest_question(self.table, self.clues, self.likely, self.evidence, self.unsure, however_few)

    def newest_rows(self) -> tuple[int, ...]:
        """Return one place (index) for each way that the newest row may look, the likeliest first."""
        return newest_rows(self.table, self.likely)

    def not_sure_of(self, about: About) -> PlaceSearch:
        """Return the search that never asks this again."""
        return replace(self, unsure=self.unsure | {about})

    def within(self, among: NDArray[np.bool_]) -> PlaceSearch:
        """Return the search among these places (places, bool) only."""
        return replace(self, among=self.among & among)

    def saw(self, row: int, seen: SeenRow) -> PlaceSearch:
        """Return the search with more seen of the row `row` (0 is the newest)."""
        rows = list(self.evidence.rows) + [SeenRow()] * (row + 1 - len(self.evidence.rows))
        before = rows[row]
        up, down = (tuple(dict.fromkeys(ends)) for ends in (before.up + seen.up, before.down + seen.down))
        rows[row] = SeenRow(seen.yarns or before.yarns, up, down)
        return replace(self, evidence=replace(self.evidence, rows=tuple(rows)))

    def saw_newest_like(self, place: int) -> PlaceSearch:
        """Return the search with the newest row as it lies at this place (index), in a weft of its colour."""
        yarns = self.piece.draft.yarns
        colour = yarns[int(self.table.weft[place])].colour
        wefts = frozenset(yarn for yarn, one in enumerate(yarns) if one.colour == colour)
        return self.saw(0, as_seen(self.table, place, wefts))


FurtherOn = Callable[[PlaceSearch], Asked[AtLoom]]
"""What a question leads to: the next one."""


def begin_search(warp: Warp, progress: Progress, facing: Facing, units: Units) -> PlaceSearch:
    """Return the search in which nothing is known yet."""
    piece = warp.pieces[progress.now.piece]
    table = pick_table(piece, progress.now)
    everywhere = np.ones(table.places, dtype=np.bool_)
    return PlaceSearch(warp, progress, facing, units, table, clues_of(piece, table, progress.now), everywhere)
