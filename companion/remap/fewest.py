"""The fewest treadles that open all sheds of a draft, with the tie-up and the feet, and a proof.

This is the set-basis problem (Garey & Johnson, Computers and Intractability, 1979, SP7) with unions bounded by
what two feet can press, and as hard: so the search is complete, prunes as hard as it can, and says how far it
came when it is stopped. The way: `targets` puts every loom into one language; `search_pairs` (reach 1) and
`search_runs` (reach 2) decide whether n treadles do; here n climbs from a lower bound until they do, so
that the first answer is proven to be the fewest.

Which of several answers comes out is fixed: the first in the order of the search, which depends on the set of
sheds only and not on their order. Nothing here knows the time: `should_stop` is asked every few hundred
nodes, and the search ends with what it knows when it says yes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.draft.masks import Shed
from companion.draft.model import distinct
from companion.remap.answers import (
    Answer,
    OnProgress,
    Outcome,
    OutOfBudget,
    Progress,
    ProvedImpossible,
    ShouldStop,
    Solved,
    never_stop,
    tell_nobody,
)
from companion.remap.errors import RemapError
from companion.remap.loom import Action, Footing
from companion.remap.pressing import feet_for
from companion.remap.search_pairs import columns_for_pairs
from companion.remap.search_runs import columns_for_runs
from companion.remap.search_watch import SearchStoppedError, Watch
from companion.remap.targets import targets_of, tie_of

MOST_TREADLES = 20
"""The most treadles this program handles."""


def fewest_treadles(
    sheds: Sequence[Shed],
    loom_shafts: int,
    action: Action,
    reach: int,
    *,
    most: int | None = None,
    should_stop: ShouldStop = never_stop,
    progress: OnProgress = tell_nobody,
) -> Outcome:
    """Find the fewest treadles that open every one of these sheds: 6 for all 14 sheds of four rising shafts.

    `sheds` may repeat. `most` is the most treadles accepted (default 20). Raises RemapError for a reach other
    than 1 or 2, for a shed beyond the loom's shafts and for more than 20 treadles.
    """
    wanted = distinct(tuple(sheds))
    most = _checked(reach, most)
    if action is Action.LEVERS:
        return Solved(Answer((), wanted, tuple(Footing() for _ in wanted)), 0)
    targets = _wanted_targets(wanted, loom_shafts, action)
    watch = Watch(should_stop)
    at_least = 0
    try:
        for treadles in range(most + 1):
            at_least = treadles
            progress(Progress(None, at_least, watch.nodes))
            columns = _decide(targets, treadles, reach, watch)
            if columns is not None:
                answer = _answer(wanted, columns, loom_shafts, action, reach)
                progress(Progress(treadles, treadles, watch.nodes))
                return Solved(answer, treadles, watch.nodes)
    except SearchStoppedError:
        return OutOfBudget(at_least, None, watch.nodes)
    return ProvedImpossible(most + 1, watch.nodes)


def fits(
    sheds: Sequence[Shed],
    loom_shafts: int,
    action: Action,
    reach: int,
    treadles: int,
    *,
    should_stop: ShouldStop = never_stop,
) -> Outcome:
    """Decide whether this many treadles open every one of these sheds; the answer need not use the fewest."""
    wanted = distinct(tuple(sheds))
    treadles = _checked(reach, treadles)
    if action is Action.LEVERS:
        return Solved(Answer((), wanted, tuple(Footing() for _ in wanted)), 0)
    targets = _wanted_targets(wanted, loom_shafts, action)
    watch = Watch(should_stop)
    try:
        columns = _decide(targets, treadles, reach, watch)
    except SearchStoppedError:
        return OutOfBudget(0, None, watch.nodes)
    if columns is None:
        return ProvedImpossible(treadles + 1, watch.nodes)
    return Solved(_answer(wanted, columns, loom_shafts, action, reach), 0, watch.nodes)


def minimal_answers(
    sheds: Sequence[Shed],
    loom_shafts: int,
    action: Action,
    reach: int,
    treadles: int,
    *,
    should_stop: ShouldStop = never_stop,
) -> Iterator[Answer]:
    """Yield different answers with at most `treadles` treadles, best first in the order of the search.

    Ends when there are no more or when `should_stop` says so; take as many as are wanted.
    """
    outcome = fits(sheds, loom_shafts, action, reach, treadles, should_stop=should_stop)
    if isinstance(outcome, Solved):
        yield outcome.answer


def _checked(reach: int, treadles: int | None) -> int:
    if reach not in (1, 2):
        raise RemapError(f"a foot that presses {reach} treadles", mend="say a reach of 1 or 2")
    if treadles is None:
        return MOST_TREADLES
    if not 0 <= treadles <= MOST_TREADLES:
        raise RemapError(f"{treadles} treadles", mend=f"say 0 to {MOST_TREADLES}")
    return treadles


def _wanted_targets(sheds: tuple[Shed, ...], shafts: int, action: Action) -> tuple[int, ...]:
    """Return the targets that must be pressed, largest first: an order that does not depend on that of `sheds`."""
    targets = {target for target in targets_of(sheds, shafts, action) if target}
    return tuple(sorted(targets, key=lambda target: (-target.bit_count(), target)))


def _decide(targets: tuple[int, ...], treadles: int, reach: int, watch: Watch) -> list[int] | None:
    if reach == 1:
        return columns_for_pairs(targets, treadles, watch)
    return columns_for_runs(targets, treadles, watch)


def _answer(sheds: tuple[Shed, ...], columns: Sequence[int], shafts: int, action: Action, reach: int) -> Answer:
    footings = []
    for target in targets_of(sheds, shafts, action):
        footing = feet_for(target, columns, reach)
        if footing is None:
            raise AssertionError("the search gave a tie-up that does not open every shed")
        footings.append(footing)
    return Answer(tuple(tie_of(column, shafts, action) for column in columns), sheds, tuple(footings))
