"""Several engines in turn on one group of targets, until what one proves meets what another one finds.

None is good everywhere. From below (`from_below`), many sheds made of few columns go fast, but when nearly every shed
needs a treadle of its own the search drowns in them. From above (`savings`) it is the other way about: answers come at
once, and the proof that one treadle more cannot be saved is short as long as few can be. In between, where some
treadles can be saved but not most, both drown, and bounds that are nearly the truth are worth their time: there prices
do best (`branch_and_bound`, reach 1 only). At reach 2 answers come from annealed feet (`annealing`), the proofs from
weights of pulls (`weights`), from what may be wasted of them (`thrift`) and from below. What one proves counts for all,
and the whole costs a small multiple of the best.

Lemmas and proofs: assets/mathematics.md, "The portfolio".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.remap.loom.targets import Columns, Target
from companion.remap.search.annealing import Annealing
from companion.remap.search.branch_and_bound import PriceSearch
from companion.remap.search.corners import Corners
from companion.remap.search.engine import Engine, Found
from companion.remap.search.from_below import Decide, FromBelow
from companion.remap.search.lower_bounds import counting_bound, fooling_set
from companion.remap.search.pairs import PairSearch
from companion.remap.search.runs import RunSearch
from companion.remap.search.savings import SavingsSearch
from companion.remap.search.shares import further_columns
from companion.remap.search.thrift import Thrift
from companion.remap.search.watch import Watch
from companion.remap.search.weights import Weights

TURN = {1: 32, 2: 24}
"""Nodes of one turn at each reach; of the engine from above, where a node costs as the square of the targets, fewer
when there are over twenty."""

LATE_AFTER = 12
"""The engines that take long to begin join in after so many turns of the others: most drafts are done by then."""

LONG_TURN = 3_600
"""The search from below gets one turn of so many nodes where targets are not many: that takes no longer than the late
engines take to begin, and often decides it."""

RESTARTS, RESTARTS_OF_RUNS = 12, 60
MANY = 16
"""How long to look for columns to start from: with so many targets it pays, and at reach 2 they are worth a lot."""


class Portfolio:
    """One group of targets, and what is `known` of it by now."""

    def __init__(
        self,
        known: Found,
        engines: Sequence[Engine],
        decide: Decide,
        watch: Watch,
        *,
        late_first: Sequence[Engine] = (),
        late_last: Sequence[Engine] = (),
    ) -> None:
        """Let `engines` take turns; after `LATE_AFTER` turns others join in before and behind them."""
        self.known = known
        self._engines = tuple(engines)
        self._late = tuple(late_first), tuple(late_last)
        self._decide = decide
        self._watch = watch
        self._turns = 0

    def turn(self, enough: int | None) -> None:
        """Let the engines go on for a while, or until the bounds move.

        Where only the question matters whether `enough` columns do, all but the one from above ask just that.
        """
        self._turns += 1
        if self._turns == LATE_AFTER:
            self._engines = (*self._late[0], *self._engines, *self._late[1])
        for engine in self._engines:
            before = self.known.bounds
            self.known = engine.work(self.known, enough)
            if self.known.bounds != before or self._watch.stopped:
                return

    def answers(self) -> Iterator[Columns]:
        """Yield different answers with as many columns as the best one. Raises SearchPausedError when stopped."""
        search = self._decide(self.known.best)
        self._watch.allow(None)
        while (found := search.columns()) is not None:
            yield found


class _OneTreadleAFoot:
    """At reach 2: what opens all targets with one treadle under each foot opens them here too; it proves nothing.

    It works as long as its late engines are not asked for: what takes long is better done at reach 2 itself.
    """

    def __init__(self, portfolio: Portfolio) -> None:
        self._portfolio = portfolio
        self._turns = 1

    def work(self, known: Found, enough: int | None) -> Found:
        """Go on for a turn and return what it has by now."""
        if self._turns < LATE_AFTER and not self._portfolio.known.bounds.proven:
            self._turns += 1
            self._portfolio.turn(enough)
        return known.opened_by(self._portfolio.known.columns)


def portfolio_of(targets: Sequence[Target], reach: int, watch: Watch) -> Portfolio:
    """Return the engines for one group of targets at this reach (1 or 2), with the first bounds."""
    return _reach_one(targets, watch) if reach == 1 else _reach_two(targets, watch)


def _reach_one(targets: Sequence[Target], watch: Watch) -> Portfolio:
    seeds = fooling_set(targets, RESTARTS if len(targets) >= MANY else 0)
    further = further_columns(targets, seeds)

    long_turn = LONG_TURN if len(targets) < MANY else 0

    def decide(treadles: int) -> PairSearch:
        return PairSearch(targets, seeds, treadles, watch)

    return Portfolio(
        Found(max(len(seeds) + further, counting_bound(len(targets), reach=1)), tuple(targets)),
        (
            SavingsSearch(targets, max(2, min(TURN[1], TURN[1] * 400 // len(targets) ** 2)), watch),
            FromBelow(decide, 0, TURN[1], watch, long_turn=long_turn),
        ),
        decide,
        watch,
        late_first=(Corners(targets, seeds, further),),
        late_last=(PriceSearch(targets, watch), Annealing(targets, 1, watch)),
    )


def _reach_two(targets: Sequence[Target], watch: Watch) -> Portfolio:
    """Weights prove most; one decision from below closes the rest, another allows a treadle more; annealing finds.

    What one treadle under each foot can do, a foot on two can do as well: treadles saved at reach 1 are a cheap answer.
    """
    seeds = fooling_set(targets, RESTARTS_OF_RUNS)
    order = sorted(targets, key=lambda target: (target.bit_count(), target))
    weights = Weights(targets, watch)

    def decide(treadles: int) -> RunSearch:
        return RunSearch(order, seeds, treadles, watch)

    return Portfolio(
        Found(max(len(seeds), counting_bound(len(targets), reach=2)), tuple(targets)),
        (
            FromBelow(decide, 1, TURN[2], watch),
            Annealing(targets, 2, watch),
            _OneTreadleAFoot(_reach_one(order, watch)),
        ),
        decide,
        watch,
        late_first=(weights, Thrift(targets, weights, watch)),
    )
