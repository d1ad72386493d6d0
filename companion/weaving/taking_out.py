"""Taking picks out: each shed to open and each shuttle to pull, newest first.

The shuttle of the newest pick lies at the side the pick left to. With that pick's shed open it goes back through to
the other side, drawing the weft out; there it lies as it did before the pick was woven.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import islice

from companion.draft.facing import Side
from companion.draft.masks import Shed
from companion.remap.loom.loom import Footing
from companion.weaving.errors import WeavingError
from companion.weaving.pick_view import rows_at_fell
from companion.weaving.progress import Progress
from companion.weaving.state import tieup_on
from companion.weaving.warp import Warp


@dataclass(frozen=True, slots=True)
class TakeOut:
    """One pick to take out: open `shed` (feet as in `footing`), pull the shuttle from one side to the other.

    What is `laid_in` is drawn out by hand. Without `side_known` nobody knows on which side the shuttle lies. `re_tie`
    is the stage (index) whose tie-up opens the shed, where another one is on the loom then.
    """

    pick: int
    shed: Shed
    footing: Footing | None
    yarn: int
    shuttle: str
    pull_from: Side
    pull_to: Side
    re_tie: int | None
    side_known: bool = True
    laid_in: bool = False


def taking_out(warp: Warp, progress: Progress, picks: int) -> tuple[TakeOut, ...]:
    """Return the newest `picks` picks in the order they come out; raises WeavingError where fewer lie in the cloth."""
    lying = progress.now.cloth.picks
    if not 1 <= picks <= lying:
        raise WeavingError(f"cannot take out {picks} picks; {lying} lie in the cloth of this piece")
    piece = warp.pieces[progress.now.piece]
    on_loom = tieup_on(warp, progress.now)
    steps = []
    for row in rows_at_fell(warp, progress, picks):
        stage = piece.stage_at(row.pick)
        wanted = None if stage is None else piece.stages[stage].tieup
        steps.append(
            TakeOut(
                pick=row.pick,
                shed=row.shed,
                footing=piece.footings[row.pick] if piece.footings else None,
                yarn=row.yarn,
                shuttle=piece.draft.yarns[row.yarn].name,
                pull_from=row.went_to,
                pull_to=row.went_to.opposite,
                re_tie=stage if wanted != on_loom else None,
                side_known=row.side_known,
                laid_in=row.laid_in,
            )
        )
        on_loom = wanted
    return tuple(steps)


def pick_below_fell(progress: Progress, rows: int) -> int:
    """Return the pick (index) that lies `rows` picks below the newest one: 0 is the newest; raises WeavingError."""
    if not 0 <= rows < progress.now.cloth.picks:
        raise WeavingError(f"no pick lies {rows} below the fell; {progress.now.cloth.picks} lie in the cloth")
    return next(islice(progress.now.cloth.newest_first(), rows, None))
