"""Taking the question apart changes no answer: checked against CP-SAT on the whole question."""

import random
from itertools import combinations

from companion.remap.search.groups import groups_of, standing_alone
from tests.oracles import set_basis_cpsat as cpsat


def inside_a_union(target, others, most):
    return any(not target & ~sum_of(chosen) for size in range(1, most + 1) for chosen in combinations(others, size))


def sum_of(masks):
    union = 0
    for mask in masks:
        union |= mask
    return union


def test_what_stands_alone_lies_inside_no_union_of_the_rest():
    rng = random.Random(5)
    for _ in range(150):
        targets = sorted({rng.randrange(1, 256) for _ in range(7)})
        for reach, most in ((1, 2), (2, 4)):
            alone = standing_alone(targets, reach)
            left = [target for target in targets if target not in alone]
            for target in left:
                assert inside_a_union(target, [t for t in left if t != target], most)
            if left != targets:
                assert any(not inside_a_union(t, [o for o in targets if o != t], most) for t in alone)


def test_a_shed_that_stands_alone_costs_exactly_one_treadle():
    rng = random.Random(8)
    seen = 0
    while seen < 12:
        targets = sorted({rng.randrange(1, 64) for _ in range(6)})
        for reach in (1, 2):
            alone = standing_alone(targets, reach)
            if not alone or len(alone) == len(targets):
                continue
            seen += 1
            left = [t for t in targets if t not in alone]
            whole, parts = (
                cpsat.fewest(6, [{b + 1 for b in range(6) if t >> b & 1} for t in some], "rising", reach)
                for some in (targets, left)
            )
            assert whole[0] == parts[0] + len(alone)


def test_groups_share_no_pull_and_hold_every_target():
    targets = [0b11, 0b110, 0b11000, 0b100000, 0b1000000, 0b11000000]
    groups = [set(group) for group in groups_of(targets)]
    assert sorted(map(sorted, groups)) == [[0b11, 0b110], [0b11000], [0b100000], [0b1000000, 0b11000000]]
