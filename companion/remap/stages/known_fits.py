"""Which sets of sheds fit the loom on one tie-up: every answer of the search is kept, and answers for others too.

A tie-up that opens some sheds opens every subset of them; what does not fit, does not fit with more sheds either. So
many questions need no search. The search has a budget: where that ends, or whoever waits says stop, sheds count as not
fitting together, and `undecided` says that this happened; as many sheds as there are treadles fit without any search.

Lemmas and proofs: assets/mathematics.md, "Stages".
"""

from __future__ import annotations

from collections.abc import Sequence

from companion.draft.masks import Shed
from companion.remap.loom.footings import can_open
from companion.remap.loom.question import Question
from companion.remap.loom.targets import Columns, Target
from companion.remap.search.answers import OutOfBudget, Solved
from companion.remap.search.budget import Budget
from companion.remap.search.fewest import fits

EFFORTS_OF_ONE = 0.3
"""How long one set of sheds is searched for."""


class KnownFits:
    """Answers `fits` for sets of targets of one question."""

    def __init__(self, asked: Question, budget: Budget) -> None:
        self._asked = asked
        self._budgets = _for_each_reach(asked, budget)
        self._most_for_one = EFFORTS_OF_ONE
        self._columns: dict[frozenset[Target], Columns] = {}
        self._unfit: list[frozenset[Target]] = []
        self._open: set[frozenset[Target]] = set()

    @property
    def undecided(self) -> bool:
        """Whether the budget ended before some set was decided."""
        return bool(self._open)

    @property
    def unfit(self) -> tuple[frozenset[Target], ...]:
        """The sets that are proved not to fit, in the order in which they were asked for."""
        return tuple(self._unfit)

    def __call__(self, targets: frozenset[Target]) -> bool:
        """Tell whether all of these targets are known to fit on one tie-up."""
        return self.verdict(targets) is True

    def verdict(self, targets: frozenset[Target]) -> bool | None:
        """Tell it, or None when the budget ended first, or whoever waits wants no more."""
        if targets in self._open:
            return None
        if len(targets) <= self._asked.loom.treadles or self.columns(targets) is not None:
            return True
        if any(unfit <= targets for unfit in self._unfit):
            return False
        for reach, budget in self._budgets.items():
            if budget.left <= 0 or budget.should_stop():
                continue
            # For the shorter reach never longer, or the other would wait for it without end.
            most = self._most_for_one if reach == self._asked.loom.reach else EFFORTS_OF_ONE
            share = budget.share(len(targets), reach, most)
            found = fits(sorted(targets), reach, self._asked.loom.treadles, should_stop=share)
            if isinstance(found, Solved):
                self._columns[targets] = found.columns
                return True
            if reach == self._asked.loom.reach and not isinstance(found, OutOfBudget):
                self._unfit.append(targets)
                return False
        self._open.add(targets)
        return None

    def go_on(self, budget: Budget, most_for_one: float = EFFORTS_OF_ONE) -> None:
        """Draw on another budget from now on, and let what was left open be asked again."""
        self._budgets, self._most_for_one = _for_each_reach(self._asked, budget), most_for_one
        self._open.clear()

    def of_sheds(self, sheds: Sequence[Shed]) -> bool | None:
        """Tell the verdict on sheds."""
        return self.verdict(frozenset(self._asked.targets[shed] for shed in sheds))

    def columns(self, targets: frozenset[Target]) -> Columns | None:
        """Return columns that are known to open all of these targets, if there are any."""
        if targets in self._columns:
            return self._columns[targets]
        for others, columns in reversed(self._columns.items()):
            if targets <= others:
                return columns
        for columns in reversed(self._columns.values()):
            if all(can_open(target, columns, self._asked.loom.reach) for target in targets):
                self._columns[targets] = columns
                return columns
        return None


def _for_each_reach(asked: Question, budget: Budget) -> dict[int, Budget]:
    """Return as large a budget for each reach up to the loom's."""
    return {reach: Budget(budget.should_stop, budget.left) for reach in range(1, asked.loom.reach + 1)}
