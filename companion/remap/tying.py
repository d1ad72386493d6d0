"""From sheds that fit to one stage tied for a weaver: which of the tie-ups, which treadle, which foot.

Preference, first to last: fewest treadles; where the tie-up now on the loom is given, fewest cords changed; least
footwork; nearest to the draft's order. Treadles to spare are given sheds of their own only where no present tie-up is
given, because each would cost cords.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

from companion.draft.masks import Shed, count
from companion.remap.answers import ShouldStop
from companion.remap.cords import cord_changes
from companion.remap.footings import columns_of, footings_for
from companion.remap.footwork import Walk, best_feet
from companion.remap.loom import Footing, Loom, TieUp
from companion.remap.ordering import Order, best_order
from companion.remap.remapped import Legwork, ShedFeet, TiedStage
from companion.remap.spares import with_spares
from companion.remap.targets import tie_of

MOST_TIEUPS = 12
"""How many tie-ups with equally few treadles are compared."""


@dataclass(frozen=True, slots=True)
class Job:
    """The picks to tie for: a target per pick, on the loom, with `shafts` of it in use and the tie-up now on it."""

    loom: Loom
    shafts: int
    treadling: tuple[int, ...]
    present: TieUp | None
    draft_order: tuple[int, ...] = ()
    """The draft's own columns in their order, which ours follow where nothing speaks against it."""


@dataclass(frozen=True, slots=True)
class _Placed:
    columns: tuple[int, ...]
    order: Order


def tie(job: Job, tieups: Iterable[TieUp], should_stop: ShouldStop) -> tuple[TieUp, Walk, Legwork, bool]:
    """Choose among tie-ups that open all targets; return it placed on the loom, the feet, the legwork, cords proven.

    Cords are proven fewest where all tie-ups were weighed and each in all orders, or where none has to change.
    """
    best: _Placed | None = None
    kept = _as_it_is(job)
    if kept is not None:
        best = _Placed(kept, Order(tuple(range(len(kept))), 0, 0, False))
    weighed = 0
    all_weighed = True
    if best is None:
        for tieup in tieups:
            if weighed == MOST_TIEUPS or (weighed and should_stop()):
                all_weighed = False
                break
            weighed += 1
            for columns in _grown(job, tieup):
                order = best_order(
                    columns,
                    job.loom.treadles,
                    job.loom.reach,
                    job.treadling,
                    cords=_cord_costs(job, columns),
                    should_stop=should_stop,
                )
                if best is None or (order.cords, order.cost) < (best.order.cords, best.order.cost):
                    best = _Placed(columns, order)
    if best is None:
        raise AssertionError("no tie-up was given to choose from")
    pressed = by_treadle(best.columns, best.order.places, job.loom.treadles)
    walk = feet_on(job, pressed)
    legwork = _legwork(job, best, walk, weighed, all_weighed)
    cords_proven = best.order.cords == 0 or (all_weighed and best.order.proven)
    return _tieup_of(job, pressed), walk, legwork, cords_proven


def stage_of(
    job: Job,
    first: int,
    tieup: TieUp,
    walk: Walk,
    legwork: Legwork,
    sheds: Sequence[ShedFeet],
    *,
    fewest_cords: bool,
    at_section_end: bool,
) -> TiedStage:
    """Put together the stage that begins at pick `first`."""
    changes = None if job.present is None else cord_changes(job.present, tieup)
    return TiedStage(
        first=first,
        last=first + len(job.treadling) - 1,
        tieup=tieup,
        footings=walk.footings,
        sheds=tuple(sheds),
        changes=changes,
        fewest_cords=fewest_cords and changes is not None,
        at_section_end=at_section_end,
        legwork=legwork,
    )


def shed_feet(sheds: Sequence[Shed], footings: Sequence[Footing]) -> tuple[ShedFeet, ...]:
    """Return each shed once, in the order of first use, with its commonest footing (the first of equals)."""
    used: dict[Shed, Counter[Footing]] = {}
    for shed, footing in zip(sheds, footings, strict=True):
        used.setdefault(shed, Counter())[footing] += 1
    return tuple(ShedFeet(shed, feet.most_common(1)[0][0], feet.total(), len(feet) == 1) for shed, feet in used.items())


def by_treadle(columns: Sequence[int], places: Sequence[int], treadles: int) -> tuple[int, ...]:
    """Return the column of every treadle of the loom, 0 where none is placed."""
    placed = [0] * treadles
    for column, treadle in zip(columns, places, strict=True):
        placed[treadle] = column
    return tuple(placed)


def feet_on(job: Job, pressed: Sequence[int]) -> Walk:
    """Return the feet that cost least on these columns, treadle by treadle."""
    choices = {target: footings_for(target, pressed, job.loom.reach) for target in set(job.treadling)}
    return best_feet(job.treadling, choices, job.loom.treadles)


def _as_it_is(job: Job) -> tuple[int, ...] | None:
    """Return the columns of the tie-up now on the loom where it opens every target already."""
    if job.present is None:
        return None
    columns = columns_of(job.present, job.shafts, job.loom.action)
    padded = by_treadle(columns, range(len(columns)), job.loom.treadles)
    good = all(footings_for(target, padded, job.loom.reach) for target in set(job.treadling))
    return padded if good else None


def _grown(job: Job, tieup: TieUp) -> list[tuple[int, ...]]:
    """Return the columns of a tie-up in draft order, and the same with spare treadles put to use."""
    columns = columns_of(tieup, job.shafts, job.loom.action)
    if job.loom.reach == 1:
        columns = tuple(sorted(filter(None, columns), key=lambda column: _rank(job, column)))
    if job.present is not None or len(columns) >= job.loom.treadles:
        return [columns]
    grown = with_spares(columns, job.loom.treadles, job.treadling, job.loom.reach)
    if job.loom.reach == 1:
        grown = tuple(sorted(grown, key=lambda column: _rank(job, column)))
    return [columns] if grown == columns else [columns, grown]


def _rank(job: Job, column: int) -> tuple[int, int]:
    if column in job.draft_order:
        return 0, job.draft_order.index(column)
    first_use = next((pick for pick, target in enumerate(job.treadling) if target | column == target), 0)
    return 1, first_use


def _cord_costs(job: Job, columns: Sequence[int]) -> list[list[int]]:
    if job.present is None:
        return []
    now = columns_of(job.present, job.shafts, job.loom.action)
    now = by_treadle(now, range(len(now)), job.loom.treadles)
    return [[count(column ^ old) for old in now] for column in columns]


def _tieup_of(job: Job, pressed: Sequence[int]) -> TieUp:
    """Return the ties of all treadles; one that is not used keeps what it has."""
    tied = [tie_of(column, job.shafts, job.loom.action) for column in pressed]
    if job.present is not None:
        for treadle, tie_now in enumerate(job.present):
            if not pressed[treadle]:
                tied[treadle] = tie_now
    return tuple(tied)


def _legwork(job: Job, best: _Placed, walk: Walk, weighed: int, all_weighed: bool) -> Legwork:
    margin = (job.loom.treadles - len(best.columns)) // 2
    in_draft_order = by_treadle(best.columns, range(margin, margin + len(best.columns)), job.loom.treadles)
    before = feet_on(job, in_draft_order)
    return Legwork(
        cost=walk.cost,
        travel_widths=walk.travel_widths,
        draft_order_cost=before.cost,
        draft_order_travel_widths=before.travel_widths,
        best_order=best.order.proven,
        tieups_weighed=weighed,
        all_tieups=all_weighed,
    )


def keeping_most(previous: TieUp, job: Job) -> TieUp | None:
    """Return a tie-up for reach 1 that leaves as many treadles of the previous one as they are as can be.

    Treadles are given up two, three … at a time until the targets that the rest do not open each have a
    treadle. None where that needs more treadles than the loom has.
    """
    columns = columns_of(previous, job.shafts, job.loom.action)
    columns = by_treadle(columns, range(len(columns)), job.loom.treadles)
    targets = list(dict.fromkeys(target for target in job.treadling if target))
    for given_up in range(len(columns) + 1):
        for treadles in combinations(range(len(columns)), given_up):
            kept = [0 if treadle in treadles else column for treadle, column in enumerate(columns)]
            missing = [target for target in targets if not footings_for(target, kept, job.loom.reach)]
            if len(missing) <= given_up:
                for treadle, target in zip(treadles, missing, strict=False):
                    kept[treadle] = target
                return tuple(tie_of(column, job.shafts, job.loom.action) for column in kept if column)
    return None
