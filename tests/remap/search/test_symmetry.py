"""Sheds are alike exactly when networkx finds a renaming of shafts that puts one in the other's place."""

import random

import networkx as nx
from networkx.algorithms.isomorphism import GraphMatcher, categorical_node_match

from companion.remap.search.symmetry import Symmetry


def alike(targets, one, other):
    def graph(special):
        g = nx.Graph()
        for target in targets:
            g.add_node(("target", target), kind="special" if target == special else "target")
            for pull in range(12):
                if target >> pull & 1:
                    g.add_node(("pull", pull), kind="pull")
                    g.add_edge(("target", target), ("pull", pull))
        return g

    return GraphMatcher(graph(one), graph(other), categorical_node_match("kind", None)).is_isomorphic()


def test_all_sheds_of_a_twill_are_alike():
    twill = [sum(1 << (first + x) % 8 for x in (0, 1, 3)) for first in range(8)]
    assert Symmetry(twill).orbit_of(twill[2]) == twill


def test_random_sheds_agree_with_networkx():
    rng = random.Random(3)
    for _ in range(60):
        targets = sorted({rng.randrange(1, 64) for _ in range(6)})
        chosen = rng.choice(targets)
        found = Symmetry(targets).orbit_of(chosen)
        assert found == [other for other in targets if alike(targets, chosen, other)]
