"""The threading in groups: none too long, none across a section, cut where the threading breaks."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.errors import DraftError
from companion.draft.reading import read_draft
from companion.draft.shorthand import parse_shorthand
from companion.draft.threading_groups import threading_groups
from companion.workshop.places import asset


def lengths(threading, most=12):
    draft = parse_shorthand(f"threading: {threading}\ntie-up: 1\ntreadling: 1")
    return [group.ends for group in threading_groups(draft.threading, most)]


@given(st.lists(st.none() | st.integers(0, 7), max_size=80), st.integers(1, 20))
def test_every_end_is_in_one_group_in_order_and_no_group_is_too_long(threading, most):
    groups = threading_groups(threading, most)
    assert [end for group in groups for end in range(group.first, group.last + 1)] == list(range(len(threading)))
    assert all(1 <= group.ends <= most for group in groups)


@pytest.mark.parametrize(
    ("threading", "groups"),
    [
        ("(1-4)x9", [12, 12, 12]),
        ("(1-8)x4", [8] * 4),
        ("(1-4)x20", [12] * 6 + [8]),
        # Two sections of straight draw: 20 ends up, 20 down; no group holds both.
        ("(1-4)x5 (4-1)x5", [12, 8, 12, 8]),
        # Blocks of eight: a group is a block.
        ("((1 2)x4 (3 4)x4)x3", [8] * 6),
        # One end to balance is no group of its own.
        ("point (1 2 3 4) x4 1", [12, 6, 7]),
        ("1 2 3", [3]),
        # Figures of 20 ends and three to balance: cut alike to the last, in phase with the draft's repeats.
        ("(1 2 1 2 3 2 3 4 3 4 1 4 1 4 3 4 3 2 3 2)x3 1 2 1", [12, 8, 12, 8, 12, 11]),
        # Blocks of 13: three repeats, and the end that leads over to the next block.
        ("(1 2 3 2)x3 1 (2 3 4 3)x3 2 (3 4 1 4)x3 3", [8, 5] * 3),
        # Here the single end comes before its repeats, since the draft begins with one.
        ("(3 (1 2)x3 3 (1 4)x3)x3 3", [7, 7, 7, 7, 7, 8]),
    ],
)
def test_groups_end_where_the_threading_breaks(threading, groups):
    assert lengths(threading) == groups


def test_no_group_reaches_across_a_named_block():
    # Nothing in a straight draw says that a block ends after ten ends; its name does.
    assert [group.ends for group in threading_groups((0, 1, 2, 3) * 5, 12, [10, 10])] == [10, 10]


def test_the_repeats_of_a_gamp_are_never_mixed():
    draft = read_draft(asset("drafts/twill-gamp-four-shaft.txt").read_bytes())
    for group in threading_groups(draft.threading):
        # Its four threadings are of 24 ends each.
        assert group.first // 24 == group.last // 24


@pytest.mark.parametrize("most", [0, -3, 65])
def test_a_length_that_is_no_group_is_refused(most):
    with pytest.raises(DraftError, match="groups of"):
        threading_groups((0, 1), most)


def test_heddle_by_heddle_is_a_group_of_one():
    assert lengths("(1-4)x3", 1) == [1] * 12
