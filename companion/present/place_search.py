"""A search for the place as it stands: what the weaver has seen and said, and the places that fit it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from companion.draft.facing import Facing
from companion.draft.units import Units
from companion.present.asking import Asked, AtLoom
from companion.weaving.clues import Clues, clues_of
from companion.weaving.finder import Evidence, SeenRow, positions
from companion.weaving.narrowing import as_seen, easiest_question, likelihood, newest_rows, pages, steps_off
from companion.weaving.pick_table import PickTable, pick_table
from companion.weaving.pointing import HARDLY, error_picks, nearness
from companion.weaving.progress import Progress
from companion.weaving.questions import NOTHING_KNOWN, About, Ask, PlaceQuestion
from companion.weaving.sides import speak_against
from companion.weaving.warp import Piece, Warp

POINTED: About = (Ask.POINT, 0, None, None)


@dataclass(frozen=True, slots=True)
class PlaceSearch:
    """What stays from question to question: `evidence` is what was seen, `unsure` what the weaver could not tell.

    `among` (places, bool) are those of the section, the repeat and the length that were said. `leaning` (places,
    float64) is how much what was pointed at speaks for each place.
    """

    warp: Warp
    progress: Progress
    facing: Facing
    units: Units
    table: PickTable
    clues: Clues
    among: NDArray[np.bool_]
    leaning: NDArray[np.float64]
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
        return found[np.lexsort((-likelihood(self.table, found, self.leaning), against))]

    @property
    def likely(self) -> NDArray[np.int64]:
        """Those that neither a shuttle nor what was pointed at speaks against."""
        found = self.found
        far = self.leaning[found] < HARDLY * self.leaning[found].max(initial=0.0)
        likely: NDArray[np.int64] = found[~far & ~speak_against(self.table, self.evidence.sides, found)]
        return likely

    def question(self, however_few: bool = False) -> PlaceQuestion | None:
        """Return what is asked next; None where nothing is. `however_few`: also where showing the places is quicker."""
        return easiest_question(
            self.table, self.clues, self.likely, self.evidence, self.unsure, however_few, self.leaning
        )

    @property
    def is_seen_how_far_off(self) -> bool:
        """Tell whether one picture with picks further or back takes fewer touches than pictures side by side."""
        found = self.likely
        if not len(found):
            return False
        chances = likelihood(self.table, found, self.leaning)
        off = steps_off(self.table, found, chances)
        return off is not None and off < pages(chances)

    def newest_rows(self) -> tuple[int, ...]:
        """Return one place (index) for each way that the newest row may look, the likeliest first."""
        return newest_rows(self.table, self.likely, self.leaning)

    def pointed_at(self, pick: int, picks: int) -> PlaceSearch:
        """Return the search with this pick (index) pointed at in a picture of so many `picks`."""
        near = nearness(self.table.pick, pick, error_picks(picks))
        return replace(self, leaning=self.leaning * near).not_sure_of(POINTED)

    def not_sure_of(self, about: About) -> PlaceSearch:
        """Return the search that never asks this again."""
        return replace(self, unsure=self.unsure | {about})

    def begun_again(self) -> PlaceSearch:
        """Return the search in which nothing is known but what was pointed at."""
        return replace(self, unsure=frozenset(), evidence=NOTHING_KNOWN, among=np.ones_like(self.among))

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

    def saw_newest_like_none_of(self, places: Sequence[int]) -> PlaceSearch:
        """Return the search without the newest rows as they lie at these places (indices)."""
        look = self.table.look
        return self.within(~np.isin(look, look[list(places)]))


FurtherOn = Callable[[PlaceSearch], Asked[AtLoom]]
"""What a question leads to: the next one."""


def begin_search(warp: Warp, progress: Progress, facing: Facing, units: Units) -> PlaceSearch:
    """Return the search in which nothing is known yet."""
    piece = warp.pieces[progress.now.piece]
    table = pick_table(piece, progress.now)
    everywhere = np.ones(table.places, dtype=np.bool_)
    clues = clues_of(piece, table, progress.now)
    return PlaceSearch(warp, progress, facing, units, table, clues, everywhere, np.ones(table.places))
