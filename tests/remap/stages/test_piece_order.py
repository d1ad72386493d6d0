"""The order of pieces that changes fewest cords."""

from __future__ import annotations

import random
from itertools import pairwise, permutations

import networkx
import pytest

from companion.draft.masks import Shed
from companion.remap.loom.cords import cords_between
from companion.remap.loom.loom import Tie
from companion.remap.stages.piece_order import best_piece_order


def random_tieups(chance, number):
    return [tuple(Tie(up=Shed(chance.randrange(16))) for _ in range(4)) for _ in range(number)]


def cords_of(order, tieups, present):
    first = 0 if present is None else cords_between(present, tieups[order[0]])
    return first + sum(cords_between(tieups[one], tieups[other]) for one, other in pairwise(order))


@pytest.mark.parametrize("number", range(1, 7))
@pytest.mark.parametrize("with_present", [False, True])
def test_no_permutation_of_the_pieces_changes_fewer_cords(number, with_present):
    for seed in range(3):
        chance = random.Random(seed)
        tieups = random_tieups(chance, number)
        present = random_tieups(chance, 1)[0] if with_present else None
        found = best_piece_order(tieups, present)
        assert found.proven
        assert sorted(found.pieces) == list(range(number))
        least = min(cords_of(order, tieups, present) for order in permutations(range(number)))
        assert found.cords == cords_of(found.pieces, tieups, present) == least


def test_ten_pieces_are_exact_against_a_spanning_tree_bound_and_a_chain_made_by_hand():
    """Each piece ties one cord more than the one before; only the chain itself changes 9 cords, 1 a step."""
    chain = [(Tie(up=Shed((1 << length) - 1)),) for length in range(10)]
    shuffled = random.Random(5).sample(chain, 10)
    found = best_piece_order(shuffled)
    tree = networkx.minimum_spanning_tree(
        networkx.Graph(
            (one, other, {"weight": cords_between(shuffled[one], shuffled[other])})
            for one in range(10)
            for other in range(one)
        )
    )
    assert found.proven
    assert found.cords == tree.size(weight="weight") == 9
    woven = [shuffled[piece] for piece in found.pieces]
    assert woven in (chain, chain[::-1])


def test_more_pieces_than_can_be_proven_are_ordered_and_not_called_proven():
    chain = [(Tie(up=Shed((1 << length) - 1)),) for length in range(20)]
    found = best_piece_order(random.Random(7).sample(chain, 20))
    assert not found.proven
    assert sorted(found.pieces) == list(range(20))
    assert found.cords >= 19


def test_no_pieces_change_no_cords():
    assert best_piece_order([]).cords == 0
