"""From sheds that fit to one stage tied for a weaver: which of the tie-ups, which treadle, which foot.

Where no present tie-up is known the lightest for the feet is taken, as everywhere (`feet_first`). Where it is, fewest
treadles come first, then fewest cords changed, then what is wished of the feet, then the feet; then what is nearest to
the draft's order. Treadles to spare stay free there, because each would cost cords.

Lemmas and proofs: assets/mathematics.md, "Cords and places".
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from companion.draft.masks import Shed
from companion.remap.feet.feet_first import tidied
from companion.remap.feet.feet_search import feet_first
from companion.remap.feet.place_cheapest import (
    PlacedColumns,
    cheapest_placed,
    cords_as_they_are,
    draft_rank,
    feet_fixed_on,
    ordered,
    placed_once_more,
    still_open_of,
)
from companion.remap.feet.tied_stage import ShedFeet, TiedStage
from companion.remap.feet.walking import travelled
from companion.remap.loom.cords import cord_changes, untouched
from companion.remap.loom.footings import can_open
from companion.remap.loom.loom import Footing, TieUp
from companion.remap.loom.question import Job, Question, on_treadles
from companion.remap.loom.targets import Column, Columns, by_treadle, tieup_of
from companion.remap.search.answers import ShouldStop


@dataclass(frozen=True, slots=True)
class Walk:
    """The feet of a treadling: a footing per pick, what they cost, and how far they travel, in treadle widths."""

    footings: tuple[Footing, ...]
    cost: int
    travel_widths: float


@dataclass(frozen=True, slots=True)
class PlacedTieUp:
    """A tie-up on the treadles of the loom and the feet on it; `fewest_cords`: none changes fewer (proven)."""

    tieup: TieUp
    walk: Walk
    fewest_cords: bool


def place_best(
    job: Job,
    tieups: Iterable[Columns],
    should_stop: ShouldStop,
    cut_short: Callable[[], bool],
    *,
    no_others: bool = False,
) -> PlacedTieUp:
    """Choose among tie-ups, given as columns, that open all targets, and place it on the loom.

    With `no_others` no other treadle is pressed; else one may be that is tied now, where that spares the feet.

    Cords are proven fewest where all tie-ups were weighed and none of them could do with fewer, or where none changes.
    `cut_short` tells at the end of the tie-ups whether there may be others.
    """
    kept = _as_it_is(job) if not no_others or not any(job.targets) else None
    complete = kept is not None
    if kept is not None:
        best = PlacedColumns(kept, 0, 0)
    elif job.present_columns is None:
        best = PlacedColumns(_lightest_of_all(job, next(iter(tieups)), should_stop), 0, 0)
    else:
        best, complete = cheapest_placed(job, tieups, job.present_columns, should_stop, cut_short)
        best = placed_once_more(job, best, job.present_columns, should_stop)
    tieup = job.tieup_of(best.pressed)
    walk = feet_on(job, (None if no_others else on_treadles(tieup, job.shafts, job.loom)) or best.pressed)
    return PlacedTieUp(tieup, walk, complete and best.cords == best.cords_at_least)


def _lightest_of_all(job: Job, columns: Columns, should_stop: ShouldStop) -> Columns:
    """Return the row that is lightest for the feet, where these columns are known to open all."""
    sheds = len(job.targets - {0})
    most = min(job.loom.treadles, max(sheds, len(columns)))
    for wished in job.wished.less():
        found = feet_first(job.treadling, most, job.loom.reach, [columns], should_stop, bounded=False, wished=wished)
        if found is not None:
            found = tidied(found, job.treadling, wished)
            return by_treadle(found.columns, range(len(found.columns)), job.loom.treadles)
    raise AssertionError("these columns do not open every shed")


def place_columns(job: Job, columns: Sequence[Column], should_stop: ShouldStop) -> PlacedTieUp:
    """Place a column for every treadle (reach 1) with fewest cords changed, then least footwork; untie nothing in vain.

    A cord that the sheds of these picks do not ask for stays untied, or tied, until a later stage asks for it.
    """
    now = job.present_columns
    ranked = tuple(sorted(columns, key=lambda column: draft_rank(job, column)))
    order = ordered(job, ranked, [] if now is None else cords_as_they_are(ranked, now), should_stop)
    pressed = by_treadle(ranked, order.places, job.loom.treadles)
    if now is not None:
        pressed = untouched(pressed, now, still_open_of(job))
    walk = feet_on(job, pressed)
    return PlacedTieUp(tieup_of(pressed, job.shafts, job.loom.action), walk, fewest_cords=False)


def stage_of(
    asked: Question, job: Job, first: int, placed: PlacedTieUp, *, fewest_cords: bool, at_section_end: bool
) -> TiedStage:
    """Put together the stage that begins at pick `first`; `fewest_cords` tells whether to say so where it is proven."""
    changes = None if job.present is None else cord_changes(job.present, placed.tieup)
    stop = first + len(job.treadling)
    return TiedStage(
        first=first,
        last=stop - 1,
        tieup=placed.tieup,
        footings=placed.walk.footings,
        sheds=shed_feet(asked.shed_of_pick[first:stop], placed.walk.footings),
        changes=changes,
        fewest_cords=fewest_cords
        and placed.fewest_cords
        and changes is not None
        and not (changes and asked.cords_in_doubt),
        at_section_end=at_section_end,
    )


def shed_feet(sheds: Sequence[Shed], footings: Sequence[Footing]) -> tuple[ShedFeet, ...]:
    """Return what each footing opens, in the order of first use.

    A shed is opened in one way throughout; only one that several pieces with the same feet do not share is not.
    """
    often = Counter(zip(sheds, footings, strict=True))
    return tuple(ShedFeet(shed, footing, picks) for (shed, footing), picks in often.items())


def feet_on(job: Job, pressed: Sequence[Column]) -> Walk:
    """Return the feet that cost least on these columns, treadle by treadle, by the model of `presses`.

    Raises AssertionError where they do not open every shed: a fault of this program.
    """
    feet = feet_fixed_on(job, pressed)
    stand = {
        target: Footing(press.left, press.right)
        for target, press in zip(dict.fromkeys(job.treadling), feet.presses, strict=True)
    }
    footings = tuple(stand[target] for target in job.treadling)
    return Walk(footings, feet.cost, travelled(footings))


def _as_it_is(job: Job) -> Columns | None:
    """Return the columns of the tie-up now on the loom where it opens every target already."""
    now = job.present_columns
    return now if now is not None and _opens_all(job, now) else None


def _opens_all(job: Job, pressed: Sequence[Column]) -> bool:
    return all(can_open(target, pressed, job.loom.reach) for target in job.targets)
