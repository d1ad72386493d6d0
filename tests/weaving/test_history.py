"""The long form of a journal, and the faults counted from it by hand."""

from __future__ import annotations

from companion.draft.facing import Side
from companion.draft.model import Section
from companion.weaving import decide
from companion.weaving.dressing import time_ms
from companion.weaving.dressing_commands import begin_task, go_on_dressing
from companion.weaving.dressing_events import DressingTask
from companion.weaving.events import FaultKind, FaultState
from companion.weaving.faults import count_faults
from companion.weaving.history import SESSION_GAP_MS, history
from companion.weaving.one_event import AWAY_MS
from tests.weaving.world import AtLoom, lever_draft, lever_warp, two_stage_warp


def test_what_was_undone_is_left_out_and_counted():
    loom = AtLoom(lever_warp(lever_draft([0] * 9)))
    loom.weave(3)
    loom.do(decide.write_note, "reed mark")
    loom.do(decide.undo)
    loom.do(decide.undo)
    loom.do(decide.take_out)
    told = history(loom.warp, loom.entries)
    assert [(pick.pick, pick.taken_out) for pick in told.woven] == [(0, False), (1, True)]
    assert (told.notes, len(told.happened), told.undone) == ((), 7, 2)
    assert [happened.undone for happened in told.happened] == [False, False, True, True, False, False, False]
    assert told.progress == loom.progress


def test_a_fault_keeps_its_story():
    loom = AtLoom(lever_warp(lever_draft([0] * 9)), gap_ms=1000)
    loom.weave(4)
    found = loom.do(decide.note_fault, FaultKind.SKIPPED_END, 2, 5, FaultState.FOUND, "left selvedge")
    loom.do(decide.note_fault, FaultKind.UNEVEN_BEAT, 3, None, FaultState.LEFT)
    settled = loom.do(decide.settle_fault, 0, FaultState.MENDED, "needle, 4 cm")
    skipped, beat = history(loom.warp, loom.entries).faults
    assert (skipped.kind, skipped.pick, skipped.end, skipped.note) == (FaultKind.SKIPPED_END, 2, 5, "left selvedge")
    assert (skipped.found_at_ms, skipped.settled_at_ms) == (found.at_ms, settled.at_ms)
    assert skipped.how == "needle, 4 cm"
    assert (skipped.state, beat.state) == (FaultState.MENDED, FaultState.LEFT)
    assert skipped.found_at_loom_ms == 4000


def test_faults_by_section_kind_and_hour():
    draft = lever_draft([0] * 10, [Section("hem", 4), Section("body", 6)])
    loom = AtLoom(lever_warp(draft), gap_ms=500_000)
    loom.weave(8)
    loom.do(decide.note_fault, FaultKind.WRONG_SHED, 1)
    loom.do(decide.note_fault, FaultKind.WRONG_SHED, 6)
    loom.do(decide.settle_fault, 1, FaultState.LEFT)
    loom.weave(2)
    count = count_faults(loom.warp, history(loom.warp, loom.entries))
    assert (count.all_picks.faults, count.all_picks.picks, count.all_picks.per_thousand) == (2, 10, 200.0)
    assert [(rate.heading, rate.faults, rate.picks) for rate in count.by_section] == [("hem", 1, 4), ("body", 1, 6)]
    # 500 s apart: picks 1 to 8 fall into the first hour, where both faults were made, though found in the second.
    assert [(rate.faults, rate.picks) for rate in count.by_hour] == [(2, 8), (0, 2)]
    assert count.by_kind == ((FaultKind.WRONG_SHED, 2),)
    assert count.by_state == ((FaultState.FOUND, 1), (FaultState.LEFT, 1))


def test_faults_by_how_many_treadles_change():
    loom = AtLoom(two_stage_warp())
    loom.weave(2)
    loom.do(decide.note_fault, FaultKind.WRONG_SHED, 1)
    count = count_faults(loom.warp, history(loom.warp, loom.entries))
    # The first pick presses one treadle where none was; the second lets it go and presses another.
    assert [(rate.heading, rate.faults, rate.picks) for rate in count.by_change] == [
        ("1 treadle or lever changes", 0, 1),
        ("2 treadles or levers change", 1, 1),
    ]


def counted(loom):
    return count_faults(loom.warp, history(loom.warp, loom.entries))


def test_a_fault_undone_counts_nowhere_and_a_pick_undone_was_never_woven():
    loom = AtLoom(lever_warp(lever_draft([0] * 10, [Section("hem", 4), Section("body", 6)])))
    loom.weave(5)
    loom.do(decide.note_fault, FaultKind.WRONG_SHED, 4)
    loom.do(decide.undo)
    loom.do(decide.undo)
    count = counted(loom)
    assert (count.all_picks.faults, count.all_picks.picks) == (0, 4)
    assert [(rate.heading, rate.faults, rate.picks) for rate in count.by_section] == [("hem", 0, 4)]
    assert (count.by_kind, count.by_state) == ((), ())


def test_a_fault_unwoven_still_counts_and_so_does_the_pick_that_was_taken_out():
    loom = AtLoom(lever_warp(lever_draft([0] * 10, [Section("hem", 4), Section("body", 6)])))
    loom.weave(5)
    loom.do(decide.note_fault, FaultKind.WRONG_SHED, 3, None, FaultState.MENDED)
    for _ in range(2):
        loom.do(decide.take_out)
    loom.weave(2)
    told = history(loom.warp, loom.entries)
    assert [(pick.pick, pick.taken_out) for pick in told.woven[3:]] == [(3, True), (4, True), (3, False), (4, False)]
    assert told.faults[0].woven == 3
    count = counted(loom)
    assert (count.all_picks.faults, count.all_picks.picks) == (1, 7)
    assert [(rate.heading, rate.faults, rate.picks) for rate in count.by_section] == [("hem", 1, 5), ("body", 0, 2)]


def test_the_change_of_the_feet_is_that_from_the_pick_in_the_cloth_jumps_and_all():
    """Pick 3 presses what pick 1 does, so that woven on pick 1, after a jump, nothing changes."""
    loom = AtLoom(two_stage_warp())
    loom.weave(1)
    loom.do(decide.jump, 2)
    loom.weave(1)
    loom.do(decide.note_fault, FaultKind.WRONG_SHED, 2)
    assert [(rate.heading, rate.faults, rate.picks) for rate in counted(loom).by_change] == [
        ("nothing changes", 1, 1),
        ("1 treadle or lever changes", 0, 1),
    ]


def test_a_fault_in_a_pick_woven_twice_is_in_the_newest_and_none_in_another_piece():
    loom = AtLoom(lever_warp(lever_draft([0] * 4), lever_draft([0] * 4)))
    loom.weave(2)
    loom.do(decide.jump, 1)
    loom.weave(1)
    loom.do(decide.note_fault, FaultKind.OTHER, 1)
    loom.do(decide.finish_piece)
    loom.do(decide.start_piece)
    loom.do(decide.note_fault, FaultKind.OTHER, 1)
    assert [fault.woven for fault in history(loom.warp, loom.entries).faults] == [2, None]
    sections = [(rate.heading, rate.faults, rate.picks) for rate in counted(loom).by_section]
    assert sections == [("piece 1: piece 1", 1, 3), ("piece 2: piece 2", 1, 0)]


def test_a_section_without_picks_woven_has_no_rate():
    loom = AtLoom(lever_warp(lever_draft([0] * 4)))
    loom.do(decide.note_fault, FaultKind.BROKEN_END, 0, 0)
    assert count_faults(loom.warp, history(loom.warp, loom.entries)).all_picks.per_thousand is None


def test_a_session_ends_only_where_nothing_is_entered_for_longer_than_its_gap():
    loom = AtLoom(lever_warp(lever_draft([0] * 9)), gap_ms=1000)
    loom.weave(3)
    # A pause to fetch a bobbin, and a cup of tea without one, are no ends of it; their time is not counted.
    loom.do(decide.pause)
    loom.gap_ms = SESSION_GAP_MS
    loom.do(decide.resume)
    loom.weave(1)
    loom.gap_ms = 1000
    loom.weave(2)
    loom.gap_ms = SESSION_GAP_MS + 1
    loom.weave(1)
    told = history(loom.warp, loom.entries)
    whole_ms = 3000 + 2 * SESSION_GAP_MS + 2000
    assert [(sitting.picks, sitting.ended_ms - sitting.began_ms, sitting.spent_ms) for sitting in told.sittings] == [
        (6, whole_ms, 5000),
        (1, 0, 0),
    ]


def test_the_times_of_all_sessions_are_the_time_at_the_loom_and_that_of_dressing_it():
    loom = AtLoom(lever_warp(lever_draft([0] * 9)), gap_ms=70_000)
    loom.do(begin_task, task=DressingTask.THREADING)
    loom.do(go_on_dressing, task=DressingTask.THREADING)
    loom.do(decide.pause)
    loom.do(decide.resume)
    loom.weave(2)
    loom.gap_ms = AWAY_MS + 1
    loom.weave(1)
    loom.gap_ms = 70_000
    loom.weave(2)
    told = history(loom.warp, loom.entries)
    now = told.progress.now
    assert [sitting.picks for sitting in told.sittings] == [5]
    assert sum(sitting.spent_ms for sitting in told.sittings) == now.at_loom_ms + time_ms(now.dressing)
    assert (now.at_loom_ms, time_ms(now.dressing)) == (3 * 70_000, 3 * 70_000)


def test_each_piece_begun_keeps_its_cloth_and_its_time():
    loom = AtLoom(lever_warp(lever_draft([0, 1, 0]), lever_draft([2, 2]), picks_per_cm=2.0), gap_ms=1000)
    loom.weave(3)
    loom.do(decide.take_out)
    loom.do(decide.finish_piece)
    loom.do(decide.start_piece)
    loom.weave(1)
    first, second = history(loom.warp, loom.entries).pieces
    assert (first.cloth.picks, first.finished, first.woven_cm, first.at_loom_ms) == (2, True, 1.0, 5000)
    assert (second.cloth.picks, second.finished, second.at_loom_ms) == (1, False, 1000)


def test_where_each_shuttle_came_from_is_told():
    loom = AtLoom(lever_warp(lever_draft([0, 0, 1])))
    loom.weave(3)
    told = history(loom.warp, loom.entries).happened
    assert [happened.came_from for happened in told] == [Side.RIGHT, Side.LEFT, Side.RIGHT]


def test_undone_picks_are_in_no_session_and_a_clock_put_right_parts_none():
    loom = AtLoom(lever_warp(lever_draft([0] * 9)), gap_ms=10_000)
    loom.weave(3)
    loom.do(decide.undo)
    loom.gap_ms = -400
    loom.weave(1)
    loom.gap_ms = 10_000
    loom.weave(2)
    (sitting,) = history(loom.warp, loom.entries).sittings
    assert (sitting.picks, sitting.spent_ms) == (5, loom.now.at_loom_ms)
    assert sitting.ended_ms == loom.now.at_ms
