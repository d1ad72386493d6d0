"""What the weaver is shown while threading and sleying: each end once, in order, from the side she works from."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.reading import read_draft
from companion.draft.sley import Sley
from companion.weaving.dressing import FRONT_TO_BACK, MOST_BEGUN
from companion.weaving.dressing_commands import begin_task, go_on_dressing, settle_task, take_out_dressing
from companion.weaving.dressing_events import DressingTask, TaskState
from companion.weaving.dressing_view import view_dressing, view_tasks, view_trial, work_of
from companion.weaving.dressing_way import DressingWay
from companion.weaving.trial_weave import ends_near
from companion.weaving.warp import LoomProfile, Piece, Warp
from companion.workshop.places import asset
from tests.draft.drafts import KEPT
from tests.weaving.world import LEVERS, AtLoom, lever_draft, lever_warp

THREADING, SLEYING, WINDING = DressingTask.THREADING, DressingTask.SLEYING, DressingTask.WINDING


def asset_warp(name, **more):
    kept = KEPT / f"{name}.txt"
    path = kept if kept.exists() else asset(f"drafts/{name}.txt")
    draft = replace(read_draft(path.read_bytes()), **more)
    loom = replace(LEVERS.loom, shafts=draft.shafts)
    return Warp(name, LoomProfile("try-out", loom), (Piece("piece", draft),))


def dress_in_full(warp, task, way, from_last=False):
    """A simulated weaver: does what she is shown, press by press; returns the (end, shaft) pairs in her order."""
    loom, told = AtLoom(warp), []
    loom.do(begin_task, task=task, from_last=from_last)
    presses = 0
    while (view := way.view(loom.warp, loom.progress, task)) is not None and view.now:
        told.extend((end, shaft) for step in view.now for end, shaft in zip(step.ends, step.shafts, strict=True))
        loom.do(way.go_on(loom.warp, loom.progress, task))
        presses += 1
    assert presses <= view.total
    return told


@pytest.mark.parametrize("name", ["overshot-four-shaft", "overshot-eight-shaft", "twill-gamp-four-shaft"])
@pytest.mark.parametrize("from_last", [False, True])
@pytest.mark.parametrize("one_by_one", [False, True])
def test_an_overshot_and_a_gamp_are_threaded_in_full_by_a_simulated_weaver(name, from_last, one_by_one):
    warp = asset_warp(name)
    drawn_in = list(enumerate(warp.pieces[0].draft.threading))
    told = dress_in_full(warp, THREADING, DressingWay(one_by_one=one_by_one), from_last)
    assert told == (drawn_in[::-1] if from_last else drawn_in)


@settings(max_examples=40)
@given(st.lists(st.integers(0, 4), min_size=1, max_size=20).filter(any), st.booleans(), st.integers(1, 9))
def test_every_end_is_sleyed_once_in_its_dent_whichever_the_side(dents, from_last, group):
    warp = lever_warp(replace(lever_draft([0, 1], ends=sum(dents)), sley=Sley(tuple(dents))))
    told = dress_in_full(warp, SLEYING, DressingWay(group=group), from_last)
    ends = list(range(sum(dents)))
    assert [end for end, _ in told] == (ends[::-1] if from_last else ends)


def test_a_group_of_dents_holds_no_more_ends_than_a_group_to_thread():
    warp = lever_warp(replace(lever_draft([0, 1], ends=12), sley=Sley((2, 0, 3, 1, 2, 4))))
    work = work_of(warp, AtLoom(warp).now.dressing, SLEYING, 5)
    assert work.stops == (3, 5, 6)
    with_empty = [[len(work.steps[at].ends) for at in work.steps_of_group(group)] for group in range(3)]
    assert with_empty == [[2, 0, 3], [1, 2], [4]]


@pytest.mark.parametrize(("one_by_one", "shown"), [(False, [4, 2, 1]), (True, [2, 2, 2, 1])])
def test_winding_goes_by_colours_or_turn_by_turn(one_by_one, shown):
    """Two at once of 0 0 0 0 1 1 1: two turns of one colour, a turn of the other, and its last end alone."""
    warp = lever_warp(replace(lever_draft([0, 1], ends=7), warp=(0, 0, 0, 0, 1, 1, 1)))
    way, loom, told = DressingWay(at_once=2, one_by_one=one_by_one), AtLoom(warp), []
    while (view := way.view(warp, loom.progress, WINDING)).now:
        told.append(len(view.now))
        loom.do(way.go_on(warp, loom.progress, WINDING))
    assert told == shown
    loom.do(way.back(warp, loom.progress, WINDING))
    assert loom.now.dressing.of(WINDING).done == 7 - shown[-1]


def test_the_last_threads_and_what_is_left_are_shown():
    warp = asset_warp("overshot-four-shaft")
    warp = replace(warp, loom=replace(warp.loom, heddles=(30, 41, 30, 30)))
    loom, way = AtLoom(warp), DressingWay()
    loom.do(way.go_on(warp, loom.progress, THREADING))
    view = way.view(warp, loom.progress, THREADING)
    # The first group is 1 2 1 2 3 2 3 4 3 4 1 4: three ends on each shaft.
    assert view.just_done == (3, 3, 3, 3)
    assert view.left == (27, 38, 27, 27)
    assert view.told
    assert [step.shafts for step in view.last] == [(shaft,) for shaft in (2, 1, 2, 3, 2, 3, 0, 3)]


def test_where_no_heddles_are_told_the_ends_to_come_are_counted():
    loom, way = AtLoom(asset_warp("overshot-four-shaft")), DressingWay()
    loom.do(way.go_on(loom.warp, loom.progress, THREADING))
    view = way.view(loom.warp, loom.progress, THREADING)
    assert (view.told, view.left) == (False, (15, 24, 24, 15))


def test_within_a_group_nothing_is_to_be_checked_yet():
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    loom.do(go_on_dressing, task=THREADING, count=5)
    view = DressingWay().view(loom.warp, loom.progress, THREADING)
    assert view.just_done == ()
    assert [step.ends for step in view.now] == [(end,) for end in range(5, 12)]


def test_back_takes_out_to_the_beginning_of_the_newest_group_or_one_end():
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    loom.do(go_on_dressing, task=THREADING, count=17)
    way = DressingWay()
    loom.do(way.back(loom.warp, loom.progress, THREADING))
    assert loom.now.dressing.of(THREADING).done == 12
    loom.do(way.back(loom.warp, loom.progress, THREADING))
    assert loom.now.dressing.of(THREADING).done == 0
    loom.do(go_on_dressing, task=THREADING, count=3)
    one = replace(way, one_by_one=True)
    loom.do(one.back(loom.warp, loom.progress, THREADING))
    assert loom.now.dressing.of(THREADING).done == 2


def test_back_takes_out_what_the_newest_press_did_where_some_were_taken_out_before_it():
    loom, way = AtLoom(asset_warp("overshot-four-shaft")), DressingWay()

    def done_after(command):
        loom.do(command)
        return loom.now.dressing.of(THREADING).done

    assert [done_after(way.go_on(loom.warp, loom.progress, THREADING)) for _ in range(2)] == [12, 24]
    assert done_after(partial(take_out_dressing, task=THREADING, count=5)) == 19
    assert done_after(way.go_on(loom.warp, loom.progress, THREADING)) == 24
    assert [done_after(way.back(loom.warp, loom.progress, THREADING)) for _ in range(3)] == [19, 12, 0]


def test_back_follows_every_press_of_groups_and_single_ends_to_the_first():
    loom, presses = AtLoom(asset_warp("overshot-four-shaft")), []
    ways = [DressingWay(one_by_one=single) for single in (False, True, True, False, True)]
    for way in ways:
        presses.append(loom.do(way.go_on(loom.warp, loom.progress, THREADING)).event.count)
    assert presses == [12, 1, 1, 10, 1]
    takings = [loom.do(way.back(loom.warp, loom.progress, THREADING)).event.count for way in reversed(ways)]
    assert takings == presses[::-1]


def test_where_more_presses_were_made_than_are_known_back_takes_the_group():
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    for _ in range(MOST_BEGUN + 10):
        loom.do(go_on_dressing, task=THREADING)
    begun = loom.now.dressing.of(THREADING).begun
    assert begun == tuple(range(10, MOST_BEGUN + 10))
    loom.do(take_out_dressing, task=THREADING, count=MOST_BEGUN)
    loom.do(DressingWay().back(loom.warp, loom.progress, THREADING))
    assert loom.now.dressing.of(THREADING).done == 0


def test_two_presses_one_upon_the_other_take_the_two_groups_that_are_next():
    loom, way = AtLoom(asset_warp("overshot-four-shaft")), DressingWay()
    loom.do(begin_task, task=THREADING)
    loom.do(go_on_dressing, task=THREADING, count=12)
    presses = [way.go_on(loom.warp, loom.progress, THREADING)] * 2
    takings = [way.back(loom.warp, loom.progress, THREADING)] * 2
    groups = [loom.do(press).event.count for press in presses]
    # Figures of 14 ends, begun where the draft begins them: 8 up to the turn, 6 back.
    assert groups == [12, 8]
    assert [loom.do(taking).event.count for taking in takings] == groups[::-1]


def test_the_ends_near_a_place_are_told_with_their_shafts():
    near = ends_near(asset_warp("overshot-four-shaft"), 0)
    assert (near.ends, near.shafts) == ((0, 1, 2), (0, 1, 0))


def test_after_a_task_comes_the_first_that_is_still_to_do_in_the_weavers_order():
    loom, way = AtLoom(asset_warp("overshot-four-shaft")), DressingWay(order=FRONT_TO_BACK)
    for task in FRONT_TO_BACK[:-1]:
        assert way.after(loom.warp, loom.progress, way.task(loom.warp, loom.progress)) is not task
        if task is not DressingTask.TIE_UP:
            loom.do(settle_task, task=task, state=TaskState.DONE)
    # This loom has levers: nothing is tied.
    assert way.after(loom.warp, loom.progress, DressingTask.TIE_UP) is DressingTask.HEADING
    assert way.after(loom.warp, loom.progress, DressingTask.HEADING) is None


def test_the_tasks_are_in_the_weavers_order_with_their_times():
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    loom.do(go_on_dressing, task=THREADING, count=5)
    loom.do(go_on_dressing, task=THREADING, count=5)
    views = view_tasks(loom.warp, loom.now.dressing, (SLEYING, THREADING))
    assert [(view.task, view.done, view.total, view.ms) for view in views] == [
        (SLEYING, 0, 0, 0),
        (THREADING, 10, 90, 5_000),
    ]


def test_the_test_weave_goes_from_shed_to_shed():
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    view = view_trial(loom.warp, loom.now.dressing)
    assert (view.test, view.total, view.was_wrong) == (0, 6, False)
    loom.do(go_on_dressing, task=DressingTask.TEST_WEAVE, count=6)
    assert view_trial(loom.warp, loom.now.dressing) is None


def test_one_by_one_shows_the_next_end_then():
    loom = AtLoom(asset_warp("overshot-four-shaft"))
    work = work_of(loom.warp, loom.now.dressing, THREADING, 12)
    view = view_dressing(loom.warp, loom.now.dressing, work, one_by_one=True)
    assert ([step.shafts for step in view.now], [step.shafts for step in view.then]) == ([(0,)], [(1,)])
