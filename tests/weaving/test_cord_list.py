"""Under the loom: what is to be tied, what is done, and that the list and the tie-up on the loom always agree."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.masks import NO_SHAFT, shed_of
from companion.journal.snapshots import progress_of
from companion.journal.store import Journal
from companion.remap.loom.loom import Tie
from companion.weaving.cord_list import cord_list
from companion.weaving.decide import accept_tie_up, jump, re_tie, tie_treadle, undo, weave_pick
from companion.weaving.errors import WeavingError
from companion.weaving.events import ReTied, TreadleTied
from companion.weaving.onward import onward
from companion.weaving.progress import fold
from companion.weaving.state import re_tie_due, tieup_on
from tests.weaving.world import AtLoom, lever_draft, lever_warp, two_stage_warp


def test_a_tie_up_just_taken_is_all_to_tie_where_nothing_is_known_of_the_one_before():
    loom = AtLoom(two_stage_warp())
    assert cord_list(loom.warp, loom.now).changes == ()
    loom.do(accept_tie_up)
    listed = cord_list(loom.warp, loom.now)
    assert (listed.stage, listed.stages, listed.known, listed.cords_left) == (0, 2, False, 4)
    assert [(change.treadle, change.untie_up, change.tie_up) for change in listed.changes] == [
        (0, NO_SHAFT, shed_of([1, 2])),
        (1, NO_SHAFT, shed_of([2, 3])),
    ]
    with pytest.raises(WeavingError, match="tie stage 1 of 2"):
        loom.do(weave_pick)


def test_with_a_known_tie_up_only_the_cords_that_differ_are_listed():
    loom = AtLoom(two_stage_warp(present=(Tie(up=shed_of([1, 2])), Tie(up=shed_of([2, 4])))))
    loom.do(accept_tie_up)
    listed = cord_list(loom.warp, loom.now)
    assert listed.known
    (change,) = listed.changes
    assert (change.treadle, change.untie_up, change.tie_up) == (1, shed_of([4]), shed_of([3]))


def test_a_known_tie_up_that_is_the_wanted_one_leaves_nothing_to_tie():
    loom = AtLoom(two_stage_warp(present=(Tie(up=shed_of([1, 2])), Tie(up=shed_of([2, 3])))))
    loom.do(accept_tie_up)
    assert cord_list(loom.warp, loom.now).changes == ()
    loom.do(weave_pick)


def test_cords_to_a_shaft_that_carries_no_end_are_left_alone():
    present = (Tie(up=shed_of([1, 2, 7])), Tie(up=shed_of([2, 3])))
    loom = AtLoom(two_stage_warp(present=present))
    assert cord_list(loom.warp, loom.now).changes == ()
    assert re_tie_due(loom.warp, loom.now) is None


def test_ticks_stand_until_the_stage_is_said_to_be_tied_and_can_be_taken_back():
    loom = AtLoom(two_stage_warp())
    loom.weave(4)
    assert re_tie_due(loom.warp, loom.now) == 1
    assert loom.do(tie_treadle, 0).event == TreadleTied(1, 0)
    assert cord_list(loom.warp, loom.now).done == {0}
    assert tieup_on(loom.warp, loom.now) == (Tie(up=shed_of([3, 4])), Tie(up=shed_of([2, 3])))
    assert loom.do(tie_treadle, 0, tied=False).event == TreadleTied(1, 0, tied=False)
    assert cord_list(loom.warp, loom.now).done == frozenset()
    loom.do(tie_treadle, 1)
    loom.do(undo)
    assert cord_list(loom.warp, loom.now).done == frozenset()
    loom.do(tie_treadle, 1)
    loom.do(tie_treadle, 0)
    assert cord_list(loom.warp, loom.now).complete
    assert re_tie_due(loom.warp, loom.now) is None
    loom.do(re_tie)
    assert (loom.now.tied, loom.now.ticks) == ((0, 1), ())
    loom.weave(4)


def test_next_says_that_the_whole_stage_is_tied_without_any_tick():
    loom = AtLoom(two_stage_warp())
    loom.weave(4)
    assert loom.do(onward).event == ReTied(1)
    loom.weave(4)


def test_half_tied_for_one_stage_the_way_back_to_the_other_lists_what_was_changed():
    loom = AtLoom(two_stage_warp())
    loom.weave(4)
    loom.do(tie_treadle, 0)
    loom.do(jump, 0)
    assert re_tie_due(loom.warp, loom.now) == 0
    listed = cord_list(loom.warp, loom.now)
    assert [change.treadle for change in listed.changes] == [0]
    loom.do(tie_treadle, 0)
    assert re_tie_due(loom.warp, loom.now) is None
    loom.do(jump, 4)
    assert [change.treadle for change in cord_list(loom.warp, loom.now).changes] == [0, 1]
    assert cord_list(loom.warp, loom.now).done == frozenset()


@pytest.mark.parametrize(
    ("command", "line"),
    [
        (lambda loom: loom.do(tie_treadle, 0), "no tie changes at treadle 1"),
        (lambda loom: loom.do(weave_pick) and loom.do(accept_tie_up), "begun already"),
    ],
)
def test_what_means_nothing_now_is_refused(command, line):
    with pytest.raises(WeavingError, match=line):
        command(AtLoom(two_stage_warp()))


def test_a_treadle_is_tied_once_and_a_lever_loom_has_none():
    loom = AtLoom(two_stage_warp())
    loom.do(accept_tie_up)
    loom.do(tie_treadle, 0)
    with pytest.raises(WeavingError, match="tied already"):
        loom.do(tie_treadle, 0)
    with pytest.raises(WeavingError, match="not tied yet"):
        loom.do(tie_treadle, 1, tied=False)
    levers = AtLoom(lever_warp(lever_draft([0])))
    assert cord_list(levers.warp, levers.now) is None
    with pytest.raises(WeavingError, match="without treadles"):
        levers.do(accept_tie_up)


def test_ticks_are_there_again_after_a_kill(tmp_path):
    path = tmp_path / "two.journal"
    loom = AtLoom(two_stage_warp())
    loom.do(accept_tie_up)
    loom.do(tie_treadle, 1)
    with Journal.create(path, loom.warp, at_ms=0) as journal:
        for entry in loom.entries:
            journal.append(entry.event, entry.at_ms)
    with Journal.open(path) as journal:
        assert cord_list(loom.warp, progress_of(journal).now).done == {1}


moves = st.one_of(
    st.tuples(st.just(tie_treadle), st.integers(0, 1), st.booleans()),
    st.tuples(st.just(jump), st.integers(0, 7)),
    st.tuples(st.just(re_tie)),
    st.tuples(st.just(weave_pick)),
)


@settings(max_examples=150)
@given(st.lists(moves, max_size=25))
def test_the_list_is_what_a_person_would_find_under_the_loom(happening):
    """The cords are kept by hand here: a tick ties one treadle, taken back it is as before, "tied" ties them all."""
    loom = AtLoom(two_stage_warp(present=(Tie(), Tie())))
    loom.do(accept_tie_up)
    stages = [stage.tieup for stage in loom.warp.pieces[0].stages]
    tied = [[(Tie(), None)], [(Tie(), None)]]  # of each treadle what was tied last, and for which stage
    for command, *arguments in happening:
        try:
            event = loom.do(command, *arguments).event
        except WeavingError:
            continue
        if isinstance(event, ReTied):
            tied = [[(tie, None)] for tie in stages[event.stage]]
        if isinstance(event, TreadleTied):
            pile = [entry for entry in tied[event.treadle] if entry[1] != event.stage]
            again = [(stages[event.stage][event.treadle], event.stage)] if event.tied else []
            tied[event.treadle] = pile + again
        by_hand = tuple(pile[-1][0] for pile in tied)
        assert tieup_on(loom.warp, loom.now) == by_hand
        listed = cord_list(loom.warp, loom.now)
        wrong = {treadle for treadle in (0, 1) if by_hand[treadle] != stages[listed.stage][treadle]}
        assert {change.treadle for change in listed.changes} - listed.done == wrong
        assert (re_tie_due(loom.warp, loom.now) is not None) == bool(wrong and loom.now.next_pick < 8)
    assert fold(loom.warp, loom.entries) == loom.progress
