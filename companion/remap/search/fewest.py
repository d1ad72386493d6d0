"""The fewest treadles that open all sheds of a draft, with the tie-up and the feet, and a proof.

This is the set-basis problem (Garey & Johnson, Computers and Intractability, 1979, SP7) with unions bounded by
what two feet can press, and as hard: so the search is complete, prunes as hard as it can, and says how far it
came when it is stopped. The way:

- `targets` puts every kind of loom into one language;
- `groups` takes out what needs a treadle of its own and splits the rest into groups that do not meet;
- `bounds`, and `shares` at reach 1, give each group a first lower bound and columns to start from; one treadle per
  target is an upper bound;
- `portfolio` (reach 1) and `rows` (reach 2) close the gap between them, turn by turn;
- `pressing` finds the feet for every shed and thereby checks the answer, knowing nothing of how it was found.

Which of several answers comes out is fixed: the first in the order of the search, which depends on the set of
sheds only and not on their order. Nothing here knows the time: `should_stop` is asked every few
nodes, and the search ends with what it knows when it says yes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice, product

from companion.draft.masks import Shed
from companion.draft.model import distinct
from companion.remap.errors import RemapError
from companion.remap.loom.loom import Action, Footing
from companion.remap.loom.pressing import feet_for
from companion.remap.loom.targets import targets_of, tie_of
from companion.remap.search.answers import (
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
from companion.remap.search.groups import groups_of, standing_alone
from companion.remap.search.pairs import Columns
from companion.remap.search.portfolio import Portfolio
from companion.remap.search.rows import Row
from companion.remap.search.watch import SearchStoppedError, Watch

MOST_TREADLES = 20
"""The most treadles of a loom that this program is made for; the search itself knows no such limit."""

MOST_VARIANTS = 64
"""How many different ways are kept for each group of sheds when answers are combined from several groups."""


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

    `sheds` may repeat. With `most` the search ends as soon as it is proved that so many treadles do not do.
    Raises RemapError for a reach other than 1 or 2 and for a shed beyond the loom's shafts.
    """
    question = _Question(sheds, loom_shafts, action, reach, should_stop)
    return question.ask(most, None, progress)


def fits(
    sheds: Sequence[Shed],
    loom_shafts: int,
    action: Action,
    reach: int,
    treadles: int,
    *,
    should_stop: ShouldStop = never_stop,
) -> Outcome:
    """Decide whether this many treadles open every one of these sheds; the answer need not use the fewest.

    Raises RemapError as `fewest_treadles` does.
    """
    question = _Question(sheds, loom_shafts, action, reach, should_stop)
    return question.ask(treadles, treadles, tell_nobody)


def minimal_answers(
    sheds: Sequence[Shed],
    loom_shafts: int,
    action: Action,
    reach: int,
    treadles: int,
    *,
    should_stop: ShouldStop = never_stop,
) -> Iterator[Answer]:
    """Yield different answers with the fewest treadles, if `treadles` allow them: 3 for all 14 sheds of four shafts.

    Of answers that differ only in cords that some tie-up could do without, the one with more cords stands for all.
    The answers end when there are no more or when `should_stop` says so; take as many as are wanted. Raises
    RemapError as `fewest_treadles` does.
    """
    question = _Question(sheds, loom_shafts, action, reach, should_stop)
    if isinstance(question.ask(treadles, None, tell_nobody), Solved):
        yield from question.all_answers()


class _Question:
    """One question to the search, with all that is known of its answer."""

    def __init__(self, sheds: Sequence[Shed], shafts: int, action: Action, reach: int, should_stop: ShouldStop) -> None:
        if reach not in (1, 2):
            raise RemapError(f"a foot that presses {reach} treadles", mend="say a reach of 1 or 2")
        self._sheds = distinct(tuple(sheds))
        self._shafts, self._action, self._reach = shafts, action, reach
        self._watch = Watch(should_stop)
        self._alone: list[int] = []
        self._groups: list[Portfolio | Row] = []
        if action is Action.LEVERS:
            return
        self._targets = targets_of(self._sheds, shafts, action)
        pressed = sorted(set(self._targets) - {0}, key=lambda target: (target.bit_count(), target))
        self._alone = standing_alone(pressed, reach)
        for members in groups_of([target for target in pressed if target not in self._alone]):
            self._groups.append(Portfolio(members) if reach == 1 else Row(members))

    @property
    def _low(self) -> int:
        return len(self._alone) + sum(group.low for group in self._groups)

    @property
    def _best(self) -> int:
        return len(self._alone) + sum(len(group.best) for group in self._groups)

    def ask(self, most: int | None, enough: int | None, progress: OnProgress) -> Outcome:
        """Close the gap between the bounds, but stop once `enough` treadles do or more than `most` are needed."""
        told = None
        try:
            while True:
                bounds = self._low, self._best
                if bounds != told:
                    progress(Progress(bounds[1], bounds[0], self._watch.nodes))
                    told = bounds
                if most is not None and bounds[0] > most:
                    return ProvedImpossible(bounds[0], self._watch.nodes)
                if bounds[0] == bounds[1] or (enough is not None and bounds[1] <= enough):
                    return Solved(self._answer(), bounds[0], self._watch.nodes)
                for group in self._groups:
                    if group.low < len(group.best):
                        group.turn(self._watch, None if enough is None else enough - self._low + group.low)
        except SearchStoppedError:
            return OutOfBudget(self._low, self._answer(), self._watch.nodes)

    def all_answers(self) -> Iterator[Answer]:
        """Yield the answers that combine the answers of the groups, the one already known first."""
        first = self._answer()
        yield first
        seen = {self._alike(first)}
        try:
            for bests in product(*(self._variants(group) for group in self._groups)):
                answer = self._answer(bests)
                if self._alike(answer) not in seen:
                    seen.add(self._alike(answer))
                    yield answer
        except SearchStoppedError:
            return

    def _variants(self, group: Portfolio | Row) -> Iterator[Columns]:
        """Yield a group's answers: lazily where it is the only group, else so many as are kept."""
        self._watch.allow(None)
        every = group.answers(self._watch)
        return every if len(self._groups) == 1 else islice(every, MOST_VARIANTS)

    def _alike(self, answer: Answer) -> tuple[tuple[int, int], ...]:
        """Return what tells answers apart: the ties, in their order only where the order matters."""
        ties = tuple((tie.up, tie.down) for tie in answer.tieup)
        return tuple(sorted(ties)) if self._reach == 1 else min(ties, ties[::-1])

    def _answer(self, bests: Sequence[Columns] = ()) -> Answer:
        if self._action is Action.LEVERS:
            return Answer((), self._sheds, tuple(Footing() for _ in self._sheds))
        groups = bests or [group.best for group in self._groups]
        columns = [*(column for best in groups for column in best), *self._alone]
        footings = []
        for target in self._targets:
            footing = feet_for(target, columns, self._reach)
            if footing is None:
                raise AssertionError("the search gave a tie-up that does not open every shed")
            footings.append(footing)
        tieup = tuple(tie_of(column, self._shafts, self._action) for column in columns)
        return Answer(tieup, self._sheds, tuple(footings))
