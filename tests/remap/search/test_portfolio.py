"""The portfolio: engines in their order until the bounds move, late ones after a while, and nothing after a stop."""

from companion.remap.search.engine import Found
from companion.remap.search.portfolio import LATE_AFTER, Portfolio, portfolio_of
from companion.remap.search.watch import Watch


class Listed:
    """An engine that notes its turns and raises the lower bound in those that are told."""

    def __init__(self, name, log, moves=()):
        self.name, self.log, self.moves = name, log, moves
        self.turns = 0

    def work(self, known, enough):
        self.turns += 1
        self.log.append(self.name)
        return known.needing(known.at_least + 1) if self.turns in self.moves else known


def never():
    return False


def test_a_turn_ends_as_soon_as_the_bounds_move():
    log = []
    group = Portfolio(Found(0, (1, 2, 4)), [Listed("one", log, moves={2}), Listed("two", log)], None, Watch(never))
    for _ in range(3):
        group.turn(None)
    assert log == ["one", "two", "one", "one", "two"]
    assert group.known.at_least == 1


def test_late_engines_join_before_and_behind_the_others():
    log = []
    group = Portfolio(
        Found(0, (1, 2, 4)),
        [Listed("early", log)],
        None,
        Watch(never),
        late_first=[Listed("first", log)],
        late_last=[Listed("last", log)],
    )
    for _ in range(LATE_AFTER + 1):
        group.turn(None)
    assert log == ["early"] * (LATE_AFTER - 1) + ["first", "early", "last"] * 2


def test_after_a_stop_no_other_engine_works():
    log = []
    watch = Watch(never)

    class Stops(Listed):
        def work(self, known, enough):
            watch.stopped = True
            return super().work(known, enough)

    group = Portfolio(Found(0, (1, 2, 4)), [Stops("one", log), Listed("two", log)], None, watch)
    group.turn(None)
    assert log == ["one"]


def test_both_reaches_begin_with_bounds_that_hold():
    """All seven sheds of three shafts: the three singles do at reach 2 and with a fourth treadle at reach 1.

    Reach 2: `1`, `2`, `3` in a row and a foot on two neighbours. Reach 1: 123 needs one more (counted by hand).
    """
    targets = list(range(1, 8))
    for reach, fewest in ((1, 4), (2, 3)):
        group = portfolio_of(targets, reach, Watch(never))
        assert group.known.at_least <= fewest <= group.known.best == 7
        while not group.known.bounds.proven:
            group.turn(None)
        assert group.known.best == fewest
        assert all(len(columns) == fewest for columns in group.answers())
