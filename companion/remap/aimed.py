"""A tie-up for an aim: which columns, on which treadles, under which feet, for a draft that fits (see `aim`)."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from companion.remap.aim import Aim
from companion.remap.errors import NoSuchTieUpError
from companion.remap.feet.feet_first import lightest_of_all
from companion.remap.feet.feet_search import LightestFound
from companion.remap.feet.least_footwork import least_footwork
from companion.remap.feet.place_tieup import PlacedTieUp, Walk, stage_of
from companion.remap.feet.repairs import Repaired, cords_between_rows, fewest_cords
from companion.remap.feet.tied_stage import Footwork, TiedStage
from companion.remap.feet.walking import FixedFeet, best_feet_on, feet_as_wished, travelled
from companion.remap.feet.walks import walks_of
from companion.remap.loom.cords import cheapest_places
from companion.remap.loom.loom import Footing
from companion.remap.loom.question import Job, Question, on_treadles
from companion.remap.loom.targets import UNTIED, Column, Columns, by_treadle, columns_of
from companion.remap.loom.wished import AS_IT_COMES, WishedFeet
from companion.remap.search.answers import ShouldStop

PlaceFewest = Callable[[], PlacedTieUp]
"""Places the best of the tie-ups with fewest treadles."""


def own_columns(asked: Question) -> Columns | None:
    """Return the draft's own tie-up as it stands; None where it has none that two feet can press on this loom."""
    columns = asked.draft_order
    if not columns or len(columns) > asked.loom.treadles:
        return None
    return columns if best_feet_on(walks_of(asked.treadling), columns, asked.loom.reach) is not None else None


def tied_for(
    aim: Aim, asked: Question, fewest: Sequence[Columns], place_fewest: PlaceFewest, should_stop: ShouldStop
) -> TiedStage:
    """Return the one stage of a draft that fits; `fewest` are the answers with fewest treadles, by reach.

    Raises NoSuchTieUpError where the draft has no tie-up of its own for this loom and it is asked for.
    """
    job = asked.job(0, len(asked.treadling), asked.present)
    walk, reach = walks_of(asked.treadling), asked.loom.reach
    own = own_columns(asked)
    feet: FixedFeet | None = None
    at_least: int | None = None
    match aim:
        case Aim.FEET:
            found = _lightest_on(asked, asked.loom.treadles, own, fewest, should_stop)
            feet, at_least = found.feet, found.at_least
            placed = _placed(job, found.columns, feet)
        case Aim.CORDS:
            repaired, placed = _repaired(job, fewest, place_fewest, should_stop)
            if repaired is not None:
                feet = repaired.feet
                at_least = feet.cost if repaired.lightest and not asked.cords_in_doubt else None
        case Aim.TREADLES if asked.present is None:
            few = min(map(len, fewest))
            few_own = None if own is None or len(own) > few else own
            found = _lightest_on(asked, few, few_own, [row for row in fewest if len(row) == few], should_stop)
            feet, at_least = found.feet, found.at_least
            placed = _placed(job, found.columns, feet)
        case Aim.TREADLES:
            placed = place_fewest()
        case Aim.DRAFT:
            feet = None if own is None else feet_as_wished(walk, own, reach, job.wished)
            if own is None or feet is None:
                raise NoSuchTieUpError(
                    "the draft has no tie-up of its own that two feet can press on this loom", mend="choose another aim"
                )
            placed, at_least = _placed(job, own, feet, whole=True), feet.cost if feet.complete else None
    stage = stage_of(asked, job, 0, placed, fewest_cords=True, at_section_end=False)
    footwork = _footwork(asked, job, stage, own, placed.walk.cost, at_least)
    if aim is Aim.FEET and footwork.unwished_cost is not None:
        free = _lightest_on(asked, asked.loom.treadles, own, fewest, should_stop, AS_IT_COMES)
        footwork = replace(footwork, unwished_cost=min(footwork.unwished_cost, free.cost))
    return replace(stage, footwork=footwork)


def _lightest_on(
    asked: Question,
    treadles: int,
    own: Columns | None,
    fewest: Sequence[Columns],
    should_stop: ShouldStop,
    wish: WishedFeet | None = None,
) -> LightestFound:
    """Return the lightest tie-up that keeps most of what is wished of the feet, by the question where nobody says."""
    for wished in (asked.wished if wish is None else wish).less():
        found = lightest_of_all(
            asked.treadling,
            treadles,
            asked.loom.reach,
            own=own,
            fewest=fewest,
            should_stop=should_stop,
            wished=wished,
        )
        if found is not None:
            return found
    raise AssertionError("the tie-up with fewest treadles does not open every shed")


def _placed(
    job: Job, columns: Columns, feet: FixedFeet, *, fewest_cords: bool = False, whole: bool = False
) -> PlacedTieUp:
    """Return a row of columns with the feet on it, `whole` or with treadles in vain left untied, or as they are now."""
    stand = {
        target: Footing(press.left, press.right)
        for target, press in zip(dict.fromkeys(job.treadling), feet.presses, strict=True)
    }
    footings = tuple(stand[target] for target in job.treadling)
    pressed = {treadle for footing in stand.values() for treadle in footing.left + footing.right}
    row = by_treadle(columns, range(len(columns)), job.loom.treadles)
    kept = tuple(column if whole or treadle in pressed else UNTIED for treadle, column in enumerate(row))
    walk = Walk(footings, feet.cost, travelled(footings))
    return PlacedTieUp(job.tieup_of(kept), walk, fewest_cords)


def _repaired(
    job: Job, fewest: Sequence[Columns], place_fewest: PlaceFewest, should_stop: ShouldStop
) -> tuple[Repaired | None, PlacedTieUp]:
    """Return what changes fewest cords. Where that is not proven the tie-ups with fewest treadles are weighed too."""
    now, reach = job.present_columns, job.loom.reach
    if now is None:
        raise AssertionError("fewest cords are asked for without a present tie-up")
    seeds = [_hung(columns, now, reach) for columns in fewest if len(columns) <= len(now)]
    found = fewest_cords(job.treadling, now, reach, seeds, should_stop, job.wished)
    if found is None or found.cords > found.cords_at_least:
        other = place_fewest()
        row = columns_of(other.tieup, job.shafts, job.loom.action)
        if found is None or cords_between_rows(row, now) < found.cords:
            return None, replace(other, fewest_cords=False)
    proven = found.cords == found.cords_at_least
    return found, _placed(job, found.columns, found.feet, fewest_cords=proven)


def _hung(columns: Columns, now: Columns, reach: int) -> Columns:
    """Return a row with these columns, the other treadles as they are: cheaply placed, or in their order at reach 2."""
    costs = [[(column ^ old).bit_count() for old in now] for column in columns]
    places = cheapest_places(costs) if reach == 1 else tuple(range(len(columns)))
    row = list(now)
    for column, treadle in zip(columns, places, strict=True):
        row[treadle] = Column(column)
    return tuple(row)


def _footwork(
    asked: Question, job: Job, stage: TiedStage, own: Columns | None, cost: int, at_least: int | None
) -> Footwork:
    """Tell what these feet cost; where no bound is known for the aim, the one for all tie-ups is told."""
    loom, walk, footings = asked.loom, walks_of(asked.treadling), stage.footings
    feet = None if own is None else best_feet_on(walk, own, loom.reach)
    tied = on_treadles(stage.tieup, job.shafts, loom) if asked.wished.anything else None
    unwished = None if tied is None else best_feet_on(walk, tied, loom.reach)
    return Footwork(
        cost=cost,
        at_least=least_footwork(asked.treadling, loom.treadles, loom.reach, cost) if at_least is None else at_least,
        both_feet_picks=sum(bool(footing.left and footing.right) for footing in footings),
        travel_widths=travelled(footings),
        draft_cost=None if feet is None else feet.cost,
        unwished_cost=None if unwished is None else unwished.cost,
    )
