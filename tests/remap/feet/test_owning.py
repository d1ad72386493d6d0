"""Which sheds get a treadle of their own: against all sets of columns in small worlds, and CP-SAT in large ones."""

import random
from itertools import combinations

import pytest

from companion.draft.masks import shed_of
from companion.remap.feet import owning
from companion.remap.feet.own_exchanged import exchanged
from companion.remap.feet.owning import grown, own_treadles
from companion.remap.search.fewest import fewest_treadles
from tests.bench.structured_families import network, spot_lace


def opened(target, columns):
    inside = [column for column in columns if not column & ~target]
    return any(one | other == target for one in inside for other in inside)


def lost_by(columns, targets, picks):
    return sum(number for target, number in zip(targets, picks, strict=True) if target not in columns)


def least_lost(targets, picks, treadles):
    """Of all sets of so many columns, any part of any target, that open every target: the least picks lost."""
    parts = sorted({part for target in targets for part in range(1, target + 1) if not part & ~target})
    sets = combinations(parts, min(treadles, len(parts)))
    return min(
        (lost_by(columns, targets, picks) for columns in sets if all(opened(t, columns) for t in targets)), default=None
    )


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("nodes", [0, owning.MOST_NODES])
def test_no_set_loses_fewer_picks_than_the_bound_and_the_complete_search_finds_the_least(monkeypatch, seed, nodes):
    monkeypatch.setattr(owning, "MOST_NODES", nodes)
    rng = random.Random(seed)
    targets = rng.sample(range(1, 16), 6)
    picks = [rng.randrange(1, 30) for _ in targets]
    treadles = rng.choice([4, 5])
    least = least_lost(targets, picks, treadles)
    found = own_treadles(targets, picks, treadles)
    if least is None:
        assert not found.kept
        return
    assert found.at_least <= least
    for lost, columns in found.kept:
        assert len(columns) <= treadles
        assert all(opened(target, columns) for target in targets)
        assert lost == lost_by(columns, targets, picks) >= least
    if nodes:
        assert found.kept[0][0] == found.at_least == least


def of_draft(picks):
    often = {}
    for pick in picks:
        often[shed_of(pick)] = often.get(shed_of(pick), 0) + 1
    return list(often), list(often.values())


@pytest.mark.parametrize(
    ("picks", "seeded", "least"),
    [(spot_lace(12), False, 42), (network(12), True, 69)],
    ids=["spot lace on 12 shafts", "network on 12 shafts"],
)
def test_exchanges_come_near_the_least_where_the_search_does_not_end(picks, seeded, least):
    """The least is CP-SAT's (OR-tools 9, some 20 seconds each, over all that several sheds have in common)."""
    targets, often = of_draft([pick for pick in picks if pick])
    fewest = fewest_treadles(targets, 1).columns if seeded else None
    found = own_treadles(targets, often, 14, [] if fewest is None else [fewest])
    lost, columns = found.kept[0]
    assert found.at_least <= least <= lost <= 1.15 * least
    assert lost == lost_by(columns, targets, often)
    assert len(columns) <= 14
    assert all(opened(target, columns) for target in targets)


def test_exchanges_only_better_a_set_keep_every_shed_open_and_leave_what_must_stay():
    bettered = 0
    for seed in range(20):
        rng = random.Random(seed)
        targets = rng.sample(range(1, 64), 9)
        columns = [*targets, *sorted({one & other for one, other in combinations(targets, 2)} - {0, *targets})]
        pairs = list(combinations(range(len(columns)), 2))
        ways = {
            target: [
                (at,),
                *(pair for pair in pairs if columns[pair[0]] | columns[pair[1]] == target and at not in pair),
            ]
            for at, target in enumerate(targets)
        }
        picks = {at: rng.randrange(1, 20) for at in range(len(targets))}
        heavy = max(picks, key=lambda at: (len(ways[targets[at]]) > 1, picks[at]))
        start = [at for at in picks if at != heavy] + [at for at in ways[targets[heavy]][-1] if at not in picks]
        must = min(at for at in start if at in picks)
        before = sum(picks.get(at, 0) for at in start)
        for mask in exchanged(start, ways, picks, len(columns), 1 << must):
            chosen = [at for at in range(len(columns)) if mask >> at & 1]
            assert must in chosen
            assert len(chosen) == len(start)
            assert all(opened(target, [columns[at] for at in chosen]) for target in targets)
            now = sum(picks.get(at, 0) for at in chosen)
            assert now > before
            before, bettered = now, bettered + 1
    assert bettered


def test_a_column_grows_to_all_that_the_sheds_share_which_it_opens_and_one_that_none_needs_is_left_out():
    assert sorted(grown([0b001, 0b010, 0b100, 0b1000], [0b011, 0b101])) == [0b001, 0b011, 0b101]
