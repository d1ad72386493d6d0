"""Where a present tie-up is known: of several tie-ups, and of their orders, the one that changes fewest cords.

Then what is wished of the feet comes, then the feet, then what is nearest to the draft's order.

Lemmas and proofs: assets/mathematics.md, "Cords and places".
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from math import perm

from companion.draft.masks import Shed, count, without
from companion.remap.feet.arranged import NEVER
from companion.remap.feet.ordering import MOST_ORDERS, Order, best_order
from companion.remap.feet.walking import FixedFeet, feet_as_wished, keeps
from companion.remap.feet.walks import walks_of
from companion.remap.loom.cords import cheapest_places, forced, trimmed
from companion.remap.loom.footings import can_open
from companion.remap.loom.question import Job
from companion.remap.loom.targets import Column, Columns, by_treadle
from companion.remap.search.answers import ShouldStop

FEW_TIEUPS, MANY_TIEUPS = 16, 512
"""How many tie-ups with equally few treadles are compared: so many always, and so many at most."""

FEW_WITH_CARE = 3
"""For how many of these that change as few cords the feet are asked, where orders are too many to weigh them all."""

WEIGHING = 100_000_000
"""In between, as many as take this many picks times orders of the treadles: a second or two."""

ORDERS_AT_LEAST = 2_000
"""What numpy asks for each pick, in orders, however few orders there are."""


@dataclass(frozen=True, slots=True)
class PlacedColumns:
    """Columns as `pressed` on the loom, treadle by treadle.

    No answer inside these columns changes fewer cords than `cords_at_least`.
    """

    pressed: Columns
    cords: int
    cords_at_least: int
    unwished: bool = False
    cost: int = 0

    @property
    def weight(self) -> tuple[int, bool, int]:
        """What is compared: cords, whether the feet are other than wished, footwork."""
        return self.cords, self.unwished, self.cost


def cheapest_placed(
    job: Job, tieups: Iterable[Columns], now: Columns, should_stop: ShouldStop, cut_short: Callable[[], bool]
) -> tuple[PlacedColumns, bool]:
    """Return the best of the tie-ups, and whether these were all.

    Raises AssertionError where there are none: a fault of this program.
    """
    known: list[PlacedColumns] = []
    rough: list[tuple[int, Columns, Columns]] = []
    fewest = cords_at_least = NEVER
    complete = False
    for weighed, tieup in enumerate(tieups):
        if weighed == _most_tieups(job, len(tieup)):
            break
        columns = _in_draft_order(job, tieup)
        at_least = _cords_at_least(job, columns, now)
        if at_least <= fewest:
            if _many_orders(job, columns):
                # Feet are asked later, for the few that change fewest cords.
                pressed = _placed_roughly(job, columns, now)
                cords = _cords_between(pressed, now)
                rough.append((cords, columns, pressed))
            else:
                known.append(_place(job, columns, now, should_stop))
                cords, at_least = known[-1].cords, known[-1].cords_at_least
            cords_at_least, fewest = min(cords_at_least, at_least), min(fewest, cords)
        if should_stop():
            break
    else:
        complete = not (cut_short() or should_stop())
    for cords, columns, pressed in [one for one in rough if one[0] == fewest][:FEW_WITH_CARE]:
        known += [_placed_so(job, pressed, cords, 0), _place(job, columns, now, should_stop)]
    best = min(known, key=lambda placed: placed.weight, default=None)
    if best is None:
        raise AssertionError("no tie-up was given to choose from")
    return replace(best, cords_at_least=min(cords_at_least, best.cords)), complete


def _many_orders(job: Job, columns: Columns) -> bool:
    return job.loom.reach == 1 and perm(job.loom.treadles, len(columns)) > MOST_ORDERS


def _cords_at_least(job: Job, columns: Columns, now: Columns) -> int:
    """Return how many cords change inside these columns at least; nothing is said at reach 2."""
    return _least(_cords_needed(job, columns, now))[0] if job.loom.reach == 1 else 0


def _placed_roughly(job: Job, columns: Columns, now: Columns) -> Columns:
    """Place columns at reach 1 for fewest cords alone, and leave off what nothing needs."""
    ways = [
        trimmed(by_treadle(columns, _least(costs)[1], job.loom.treadles), now, still_open_of(job))
        for costs in (_cords_needed(job, columns, now), cords_as_they_are(columns, now))
    ]
    return min(ways, key=lambda pressed: _cords_between(pressed, now))


def _least(costs: list[list[int]]) -> tuple[int, tuple[int, ...]]:
    """Return the least that a place for each column costs, and the places."""
    places = cheapest_places(costs)
    return sum(row[place] for row, place in zip(costs, places, strict=True)), places


def _cords_between(pressed: Columns, now: Columns) -> int:
    return sum(count(column ^ old) for column, old in zip(pressed, now, strict=True) if column)


def _most_tieups(job: Job, columns: int) -> int:
    """Return how many tie-ups of so many columns are compared: fewer where one takes long."""
    orders = perm(job.loom.treadles, columns)
    if orders > MOST_ORDERS:
        return FEW_TIEUPS
    return max(FEW_TIEUPS, min(MANY_TIEUPS, WEIGHING // (len(job.treadling) * (orders + ORDERS_AT_LEAST))))


def _cords_needed(job: Job, columns: Columns, now: Columns) -> list[list[int]]:
    """Return for each column and treadle the cords that change there at least, whatever is left off the column."""
    needed = forced(columns, job.targets, 2 * job.loom.reach)
    return [
        [count(without(Shed(must), Shed(old))) + count(without(Shed(old), Shed(column))) for old in now]
        for column, must in zip(columns, needed, strict=True)
    ]


def _place(job: Job, columns: Columns, now: Columns, should_stop: ShouldStop) -> PlacedColumns:
    """Place columns for fewest cords, then leave off the cords that nothing needs and nobody has tied.

    Placed twice: for the fewest cords that are needed at least, which gives the bound, and for the columns as they are.
    """
    bound = ordered(job, columns, _cords_needed(job, columns, now), should_stop)
    as_they_are = ordered(job, columns, cords_as_they_are(columns, now), should_stop)
    at_least = bound.cords if bound.fewest_cords else 0
    ways = [_trimmed(job, columns, order, now, at_least) for order in (bound, as_they_are)]
    return min(ways, key=lambda placed: placed.weight)


def ordered(job: Job, columns: Columns, cords: list[list[int]], should_stop: ShouldStop) -> Order:
    """Return the best order of the columns; `cords[column][treadle]` change where a column is tied there."""
    walk, loom = walks_of(job.treadling), job.loom
    return best_order(columns, loom.treadles, loom.reach, walk, cords=cords, wished=job.wished, should_stop=should_stop)


def cords_as_they_are(columns: Columns, now: Columns) -> list[list[int]]:
    """Return for each column and treadle the cords that change there, nothing left off."""
    return [[count(column ^ old) for old in now] for column in columns]


def _trimmed(job: Job, columns: Columns, order: Order, now: Columns, at_least: int) -> PlacedColumns:
    pressed = trimmed(by_treadle(columns, order.places, job.loom.treadles), now, still_open_of(job))
    return _placed_so(job, pressed, _cords_between(pressed, now), at_least)


def _placed_so(job: Job, pressed: Columns, cords: int, at_least: int) -> PlacedColumns:
    feet = feet_fixed_on(job, pressed)
    return PlacedColumns(pressed, cords, at_least, not keeps(feet, job.wished), feet.cost)


def placed_once_more(job: Job, placed: PlacedColumns, now: Columns, should_stop: ShouldStop) -> PlacedColumns:
    """Place the columns once more after cords were left off: now another order may change as few and be lighter."""
    columns = tuple(filter(None, placed.pressed))
    order = ordered(job, columns, cords_as_they_are(columns, now), should_stop)
    again = _placed_so(job, by_treadle(columns, order.places, job.loom.treadles), order.cords, placed.cords_at_least)
    return again if again.weight < placed.weight else placed


def feet_fixed_on(job: Job, pressed: Sequence[Column]) -> FixedFeet:
    """Return the feet that cost least on these columns, treadle by treadle.

    Raises AssertionError where they do not open every shed: a fault of this program.
    """
    feet = feet_as_wished(walks_of(job.treadling), pressed, job.loom.reach, job.wished)
    if feet is None:
        raise AssertionError("these columns do not open every shed")
    return feet


def still_open_of(job: Job) -> Callable[[Sequence[Column], Column], bool]:
    """Return what tells whether the targets still open that a column, the second, was inside of."""
    targets = job.targets

    def still_open(pressed: Sequence[Column], column: Column) -> bool:
        return all(can_open(target, pressed, job.loom.reach) for target in targets if not column & ~target)

    return still_open


def _in_draft_order(job: Job, columns: Columns) -> Columns:
    """Return the columns as the draft has them in order; at reach 2 as they stand: there their order opens sheds."""
    if job.loom.reach > 1:
        return columns
    return tuple(sorted(filter(None, columns), key=lambda column: draft_rank(job, column)))


def draft_rank(job: Job, column: Column) -> tuple[int, int]:
    """Return what sorts columns as the draft has them in order: its own first, then by first use."""
    if column in job.draft_order:
        return 0, job.draft_order.index(column)
    first_use = next((pick for pick, target in enumerate(job.treadling) if target | column == target), 0)
    return 1, first_use
