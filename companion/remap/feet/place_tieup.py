"""From sheds that fit to one stage tied for a weaver: which of the tie-ups, which treadle, which foot.

Where no present tie-up is known the lightest for the feet is taken, as everywhere (`feet_first`). Where it is, fewest
treadles come first, then fewest cords changed, then what is wished of the feet, then the feet; then what is nearest to
the draft's order. Treadles to spare stay free there, because each would cost cords.

Lemmas and proofs: assets/mathematics.md, "Cords and places".
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from math import perm

from companion.draft.masks import Shed, count, without
from companion.remap.feet.feet_first import tidied
from companion.remap.feet.feet_search import feet_first
from companion.remap.feet.ordering import MOST_ORDERS, Order, best_order
from companion.remap.feet.tied_stage import ShedFeet, TiedStage
from companion.remap.feet.walking import FixedFeet, feet_as_wished, keeps, travelled
from companion.remap.feet.walks import walks_of
from companion.remap.loom.cords import cheapest_places, cord_changes, forced, trimmed, untouched
from companion.remap.loom.footings import can_open
from companion.remap.loom.loom import Footing, TieUp
from companion.remap.loom.question import Job, Question, on_treadles
from companion.remap.loom.targets import Column, Columns, by_treadle, tieup_of
from companion.remap.search.answers import ShouldStop

FEW_TIEUPS, MANY_TIEUPS = 16, 512
"""How many tie-ups with equally few treadles are compared: so many always, and so many at most."""

WEIGHING = 100_000_000
"""In between, as many as take this many picks times orders of the treadles: a second or two."""

ORDERS_AT_LEAST = 2_000
"""What numpy asks for each pick, in orders, however few orders there are."""


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


@dataclass(frozen=True, slots=True)
class _Placed:
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
        best = _Placed(kept, 0, 0)
    elif job.present_columns is None:
        best = _Placed(_lightest_of_all(job, next(iter(tieups)), should_stop), 0, 0)
    else:
        best, complete = _cheapest(job, tieups, job.present_columns, should_stop, cut_short)
        best = _placed_once_more(job, best, job.present_columns, should_stop)
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


def _cheapest(
    job: Job, tieups: Iterable[Columns], now: Columns, should_stop: ShouldStop, cut_short: Callable[[], bool]
) -> tuple[_Placed, bool]:
    """Return the best of the tie-ups, and whether these were all."""
    best: _Placed | None = None
    cords_at_least: int | None = None
    weighed = 0
    for tieup in tieups:
        if weighed == _most_tieups(job, len(tieup)):
            break
        weighed += 1
        columns = _in_draft_order(job, tieup)
        if best is not None and _changes_more(job, columns, now, best.cords):
            continue
        placed = _place(job, columns, now, should_stop)
        if cords_at_least is None or placed.cords_at_least < cords_at_least:
            cords_at_least = placed.cords_at_least
        if best is None or placed.weight < best.weight:
            best = placed
        if should_stop():
            break
    else:
        if best is not None and cords_at_least is not None:
            return replace(best, cords_at_least=cords_at_least), not (cut_short() or should_stop())
    if best is None:
        raise AssertionError("no tie-up was given to choose from")
    return best, False


def _most_tieups(job: Job, columns: int) -> int:
    """Return how many tie-ups of so many columns are compared: fewer where one takes long."""
    orders = perm(job.loom.treadles, columns)
    if orders > MOST_ORDERS:
        return FEW_TIEUPS
    return max(FEW_TIEUPS, min(MANY_TIEUPS, WEIGHING // (len(job.treadling) * (orders + ORDERS_AT_LEAST))))


def _changes_more(job: Job, columns: Columns, now: Columns, cords: int) -> bool:
    """Tell, where that is quick, whether every answer inside these columns changes more cords than so many."""
    if job.loom.reach != 1:
        return False
    costs = _cords_needed(job, columns, now)
    return sum(row[place] for row, place in zip(costs, cheapest_places(costs), strict=True)) > cords


def _cords_needed(job: Job, columns: Columns, now: Columns) -> list[list[int]]:
    """Return for each column and treadle the cords that change there at least, whatever is left off the column."""
    needed = forced(columns, job.targets, 2 * job.loom.reach)
    return [
        [count(without(Shed(must), Shed(old))) + count(without(Shed(old), Shed(column))) for old in now]
        for column, must in zip(columns, needed, strict=True)
    ]


def _place(job: Job, columns: Columns, now: Columns, should_stop: ShouldStop) -> _Placed:
    """Place columns for fewest cords, then leave off the cords that nothing needs and nobody has tied.

    Placed twice: for the fewest cords that are needed at least, which gives the bound, and for the columns as they are.
    """
    bound = _ordered(job, columns, _cords_needed(job, columns, now), should_stop)
    as_they_are = _ordered(job, columns, _cords_as_they_are(columns, now), should_stop)
    at_least = bound.cords if bound.fewest_cords else 0
    ways = [_trimmed(job, columns, order, now, at_least) for order in (bound, as_they_are)]
    return min(ways, key=lambda placed: placed.weight)


def _ordered(job: Job, columns: Columns, cords: list[list[int]], should_stop: ShouldStop) -> Order:
    walk, loom = walks_of(job.treadling), job.loom
    return best_order(columns, loom.treadles, loom.reach, walk, cords=cords, wished=job.wished, should_stop=should_stop)


def _cords_as_they_are(columns: Columns, now: Columns) -> list[list[int]]:
    return [[count(column ^ old) for old in now] for column in columns]


def _trimmed(job: Job, columns: Columns, order: Order, now: Columns, at_least: int) -> _Placed:
    pressed = trimmed(by_treadle(columns, order.places, job.loom.treadles), now, lambda some: _opens_all(job, some))
    cords = sum(count(column ^ old) for column, old in zip(pressed, now, strict=True) if column)
    return _placed_so(job, pressed, cords, at_least)


def _placed_so(job: Job, pressed: Columns, cords: int, at_least: int) -> _Placed:
    feet = _feet_on(job, pressed)
    return _Placed(pressed, cords, at_least, not keeps(feet, job.wished), feet.cost)


def _placed_once_more(job: Job, placed: _Placed, now: Columns, should_stop: ShouldStop) -> _Placed:
    """Place the columns once more after cords were left off: now another order may change as few and be lighter."""
    columns = tuple(filter(None, placed.pressed))
    order = _ordered(job, columns, _cords_as_they_are(columns, now), should_stop)
    again = _placed_so(job, by_treadle(columns, order.places, job.loom.treadles), order.cords, placed.cords_at_least)
    return again if again.weight < placed.weight else placed


def place_columns(job: Job, columns: Sequence[Column], should_stop: ShouldStop) -> PlacedTieUp:
    """Place a column for every treadle (reach 1) with fewest cords changed, then least footwork; untie nothing in vain.

    A cord that the sheds of these picks do not ask for stays untied, or tied, until a later stage asks for it.
    """
    now = job.present_columns
    ranked = tuple(sorted(columns, key=lambda column: _rank(job, column)))
    order = _ordered(job, ranked, [] if now is None else _cords_as_they_are(ranked, now), should_stop)
    pressed = by_treadle(ranked, order.places, job.loom.treadles)
    if now is not None:
        pressed = untouched(pressed, now, lambda some: _opens_all(job, some))
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
    feet = _feet_on(job, pressed)
    stand = {
        target: Footing(press.left, press.right)
        for target, press in zip(dict.fromkeys(job.treadling), feet.presses, strict=True)
    }
    footings = tuple(stand[target] for target in job.treadling)
    return Walk(footings, feet.cost, travelled(footings))


def _feet_on(job: Job, pressed: Sequence[Column]) -> FixedFeet:
    feet = feet_as_wished(walks_of(job.treadling), pressed, job.loom.reach, job.wished)
    if feet is None:
        raise AssertionError("these columns do not open every shed")
    return feet


def _as_it_is(job: Job) -> Columns | None:
    """Return the columns of the tie-up now on the loom where it opens every target already."""
    now = job.present_columns
    return now if now is not None and _opens_all(job, now) else None


def _opens_all(job: Job, pressed: Sequence[Column]) -> bool:
    return all(can_open(target, pressed, job.loom.reach) for target in job.targets)


def _in_draft_order(job: Job, columns: Columns) -> Columns:
    """Return the columns as the draft has them in order; at reach 2 as they stand: there their order opens sheds."""
    if job.loom.reach > 1:
        return columns
    return tuple(sorted(filter(None, columns), key=lambda column: _rank(job, column)))


def _rank(job: Job, column: Column) -> tuple[int, int]:
    if column in job.draft_order:
        return 0, job.draft_order.index(column)
    first_use = next((pick for pick, target in enumerate(job.treadling) if target | column == target), 0)
    return 1, first_use
