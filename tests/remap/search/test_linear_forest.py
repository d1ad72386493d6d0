"""Neighbour pairs fit into a row exactly when networkx calls their graph a bundle of paths."""

from itertools import combinations, pairwise

import networkx as nx

from companion.remap.search.linear_forest import LinearForest


def forest_of(columns):
    forest = LinearForest()
    for _ in range(columns):
        forest = forest.grown()
    return forest


def is_row(columns, pairs):
    graph = nx.Graph(pairs)
    graph.add_nodes_from(range(columns))
    return nx.is_forest(graph) and all(degree <= 2 for _, degree in graph.degree)


def test_every_set_of_pairs_among_five_columns_is_judged_right():
    pairs = list(combinations(range(5), 2))
    for size in range(6):
        for chosen in combinations(pairs, size):
            joined = forest_of(5).joined(chosen)
            assert (joined is not None) == is_row(5, chosen), chosen
            if joined is not None:
                assert_is_a_row_of(joined, 5, chosen)


def assert_is_a_row_of(forest, columns, pairs):
    row = forest.row()
    assert sorted(row) == list(range(columns))
    beside = {frozenset(two) for two in pairwise(row)}
    assert {frozenset(pair) for pair in pairs} <= beside


def test_what_is_allowed_can_be_joined_and_what_is_not_cannot():
    for chosen in combinations(combinations(range(5), 2), 3):
        forest = forest_of(5).joined(chosen)
        if forest is None:
            continue
        for one, other in combinations(range(5), 2):
            assert forest.allows(one, other) == forest.allows(other, one) == (forest.joined([(one, other)]) is not None)


def test_a_new_column_is_nobodys_neighbour():
    forest = forest_of(2).joined([(0, 1)]).grown()
    assert forest.pairs == {(0, 1)}
    assert forest.row() == [0, 1, 2]
    assert forest.allows(1, 2)
