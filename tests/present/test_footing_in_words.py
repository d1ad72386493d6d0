"""The feet in a line, as one weaver would tell another."""

from __future__ import annotations

import re

import pytest

from companion.present.footing_in_words import aim_words, foot_of_treadles, stage_footing_words
from companion.remap.aim import Aim
from companion.remap.loom.loom import Loom
from companion.remap.remapping import remap
from tests.draft.drafts import draft_of


def words(draft, loom, **more):
    answer = remap(draft, loom, **more)
    return stage_footing_words(answer, answer.stages[0])


def test_tabby_and_pattern_are_told_apart_where_both_are_woven():
    ties = [[1, 2], [2, 3], [3, 4], [1, 4], [1, 3], [2, 4]]
    picks = [treadle for block in (1, 2, 3, 4) * 3 for treadle in (block, 5, block, 6)]
    said = words(draft_of(threading=[1, 2, 3, 4] * 2, tieup=ties, treadling=picks), Loom(4, 6), aim=Aim.DRAFT)
    assert said == "one foot at every pick; tabby right (5 6), pattern left (1 to 4), outside in"


def test_without_tabby_the_treadles_of_each_foot_are_said():
    twill = draft_of(threading=[1, 2, 3, 4], tieup=[[1, 2], [2, 3], [3, 4], [1, 4]], treadling=[1, 2, 3, 4] * 5)
    said = words(twill, Loom(4, 4))
    assert said == "one foot at every pick; left (1 2) and right (3 4)"


@pytest.mark.parametrize(
    ("order", "walked"),
    [
        ([1, 6, 2, 5, 3, 4], ", outside in"),
        ([3, 4, 2, 5, 1, 6], ", inside out"),
        ([1, 4, 2, 5, 3, 6], ", from left to right"),
        ([3, 6, 2, 5, 1, 4], ", from right to left"),
        ([1, 6, 3, 5, 2, 4], ""),
    ],
)
def test_the_way_that_the_feet_go_through_their_treadles_is_said_where_it_is_one_way(order, walked):
    ties = [[1, 2], [2, 3], [3, 4], [4, 5], [5, 6], [1, 6]]
    twill = draft_of(threading=[1, 2, 3, 4, 5, 6], tieup=ties, treadling=order * 3)
    assert (
        words(twill, Loom(6, 6), aim=Aim.DRAFT) == f"one foot at every pick; left (1 to 3) and right (4 to 6){walked}"
    )


def test_picks_with_both_feet_are_counted():
    three = draft_of(threading=[1, 2], plan=[[1], [2], [1, 2], [1, 2]], shafts=2)
    assert words(three, Loom(2, 2)).startswith("both feet at 2 of 4 picks; ")


def test_picks_without_a_foot_are_counted_too_and_belong_to_neither_tabby_nor_pattern():
    ties, picks = [[1, 3], [2, 4], []], [1, 2, 3, 1, 2]
    said = words(draft_of(threading=[1, 2, 3, 4] * 4, tieup=ties, treadling=picks), Loom(4, 6))
    assert said == "one foot at 4 of 5 picks, none at 1; left (1) and right (2)"
    three = draft_of(threading=[1, 2], plan=[[1], [2], [1, 2], []], shafts=2)
    assert words(three, Loom(2, 2)).startswith("both feet at 1 of 4 picks, none at 1; ")


def test_a_draft_of_empty_sheds_presses_nothing():
    assert words(draft_of(threading=[1, 2], plan=[[], []], shafts=2), Loom(2, 2)) == "no treadle at any pick"


@pytest.mark.parametrize("aim", list(Aim))
def test_every_aim_has_words(aim):
    draft = draft_of(threading=[1, 2], tieup=[[1], [2]], treadling=[1, 2] * 3)
    present = remap(draft, Loom(2, 2)).tieup
    assert aim_words(remap(draft, Loom(2, 2), aim=aim, present=present)).startswith("chosen for ")


def test_with_both_feet_each_treadle_is_told_for_the_foot_that_it_is_drawn_with_and_the_other_foot_beside():
    pairs = [[3, 4], [1, 3], [2, 4], [1, 4], [1, 2], [2, 3]]
    picks = [shed for shed, often in zip(pairs, (2, 4, 4, 2, 2, 2), strict=True) for _ in range(often)]
    answer = remap(draft_of(threading=[1, 2, 3, 4], plan=picks), Loom(4, 4))
    (stage,) = answer.stages
    lefts, rights = foot_of_treadles(stage.footings)
    said = stage_footing_words(answer, stage)
    assert said.startswith("both feet at 16 of 16 picks; left (1 2) and right (3 4), ")
    assert (lefts, rights) == ({0, 1}, {2, 3})
    for foot, own in (("left", lefts), ("right", rights)):
        others = {treadle + 1 for footing in stage.footings for treadle in getattr(footing, foot) if treadle not in own}
        told = re.search(rf"the {foot} foot ([\d ]+) too", said)
        assert {int(number) for number in (told[1].split() if told else ())} == others
