"""Sheds in each other's way."""

from __future__ import annotations

import random

from companion.draft.masks import Shed
from companion.remap.search.conflict import conflict_among


def test_every_conflict_is_one_of_the_smallest_within_itself():
    chance = random.Random(3)
    for _ in range(200):
        sheds = [Shed(number) for number in range(1, 9)]
        blocked = [frozenset(chance.sample(sheds, chance.randint(1, 4))) for _ in range(3)]

        def fits(some, blocked=blocked):
            return not any(block <= set(some) for block in blocked)

        found = conflict_among(sheds, fits)
        assert found.irreducible
        assert frozenset(found.sheds) in blocked
        assert not any(block < frozenset(found.sheds) for block in blocked)


def test_where_the_search_does_not_know_the_conflict_is_not_called_irreducible():
    sheds = [Shed(1), Shed(2), Shed(3)]
    found = conflict_among(sheds, lambda some: None if Shed(1) not in some else False)
    assert found.sheds == (Shed(1),)
    assert not found.irreducible
