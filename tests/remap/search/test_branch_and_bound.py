"""The search by prices alone: the same fewest columns as CP-SAT, however it is interrupted."""

import random

import pytest

from companion.remap.search import branch_and_bound
from companion.remap.search.branch_and_bound import PriceSearch
from companion.remap.search.watch import SearchPausedError, Watch
from tests.oracles import set_basis_cpsat as cpsat


def fewest(targets, allow=None):
    """Ask for fewer and fewer columns until there are none, pausing after so many steps."""
    watch = Watch(lambda: False)
    search = PriceSearch(targets, watch)
    best = tuple(targets)
    while True:
        watch.allow(allow)
        try:
            found = search.columns(len(best) - 1)
        except SearchPausedError:
            continue
        if found is None:
            assert search.low <= len(best)
            return best
        assert len(found) < len(best)
        best = found


def assert_opens(columns, targets):
    for target in targets:
        inside = [column for column in columns if not column & ~target]
        assert any(one | other == target for one in inside for other in inside)


def random_targets(rng):
    pulls = rng.randint(4, 9)
    if rng.random() < 0.5:
        hidden = [rng.randrange(1, 1 << pulls) & rng.randrange(1, 1 << pulls) for _ in range(rng.randint(4, 6))]
        made = {rng.choice(hidden) | rng.choice(hidden) for _ in range(14)}
    else:
        made = {rng.randrange(1, 1 << pulls) for _ in range(rng.randint(4, 11))}
    return sorted(made - {0})


@pytest.mark.parametrize("seed", range(6))
def test_the_fewest_columns_agree_with_cp_sat(seed):
    rng = random.Random(seed)
    for _ in range(25):
        targets = random_targets(rng)
        best = fewest(targets)
        assert_opens(best, targets)
        sheds = [{pull + 1 for pull in range(9) if target >> pull & 1} for target in targets]
        if len(best) > 1:
            assert not cpsat.do(9, sheds, "rising", 1, len(best) - 1), targets


def test_pauses_change_nothing():
    rng = random.Random(9)
    for _ in range(10):
        targets = random_targets(rng)
        assert fewest(targets, allow=1) == fewest(targets) == fewest(targets, allow=7)


def test_asking_for_more_columns_starts_again():
    targets = random.Random(1).sample(range(1, 64), 10)
    least = len(fewest(targets))
    search = PriceSearch(targets, Watch(lambda: False))
    assert search.columns(least - 1) is None
    assert len(search.columns(least)) == least


def test_it_says_when_it_cannot_ask(monkeypatch):
    monkeypatch.setattr(branch_and_bound, "choices_of", lambda targets: None)
    search = PriceSearch([1, 2, 3], Watch(lambda: False))
    assert not search.can_ask
    with pytest.raises(ValueError, match="too many"):
        search.columns(2)


def test_the_first_bound_is_proved_before_the_end():
    targets = random.Random(2).sample(range(1, 256), 16)
    watch = Watch(lambda: False)
    search = PriceSearch(targets, watch)
    watch.allow(150)
    with pytest.raises(SearchPausedError):
        search.columns(15)
    assert 0 < search.low <= len(fewest(targets))
