"""Plain weave on a threading: against networkx, against the woven cloth, and against what weavers say of drafts."""

from __future__ import annotations

from itertools import pairwise, product

import networkx as nx
import pytest

from companion.draft.cloth import weave
from companion.draft.masks import shafts_of
from companion.draft.tabby import tabby_sheds
from tests.draft.cloths import twill


def shafts_from(threading):
    found = tabby_sheds([shaft - 1 for shaft in threading])
    return found and tuple(map(shafts_of, found))


@pytest.mark.parametrize("shafts", [2, 3, 4])
def test_tabby_is_there_exactly_when_the_graph_of_neighbouring_shafts_is_bipartite(shafts):
    """Every threading of up to 6 ends; where there is tabby, weaving its sheds gives plain weave."""
    for ends in range(2, 7):
        for threading in product(range(shafts), repeat=ends):
            found = tabby_sheds(threading)
            graph = nx.Graph(pairwise(threading))
            assert (found is not None) == nx.is_bipartite(graph), threading
            if found:
                expected = [[end % 2 == pick for end in range(ends)] for pick in range(2)]
                assert weave(threading, found).tolist() == expected


@pytest.mark.parametrize(
    ("threading", "tabby"),
    [
        ([1, 2, 3, 4] * 3, ((1, 3), (2, 4))),
        ([1, 2, 3, 4, 3, 2] * 3, ((1, 3), (2, 4))),
        ([1, 2, 3, 4, 1, 4, 3, 2] * 2, ((1, 3), (2, 4))),
        ([1, 2, 3] * 3, None),
        ([1, 2, 1, 2, 3, 4, 3, 4] * 2 + [1, 3, 1, 3, 2, 4, 2, 4] * 2, None),
    ],
    ids=["straight 4", "point 4", "rosepath", "straight 3", "M's and O's"],
)
def test_drafts_that_weave_plain_weave_and_drafts_that_do_not(threading, tabby):
    """Rosepath and M's and O's as weaving magazines describe them: the latter cannot weave plain weave."""
    assert shafts_from(threading) == tabby


def test_floating_selvedges_are_passed_over_and_an_end_in_no_heddle_among_the_others_lets_no_plain_weave_be():
    assert tabby_sheds([None, None, 0, 1, 0, None]) == tabby_sheds([0, 1, 0])
    # It lies down at every pick: woven, both sheds would leave three neighbours down at one of them.
    assert tabby_sheds([0, 1, None, 0, 1]) is None


def test_one_end_has_no_plain_weave():
    assert tabby_sheds([0]) is None
    assert tabby_sheds([]) is None


def test_plain_weave_is_the_twill_over_one_under_one():
    sheds = tabby_sheds([0, 1, 0, 1])
    assert weave([0, 1], sheds).tolist() == twill(1, 1)
