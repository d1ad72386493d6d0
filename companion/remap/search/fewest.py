"""The fewest treadles that open all targets: their columns, and the bounds that prove it.

This is the set-basis problem (Garey & Johnson, Computers and Intractability, 1979, SP7) with unions bounded by
what two feet can press, and as hard: so the search is complete, prunes as hard as it can, and says how far it
came when it is stopped. The way:

- `targets` has put every kind of loom into one language;
- `groups` takes out what needs a treadle of its own and splits the rest into groups that do not meet;
- `lower_bounds`, and `shares` at reach 1, give each group a first lower bound and columns to start from; one treadle
  per target is an upper bound;
- `portfolio` closes the gap between them, its engines in turn;
- `pressing` finds feet for every target and thereby checks the answer, knowing nothing of how it was found.

Which of several answers comes out is fixed: the first in the order of the search, which depends on the set of
targets only and not on their order. Nothing here knows the time: `should_stop` is asked every few
nodes, and the search ends with what it knows when it says yes.

Lemmas and proofs: assets/mathematics.md, "The question".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.remap.errors import RemapError
from companion.remap.loom.pressing import feet_for
from companion.remap.loom.targets import Columns, Target
from companion.remap.search.answers import (
    OnProgress,
    Outcome,
    OutOfBudget,
    ProvedImpossible,
    SearchProgress,
    ShouldStop,
    Solved,
    never_stop,
    tell_nobody,
)
from companion.remap.search.bounds import Bounds
from companion.remap.search.groups import groups_of, standing_alone
from companion.remap.search.portfolio import portfolio_of
from companion.remap.search.watch import SearchPausedError, Watch

MOST_TREADLES = 20
"""The most treadles of a loom that this program is made for; the search itself knows no such limit."""


def fewest_treadles(
    targets: Sequence[Target],
    reach: int,
    *,
    most: int | None = None,
    known: Columns | None = None,
    should_stop: ShouldStop = never_stop,
    progress: OnProgress = tell_nobody,
) -> Outcome:
    """Find the fewest treadles that open every one of these targets: 6 for all 14 sheds of four rising shafts.

    `targets` may repeat. With `most` the search ends as soon as it is proved that so many treadles do not do. What
    comes out is never worse than columns that are `known` to open all targets. Raises RemapError for a reach other than
    1 or 2.
    """
    return _BasisSearch(targets, reach, should_stop, known).closed_in(most, None, progress)


def fits(targets: Sequence[Target], reach: int, treadles: int, *, should_stop: ShouldStop = never_stop) -> Outcome:
    """Decide whether this many treadles open every one of these targets; the answer need not use the fewest.

    Raises RemapError as `fewest_treadles` does.
    """
    return _BasisSearch(targets, reach, should_stop).closed_in(treadles, treadles, tell_nobody)


def minimal_answers(
    targets: Sequence[Target], reach: int, treadles: int, *, should_stop: ShouldStop = never_stop
) -> Iterator[Columns]:
    """Yield different answers with the fewest treadles, if `treadles` allow them: 3 for all 14 sheds of four shafts.

    Of answers that differ only in cords that some tie-up could do without, the one with more cords stands for all.
    The answers end when there are no more or when `should_stop` says so; take as many as are wanted. Raises
    RemapError as `fewest_treadles` does.
    """
    search = _BasisSearch(targets, reach, should_stop)
    if isinstance(search.closed_in(treadles, None, tell_nobody), Solved):
        yield from search.all_answers()


class _BasisSearch:
    """One question to the search: what stands alone, and a portfolio for every group."""

    def __init__(
        self, targets: Sequence[Target], reach: int, should_stop: ShouldStop, known: Columns | None = None
    ) -> None:
        if reach not in (1, 2):
            raise RemapError(f"a foot that presses {reach} treadles", mend="say a reach of 1 or 2")
        self._targets = frozenset(targets)
        self._reach = reach
        self._watch = Watch(should_stop)
        self._known = known
        pressed = sorted((target for target in self._targets if target), key=lambda t: (t.bit_count(), t))
        self._alone = standing_alone(pressed, reach)
        apart = groups_of([target for target in pressed if target not in self._alone])
        self._groups = [portfolio_of(members, reach, self._watch) for members in apart]

    @property
    def _bounds(self) -> Bounds:
        known = [group.known for group in self._groups]
        alone = len(self._alone)
        best = alone + sum(one.best for one in known)
        if self._known is not None:
            best = min(best, len(self._known))
        return Bounds(alone + sum(one.at_least for one in known), best)

    def closed_in(self, most: int | None, enough: int | None, progress: OnProgress) -> Outcome:
        """Close the gap between the bounds, but stop once `enough` treadles do or more than `most` are needed."""
        told = None
        while not self._watch.stopped:
            bounds = self._bounds
            if bounds != told:
                progress(SearchProgress(bounds, self._watch.nodes))
                told = bounds
            if most is not None and bounds.at_least > most:
                return ProvedImpossible(Bounds(bounds.at_least, None), self._watch.nodes)
            if bounds.proven or (enough is not None and bounds.best is not None and bounds.best <= enough):
                return Solved(self._answer(), bounds, self._watch.nodes)
            self._take_turns(enough)
        return OutOfBudget(self._answer(), self._bounds, self._watch.nodes)

    def _take_turns(self, enough: int | None) -> None:
        for group in self._groups:
            known = group.known
            if not known.bounds.proven and not self._watch.stopped:
                # What the other groups need at least is not to be had here.
                group.turn(None if enough is None else enough - self._bounds.at_least + known.at_least)

    def all_answers(self) -> Iterator[Columns]:
        """Yield the answers that combine the answers of the groups, the one already known first."""
        first = self._answer()
        yield first
        seen = {self._alike(first)}
        try:
            for bests in _combined([group.answers() for group in self._groups]):
                answer = self._answer(bests)
                if self._alike(answer) not in seen:
                    seen.add(self._alike(answer))
                    yield answer
        except SearchPausedError:
            return

    def _alike(self, answer: Columns) -> Columns:
        """Return what tells answers apart: the columns, in their order only where the order matters."""
        return tuple(sorted(answer)) if self._reach == 1 else min(answer, answer[::-1])

    def _answer(self, bests: Sequence[Columns] = ()) -> Columns:
        groups = bests or [group.known.columns for group in self._groups]
        columns = (*(column for best in groups for column in best), *self._alone)
        if not bests and self._known is not None and len(self._known) < len(columns):
            columns = self._known
        if any(feet_for(target, columns, self._reach) is None for target in self._targets):
            raise AssertionError("the search gave a tie-up that does not open every shed")
        return columns


def _combined(groups: Sequence[Iterator[Columns]]) -> Iterator[tuple[Columns, ...]]:
    """Yield every way to take an answer from each group, the last group's changing fastest; none is asked for early."""
    if not groups:
        yield ()
        return
    known: list[tuple[Columns, ...]] = []
    others = _combined(groups[1:])
    for first in groups[0]:
        for rest in known:
            yield (first, *rest)
        for rest in others:
            known.append(rest)
            yield (first, *rest)
