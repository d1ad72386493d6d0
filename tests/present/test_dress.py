"""What the dressing screen shows: the group as it lies before the weaver, and the same in the order of doing."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import pytest

from companion.draft.facing import FROM_LEFT, FROM_RIGHT
from companion.draft.masks import shed_of
from companion.draft.sley import Sley
from companion.present.cautions import DRESSING_CAUTION, DRESSING_CAUTIONS
from companion.present.dress import CUE, CUE_DRESSED, dress_signs
from companion.present.dressing_words import heading_words
from companion.present.threads_picture import CELL, ThreadInks, threads_picture
from companion.remap.loom.loom import Action, Footing, Loom, Tie
from companion.weaving.dressing_commands import (
    begin_task,
    find_shed_wrong,
    go_on_dressing,
    plan_sley,
    settle_task,
)
from companion.weaving.dressing_events import DressingTask, TaskState
from companion.weaving.dressing_way import DressingWay
from companion.weaving.errors import WeavingError
from companion.weaving.warp import LoomProfile, Piece, Stage, Warp
from tests.weaving.test_dressing_view import asset_warp
from tests.weaving.world import AtLoom, lever_draft, lever_warp, two_stage_warp

INKS = ThreadInks((0, 0, 0), (10, 10, 10), (20, 20, 20), (30, 30, 30))
THREADING, SLEYING = DressingTask.THREADING, DressingTask.SLEYING


def signs_of(loom, facing=FROM_LEFT, way=None):
    return dress_signs(loom.warp, loom.progress, way or DressingWay(), facing, INKS)


def threading(from_last=False, done=0):
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    loom.do(begin_task, task=THREADING, from_last=from_last)
    if done:
        loom.do(go_on_dressing, task=THREADING, count=done)
    return loom


@pytest.mark.parametrize(
    ("facing", "from_last", "large", "which"),
    [
        (FROM_LEFT, False, "1 2 1 2 3 2 3 4 3 4 1 4", "ends 1 to 12, from the left, where end 1 is"),
        (FROM_RIGHT, False, "4 1 4 3 4 3 2 3 2 1 2 1", "ends 1 to 12, from the right, where end 1 is"),
        (FROM_LEFT, True, "1 2 1 2 3 2 3 4 3 4 1 4", "ends 90 to 79, from the right, where end 90 is"),
        (FROM_RIGHT, True, "4 1 4 3 4 3 2 3 2 1 2 1", "ends 90 to 79, from the left, where end 90 is"),
    ],
)
def test_numbers_stand_as_the_threads_hang_and_are_spoken_as_they_are_done(facing, from_last, large, which):
    signs = signs_of(threading(from_last), facing)
    assert (signs.large, signs.which[0]) == (large, which)
    drawn_in = "1 2 1 2 3 2 3 4 3 4 1 4"
    assert signs.spoken == (drawn_in[::-1] if from_last else drawn_in)


def test_place_count_and_bar_say_how_far_it_is():
    signs = signs_of(threading(done=24))
    assert signs.place[0] == "Threading · group 3 of 10"
    assert signs.count == "24 of 90 ends"
    assert signs.done_share == pytest.approx(24 / 90)
    assert signs.following[0] == "then 3 4 3 2 3 2"
    # The group that ended with end 24 is 1 2 1 2 3 2 3 4 3 4 1 4.
    assert signs.check[0] == "Just done, 3 ends each on\nshafts 1 2 3 4"


def test_ends_just_done_are_told_together_where_alike_else_shaft_by_shaft_in_even_lines():
    told = set()
    for name in ("eight-by-eight-gamp-eight-shaft", "spider-texture-eight-shaft"):
        loom = AtLoom(asset_warp(name))
        loom.do(begin_task, task=THREADING)
        for _ in range(loom.warp.pieces[0].draft.ends // 4):
            loom.do(go_on_dressing, task=THREADING, count=4)
            told.add(signs_of(loom).check[0].replace("\N{NO-BREAK SPACE}", " "))
    assert "Just done, on shaft\n1: 1   2: 1   3: 2   4: 2\n5: 1   6: 1   7: 2   8: 2" in told
    assert "Just done, on shaft\n1: 3   3: 3   5: 1" in told
    assert "Just done, 4 ends each on\nshafts 1 8" in told


def test_a_gamps_blocks_are_named_and_are_the_parts_of_the_bar():
    loom = AtLoom(asset_warp("twill-gamp-four-shaft"))
    loom.do(begin_task, task=THREADING)
    signs = signs_of(loom)
    assert signs.place[0].split(" · ")[1] == loom.warp.pieces[0].draft.blocks[0].name
    assert signs.shares == (0.25,) * 4


def test_where_a_task_begins_what_to_mind_is_said():
    assert signs_of(threading()).check[-1] == DRESSING_CAUTION[THREADING]
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    loom.do(begin_task, task=DressingTask.BEAMING)
    signs = signs_of(loom)
    assert signs.lines[0] == " ".join(DRESSING_CAUTIONS[DressingTask.BEAMING])
    assert signs.threads is None


def test_every_task_has_its_cautions_long_and_short():
    assert set(DRESSING_CAUTIONS) == set(DRESSING_CAUTION) == set(DressingTask)
    assert all(len(brief) < 36 for brief in DRESSING_CAUTION.values())


def test_dents_are_counted_and_a_plan_for_other_ends_warns():
    plan = Sley((1, 1, 2, 2, 0) * 2)
    with pytest.raises(WeavingError, match="dents for 12 ends, and the warp has 90: repeat it until they agree"):
        AtLoom(asset_warp("overshot-four-shaft")).do(plan_sley, sley=plan)
    (piece,) = asset_warp("overshot-four-shaft").pieces
    drafted = replace(piece, draft=replace(piece.draft, sley=plan))
    loom = AtLoom(replace(asset_warp("overshot-four-shaft"), pieces=(drafted,)))
    loom.do(begin_task, task=SLEYING)
    signs = signs_of(loom)
    assert signs.large == "1 1 2 2 · 1 1 2 2 ·"
    assert signs.warning == "The plan is for 12 ends, the warp has 90"


def test_two_colours_wound_at_once_are_told_as_held_together_and_not_end_by_end():
    draft = replace(lever_draft([0], ends=80), warp=(0, 1) * 40)
    signs = signs_of(AtLoom(lever_warp(draft)), way=DressingWay(at_once=2))
    one, other = (yarn.name for yarn in draft.yarns[:2])
    assert signs.large == f"40 {one}+{other}"
    # One after the other by turns, or not alike over and over, they stand as they come.
    uneven = lever_warp(replace(draft, warp=(0, 1) * 39 + (0, 0)))
    assert "+" not in signs_of(AtLoom(lever_warp(draft))).large
    assert not signs_of(AtLoom(uneven), way=DressingWay(at_once=2)).large.startswith("40 ")


def test_winding_counts_the_ends_of_a_colour():
    draft = lever_draft([0, 1], ends=8)
    loom = AtLoom(lever_warp(replace(draft, warp=(0, 0, 0, 1, 1, 0, 0, 0))))
    loom.do(go_on_dressing, task=DressingTask.WINDING, count=1)
    signs = signs_of(loom, way=DressingWay(one_by_one=True))
    assert (signs.place[0], signs.large) == ("Winding · colour 1 of 3", "1 sand")
    assert (signs.which[0], signs.following[0]) == ("end 2 of 3 in the stripe", "then 2 ends of sea")
    by_colour = signs_of(loom)
    assert (by_colour.large, by_colour.following[0]) == ("2 sand", "then 2 ends of sea")
    assert by_colour.which[0] == "end 3 of 3 in the stripe"
    whole = signs_of(AtLoom(loom.warp))
    assert (whole.large, whole.which[0]) == ("3 sand", "the whole stripe")


def test_the_test_weave_shows_the_shed_large_and_what_was_wrong():
    loom = AtLoom(two_stage_warp())
    loom.do(begin_task, task=DressingTask.TEST_WEAVE)
    signs = signs_of(loom)
    assert (signs.large, signs.which[0]) == ("Treadle 1: 1 2 up", "treadle 1 alone: shafts 1 2 up, 3 4 down")
    assert signs.harness.left == {0}
    assert signs.harness.raised == (True, True, False, False)
    loom.do(find_shed_wrong, test=0)
    assert signs_of(loom).check[0] == "Found wrong: look at the ties of treadle 1: tied to 1 2, and to nothing else"
    loom.do(go_on_dressing, task=DressingTask.TEST_WEAVE, count=2)
    assert signs_of(loom).large == "Plain weave, lifted by hand: 1 3 up"


def test_when_all_is_done_the_way_leads_to_the_weaving():
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    for task in DressingTask:
        loom.do(partial(settle_task, task=task, state=TaskState.SKIPPED))
    signs = signs_of(loom)
    assert signs.cue == CUE_DRESSED
    assert "Threading: skipped" in signs.check[0]


def test_each_stepped_task_asks_for_its_own_deed():
    assert len(set(CUE.values())) == len(CUE)


def test_the_picture_has_each_thread_on_its_shaft_and_marks_what_is_next():
    loom = threading(done=12)
    work = DressingWay().view(loom.warp, loom.progress, THREADING)
    draft = loom.warp.pieces[0].draft
    steps = (*work.last, *work.now)
    marked = range(len(work.last), len(steps))
    pixels = threads_picture(steps, marked, THREADING, draft, INKS).pixels
    assert pixels.shape == (4 * CELL, len(steps) * CELL, 3)
    for column, step in enumerate(steps):
        for shaft in range(4):
            row = (3 - shaft) * CELL + CELL // 2
            has_eye = (pixels[row, column * CELL + 4] == INKS.mark).all()
            assert has_eye == (step.shafts == (shaft,))
        ground = INKS.now if column in marked else INKS.ground
        assert (pixels[1, column * CELL] == ground).all()


@pytest.mark.parametrize("ends", [8, 500, 10_000])
def test_a_stripe_however_wide_is_drawn_no_wider_than_a_display_takes(ends):
    loom = AtLoom(lever_warp(lever_draft([0, 1], ends=ends)))
    view = DressingWay().view(loom.warp, loom.progress, DressingTask.WINDING)
    assert len(view.now) == ends
    pixels = threads_picture(view.now, range(ends), DressingTask.WINDING, loom.warp.pieces[0].draft, INKS).pixels
    assert max(pixels.shape) <= 2_000
    assert pixels.shape[1] >= 8 * CELL


def test_an_empty_dent_is_drawn_as_a_gap_between_two_bars():
    loom = AtLoom(lever_warp(replace(lever_draft([0, 1], ends=3), sley=Sley((1, 0, 2)))))
    view = DressingWay().view(loom.warp, loom.progress, SLEYING)
    draft = loom.warp.pieces[0].draft
    pixels = threads_picture(view.now, range(0), SLEYING, draft, INKS).pixels
    sand = draft.yarns[0].colour
    middle = [(pixels[5, column * CELL + CELL // 2] == sand).all() for column in range(4)]
    assert middle == [True, False, True, True]


def test_the_warp_is_tied_on_before_anything_of_the_test_weave_is_woven():
    loom = AtLoom(two_stage_warp())
    loom.do(begin_task, task=DressingTask.TEST_WEAVE)
    way = DressingWay()
    check = dress_signs(loom.warp, loom.progress, way, FROM_LEFT, INKS).check
    assert all("tie on" in wording.lower() for wording in check)
    loom.do(go_on_dressing, task=DressingTask.TEST_WEAVE)
    assert dress_signs(loom.warp, loom.progress, way, FROM_LEFT, INKS).check == ("",)
    loom.do(settle_task, task=DressingTask.TEST_WEAVE, state=TaskState.DONE)
    loom.do(begin_task, task=DressingTask.HEADING)
    assert "tie on" not in " ".join(dress_signs(loom.warp, loom.progress, way, FROM_LEFT, INKS).lines).lower()


@pytest.mark.parametrize(
    ("action", "threading", "ties", "words"),
    [
        (Action.RISING, (0, 1, 2, 3) * 2, ([1, 2], [1, 3], [2, 4]), "Plain weave: treadle 2, then treadle 3, by turns"),
        (
            Action.RISING,
            (0, 1, 2, 3) * 2,
            ([1], [2], [3], [4]),
            "Plain weave: treadles 1 3, then treadles 2 4, by turns",
        ),
        (
            Action.RISING,
            (0, 1, 2, 3) * 2,
            ([1, 2], [2, 3], [3, 4], [1, 4]),
            "Plain weave: no treadles tied here open it; lift shafts 1 3, then 2 4 by hand, by turns",
        ),
        (Action.LEVERS, (0, 1, 2, 3) * 2, (), "Plain weave: levers 1 3, then levers 2 4, by turns"),
        (
            Action.RISING,
            (0, 1, 2) * 3,
            ([1], [2, 3]),
            "This threading weaves no plain weave: take the sheds of the draft that tie down best",
        ),
    ],
)
def test_the_heading_says_what_weaves_plain_weave_or_that_nothing_does(action, threading, ties, words):
    draft = replace(lever_draft([0], ends=len(threading)), threading=threading)
    tieup = tuple(Tie(up=shed_of(tie)) for tie in ties)
    tied = {"stages": (Stage(0, 0, tieup),), "footings": (Footing(left=(0,)),)} if ties else {}
    profile = LoomProfile("barn loom", Loom(4, len(ties), action))
    assert heading_words(Warp("mat", profile, (Piece("mat", draft, **tied),))) == words


def test_what_follows_a_task_is_the_next_one_that_is_to_do():
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    loom.do(settle_task, task=THREADING, state=TaskState.DONE)
    loom.do(begin_task, task=DressingTask.BEAMING)
    assert signs_of(loom).following == ("then sleying", "")
