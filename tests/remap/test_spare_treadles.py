"""Treadles to spare, and plain weave on two of them: woven by hand, the cloth of the draft unchanged."""

from __future__ import annotations

from itertools import pairwise

import pytest

from companion.draft.masks import shafts_of, shed_of
from companion.draft.reading import read_draft
from companion.present.spare_words import spare_words
from companion.remap.aim import Aim
from companion.remap.loom.loom import Action, Loom, Tie
from companion.remap.proof import weaves_the_draft
from companion.remap.remapping import remap
from companion.remap.spare_treadles import free_treadles, plain_weave_held, room_for_plain_weave, with_plain_weave
from companion.workshop.places import asset
from tests.draft.drafts import draft_of
from tests.oracles.lifting_by_hand import cloth

WAFFLE = read_draft(asset("drafts/waffle-four-shaft.txt").read_bytes())
THREE = draft_of(threading=[1, 2, 3] * 2, plan=[[1], [2], [3]])
"""A straight draw on three shafts has no plain weave (a ring of three)."""


@pytest.mark.parametrize("action", [Action.RISING, Action.SINKING, Action.COUNTERMARCHE])
@pytest.mark.parametrize("face_down", [False, True])
def test_two_free_treadles_weave_plain_and_the_draft_is_woven_as_before(action, face_down):
    loom = Loom(4, 8, action)
    answer = remap(WAFFLE, loom, face_down=face_down)
    free = free_treadles(answer)
    assert len(free) == 4
    tied = with_plain_weave(WAFFLE, answer, None)
    (stage,) = tied.stages
    ((one, _), (other, _)) = room_for_plain_weave(answer)
    assert {one, other} <= set(free)
    assert other == one + 1
    ties = [(shafts_of(tie.up), shafts_of(tie.down)) for tie in stage.tieup]
    threading = [shaft + 1 for shaft in WAFFLE.threading]
    first, second = cloth(threading, [[one + 1], [other + 1]], ties, 4, action.value)
    assert all(up != down for up, down in zip(first, second, strict=True))
    assert all(left != right for left, right in pairwise(first))
    assert weaves_the_draft(WAFFLE, loom, stage.tieup, stage.footings, face_down=face_down)
    assert with_plain_weave(WAFFLE, tied, None) is None, "it is tied already"


@pytest.mark.parametrize("action", [Action.RISING, Action.SINKING, Action.COUNTERMARCHE])
def test_plain_weave_that_the_draft_ties_for_headings_and_hems_stays_tied_where_there_is_room(action):
    """A 2/2 twill whose fifth and sixth treadles no pick presses."""
    ties = [[1, 2], [2, 3], [3, 4], [1, 4], [1, 3], [2, 4]]
    draft = draft_of(threading=[1, 2, 3, 4] * 2, tieup=ties, treadling=[1, 2, 3, 4] * 2)
    light = remap(draft, Loom(4, 8, action))
    assert plain_weave_held(light) == (4, 5)
    assert spare_words(light).startswith("treadles 5 and 6 hold plain weave, for headings and hems; treadles 7 and 8")
    own = remap(draft, Loom(4, 6, action), aim=Aim.DRAFT)
    assert plain_weave_held(own) == (4, 5)
    assert spare_words(own) == "treadles 5 and 6 hold plain weave, for headings and hems"
    for answer in (light, own):
        assert {shafts_of(answer.tieup[t].up) or shafts_of(answer.tieup[t].down) for t in (4, 5)} == {(1, 3), (2, 4)}
    pressed = draft_of(threading=[1, 2, 3, 4] * 2, tieup=ties[:5], treadling=[1, 2, 3, 4] * 2)
    assert plain_weave_held(remap(pressed, Loom(4, 8, action))) == (), "one of the two sheds only"


@pytest.mark.parametrize("action", [Action.RISING, Action.SINKING, Action.COUNTERMARCHE])
def test_plain_weave_that_the_draft_ties_and_a_small_loom_has_no_room_for_is_said(action):
    """Told of three to five treadles for a 2/2 twill; not where two feet weave it anyhow, nor where none is tied."""
    ties = [[1, 2], [2, 3], [3, 4], [1, 4], [1, 3], [2, 4]]
    draft = draft_of(threading=[1, 2, 3, 4] * 2, tieup=ties, treadling=[1, 2, 3, 4] * 2)
    said = "no two treadles are left for the plain weave that the draft ties: tie it anew for headings and hems"
    told = [remap(draft, Loom(4, treadles, action)) for treadles in (3, 4, 5, 6)]
    assert [answer.plain_weave_left_out for answer in told] == [True, True, True, False]
    assert spare_words(told[1]) == said
    assert spare_words(told[2]) == f"treadle 5 is free; {said}"
    without = draft_of(threading=[1, 2, 3, 4] * 2, tieup=ties[:4], treadling=[1, 2, 3, 4] * 2)
    assert spare_words(remap(without, Loom(4, 4, action))) == ""
    single = draft_of(threading=[1, 2, 3, 4] * 2, tieup=[[1], [2], [3], [4], [1, 3], [2, 4]], treadling=[1, 2, 3, 4])
    both_feet_open_it = action is Action.RISING
    assert remap(single, Loom(4, 4, action)).plain_weave_left_out is not both_feet_open_it


def test_cords_are_counted_from_the_present_tie_up():
    present = (
        Tie(up=shed_of([1, 3])),
        Tie(up=shed_of([2])),
        Tie(up=shed_of([1])),
        Tie(up=shed_of([1, 2, 4])),
        Tie(),
        Tie(),
    )
    answer = remap(WAFFLE, Loom(4, 6), present=present)
    assert answer.stages[0].cords_changed == 0
    assert with_plain_weave(WAFFLE, answer, present).stages[0].cords_changed == 4


@pytest.mark.parametrize(
    ("draft", "treadles", "words"),
    [
        (WAFFLE, 4, ""),
        (WAFFLE, 5, "treadle 5 is free"),
        (
            WAFFLE,
            6,
            "treadles 5 and 6 are free: plain weave, for headings and hems, could be tied on 5 (1 3) and 6 (2 4)",
        ),
        (THREE, 6, "treadles 4, 5 and 6 are free"),
    ],
)
def test_what_is_free_is_said_with_what_it_may_hold(draft, treadles, words):
    answer = remap(draft, Loom(draft.shafts, treadles))
    assert spare_words(answer) == words
    assert bool(room_for_plain_weave(answer)) == ("plain weave" in words)
