"""The stack that two searches share: every answer once, however often it is paused, and no state twice."""

import itertools

import pytest

from companion.remap.search.depth_first import DepthFirst
from companion.remap.search.watch import SearchPausedError, Watch


class Subsets(DepthFirst[tuple[int, ...]]):
    """Finds the sets of numbers up to 6 with this sum, put together in any order."""

    def __init__(self, wanted, watch):
        super().__init__((), watch)
        self.wanted = wanted
        self.looked_at = []

    def _key(self, node):
        return frozenset(node)

    def _expanded(self, node):
        self.looked_at.append(node)
        if sum(node) == self.wanted:
            return node, None
        if sum(node) > self.wanted:
            return None, None
        return None, ((*node, number) for number in range(1, 7) if number not in node)


def every_answer(search, watch, allow):
    found = []
    while True:
        watch.allow(allow)
        try:
            answer = search.columns()
        except SearchPausedError:
            continue
        if answer is None:
            return found
        found.append(answer)


@pytest.mark.parametrize("allow", [None, 2, 3, 13])
def test_every_answer_is_found_whatever_the_pauses(allow):
    watch = Watch(lambda: False)
    search = Subsets(9, watch)
    expected = {
        frozenset(some) for size in range(7) for some in itertools.combinations(range(1, 7), size) if sum(some) == 9
    }
    assert {frozenset(answer) for answer in every_answer(search, watch, allow)} == expected
    assert search.columns() is None


def test_no_state_below_which_all_was_seen_is_looked_at_again():
    watch = Watch(lambda: False)
    search = Subsets(9, watch)
    every_answer(search, watch, None)
    # The states that branch are those with a smaller sum; an answer may be met once from each of its last steps.
    branching = [frozenset(node) for node in search.looked_at if sum(node) < 9]
    assert len(branching) == len(set(branching))


def test_who_stops_it_is_told_apart_from_a_turn_that_ends():
    watch = Watch(lambda: True)
    search = Subsets(1000, watch)
    watch.allow(5)
    with pytest.raises(SearchPausedError):
        search.columns()
    assert not watch.stopped
    watch.allow(None)
    with pytest.raises(SearchPausedError):
        search.columns()
    assert watch.stopped
