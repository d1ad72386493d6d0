"""What one event makes of the state: shuttles, lengths, stages, time, and entries that cannot follow."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.facing import FROM_LEFT, Side
from companion.draft.model import Section
from companion.draft.units import Units
from companion.present.plan_words import early_warnings
from companion.record.page import to_html
from companion.record.sheet import sheet
from companion.record.tables import to_csv, to_document
from companion.weaving import decide
from companion.weaving.amounts import warp_left
from companion.weaving.coming_back import coming_back
from companion.weaving.errors import ContradictionError, WeavingError
from companion.weaving.events import (
    BobbinChanged,
    Entry,
    FaultKind,
    FaultNoted,
    FaultSettled,
    FaultState,
    Jumped,
    LengthMeasured,
    NearMiss,
    NoteWritten,
    Paused,
    PickTakenOut,
    PickWoven,
    PieceFinished,
    PieceStarted,
    Resumed,
    ReTied,
    TieUpAccepted,
    TreadleTied,
    Undone,
)
from companion.weaving.forecast import forecast
from companion.weaving.one_event import AWAY_MS
from companion.weaving.pick_view import next_pick, rows_at_fell, this_pick
from companion.weaving.progress import begin, evolve, fold
from companion.weaving.state import Bobbin, Shuttle
from companion.weaving.warp import Winding
from companion.weaving.yarn_needs import weft_needed
from tests.weaving.world import AtLoom, lever_draft, lever_warp, two_stage_warp


def test_a_shuttle_comes_from_the_right_then_from_the_left():
    loom = AtLoom(lever_warp(lever_draft([0, 0, 1, 0])))
    sides = []
    for _ in range(4):
        view = this_pick(loom.warp, loom.progress)
        sides.append((view.shuttle, view.comes_from, view.changes, view.far))
        loom.weave(1)
    assert sides == [
        ("sand", Side.RIGHT, False, False),
        ("sand", Side.LEFT, False, False),
        ("sea", Side.RIGHT, True, False),
        ("sand", Side.RIGHT, True, True),
    ]
    assert this_pick(loom.warp, loom.progress) is None
    assert [row.went_to for row in rows_at_fell(loom.warp, loom.progress, 9)] == [
        Side.LEFT,
        Side.LEFT,
        Side.RIGHT,
        Side.LEFT,
    ]


def test_a_section_until_a_length_ends_with_the_first_whole_repeat_that_reaches_it():
    draft = lever_draft([0] * 8, [Section("hem", 2), Section("body", 4, until_cm=3.0), Section("hem", 2)])
    loom = AtLoom(lever_warp(draft, picks_per_cm=3.0))
    loom.weave(2)
    laps = []
    while (view := this_pick(loom.warp, loom.progress)).section == 1:
        assert view.laps == 3
        laps.append((view.pick, view.lap))
        loom.weave(1)
    # 9 picks make 3 cm at 3 picks per cm: the third repeat of 4 reaches them.
    assert laps == [(pick, lap) for lap in range(3) for pick in (2, 3, 4, 5)]


def test_a_repeat_of_a_length_keeps_its_number_where_it_was_begun_amid_it_or_picks_were_left_out():
    draft = lever_draft([0] * 6, [Section("hem", 2), Section("body", 4, until_cm=9.0)])
    loom = AtLoom(lever_warp(draft, picks_per_cm=3.0))

    def numbers(picks):
        seen = []
        for _ in range(picks):
            seen.append(this_pick(loom.warp, loom.progress).lap + 1)
            loom.weave(1)
        return seen

    loom.do(decide.jump, pick=4)
    assert numbers(2 + 4 + 1) == [1, 1, 2, 2, 2, 2, 3]
    loom.do(decide.jump, pick=5)
    assert numbers(1 + 4) == [3, 4, 4, 4, 4]


def test_a_measure_changes_how_many_repeats_a_length_takes():
    draft = lever_draft([0] * 6, [Section("body", 4, until_cm=3.0), Section("hem", 2)])
    loom = AtLoom(lever_warp(draft, picks_per_cm=3.0))
    loom.weave(4)
    loom.do(decide.measure, 0.8)
    loom.weave(12)
    # 5 picks per cm were measured, so 15 picks are needed: four repeats.
    assert loom.now.next_pick == 4


def test_without_plan_or_measure_a_section_goes_on_until_it_is_ended():
    draft = lever_draft([0] * 6, [Section("body", 4, until_cm=3.0), Section("hem", 2)])
    loom = AtLoom(lever_warp(draft))
    loom.weave(402)
    assert loom.now.next_pick == 2
    assert len(loom.now.cloth.below) == 1
    loom.do(decide.end_section)
    assert loom.now.next_pick == 4


def test_taking_out_after_a_jump_takes_out_what_lies_in_the_cloth():
    loom = AtLoom(lever_warp(lever_draft([0, 1, 2, 0, 1])))
    loom.weave(3)
    loom.do(decide.jump, 0, "once more")
    loom.weave(1)
    taken = [loom.do(decide.take_out).event.pick for _ in range(3)]
    assert taken == [0, 2, 1]
    assert loom.now.next_pick == 1


def test_a_section_is_repeated_only_when_it_is_finished():
    loom = AtLoom(lever_warp(lever_draft([0] * 5, [Section("a", 3), Section("b", 2)])))
    loom.weave(2)
    with pytest.raises(WeavingError, match="last 1 picks"):
        loom.do(decide.repeat_section)
    loom.weave(1)
    loom.do(decide.repeat_section)
    assert loom.now.next_pick == 0
    loom.do(decide.undo)
    assert loom.now.next_pick == 3


def test_a_section_woven_to_a_length_is_woven_to_it_once_more():
    """By hand: a hem of 4 picks until 2 cm at 8 per cm is 4 times 4 picks; once more, it is 4 times 4 again."""
    hem = lever_draft([0] * 5, [Section("hem", 4, until_cm=2.0), Section("body", 1)])
    loom = AtLoom(lever_warp(hem, picks_per_cm=8.0))
    loom.weave(16)
    assert loom.now.next_pick == 4
    loom.do(decide.repeat_section)
    loom.weave(1)
    loom.do(decide.take_out)
    view = this_pick(loom.warp, loom.progress)
    assert (view.pick, view.lap, view.laps, view.section_cm) == (0, 0, 4, 0.0)
    loom.weave(15)
    view = this_pick(loom.warp, loom.progress)
    assert (view.pick, view.lap, view.section_cm) == (3, 3, 15 / 8)
    loom.weave(1)
    assert (loom.now.next_pick, loom.now.cloth.picks) == (4, 32)


def test_a_section_once_more_of_an_older_journal_means_what_it_meant():
    """There what lay in the cloth counted, so that one repeat was woven."""
    hem = lever_draft([0] * 5, [Section("hem", 4, until_cm=2.0), Section("body", 1)])
    loom = AtLoom(lever_warp(hem, picks_per_cm=8.0))
    loom.weave(16)
    loom.do(decide.jump, 0, "section once more")
    loom.weave(4)
    assert loom.now.next_pick == 4


def test_no_section_without_a_length_is_begun_anew():
    loom = AtLoom(lever_warp(lever_draft([0] * 5)))
    with pytest.raises(ContradictionError, match="a length begun anew at pick 1, which is woven to none"):
        evolve(loom.warp, loom.progress, Entry(1, 0, Jumped(0, anew=True)))


def test_weaving_stops_where_the_treadles_must_be_tied_anew():
    loom = AtLoom(two_stage_warp())
    loom.weave(3)
    assert next_pick(loom.warp, loom.progress).re_tie == 1
    loom.weave(1)
    assert this_pick(loom.warp, loom.progress).re_tie == 1
    with pytest.raises(WeavingError, match="tie stage 2 of 2"):
        loom.do(decide.weave_pick)
    loom.do(decide.re_tie)
    loom.weave(4)
    assert loom.now.next_pick == 8


def test_a_loom_with_another_tie_up_must_be_tied_before_the_first_pick():
    loom = AtLoom(two_stage_warp(present=()))
    assert this_pick(loom.warp, loom.progress).re_tie == 0
    loom.do(decide.re_tie)
    loom.weave(1)


def test_a_bobbin_of_known_length_teaches_the_weft_per_pick():
    loom = AtLoom(lever_warp(lever_draft([0] * 8)))
    loom.do(decide.change_bobbin, 0, 10.0)
    loom.weave(4)
    loom.do(decide.change_bobbin, 0, 12.0)
    shuttle = loom.now.shuttles[0]
    assert shuttle == Shuttle(picks=4, bobbin_metres=12.0, bobbin_picks=0, bobbins=(Bobbin(10.0, 4),))


def test_the_next_piece_begins_with_its_shuttles_at_the_start_side():
    loom = AtLoom(lever_warp(lever_draft([0, 1, 0]), lever_draft([0, 0]), start_side=Side.LEFT))
    loom.weave(1)
    loom.do(decide.finish_piece)
    with pytest.raises(WeavingError, match="finished"):
        loom.do(decide.weave_pick)
    loom.do(decide.start_piece)
    view = this_pick(loom.warp, loom.progress)
    assert (view.piece, view.pick, view.comes_from) == (1, 0, Side.LEFT)


def test_time_at_the_loom_leaves_out_pauses_absences_and_a_clock_set_back():
    warp = lever_warp(lever_draft([0] * 9))
    loom = AtLoom(warp, gap_ms=1_000)
    loom.weave(3)
    assert loom.now.at_loom_ms == 2_000
    loom.do(decide.pause)
    loom.gap_ms = 400_000
    loom.do(decide.resume)
    assert loom.now.at_loom_ms == 3_000
    loom.gap_ms = AWAY_MS + 1
    loom.weave(1)
    loom.gap_ms = -50_000
    loom.weave(1)
    assert loom.now.at_loom_ms == 3_000
    loom.gap_ms = AWAY_MS
    loom.do(decide.undo)
    assert loom.now.at_loom_ms == 3_000 + AWAY_MS


@pytest.mark.parametrize(
    "event",
    [
        PickWoven(1),
        PickTakenOut(0),
        Jumped(5),
        FaultSettled(0, FaultState.MENDED),
        PieceStarted(1),
        Undone(9),
    ],
)
def test_an_entry_that_cannot_follow_is_refused(event):
    warp = lever_warp(lever_draft([0, 0, 0, 0]))
    with pytest.raises(ContradictionError, match="entry"):
        evolve(warp, begin(warp), Entry(1, 0, event))


numbers = st.integers(-2, 9)
measures = st.floats(allow_nan=True, allow_infinity=True)
any_event = st.one_of(
    st.builds(PickWoven, numbers),
    st.builds(PickTakenOut, numbers),
    st.builds(Jumped, numbers),
    st.builds(FaultNoted, st.sampled_from(FaultKind), numbers, st.none() | numbers, st.sampled_from(FaultState)),
    st.builds(FaultSettled, numbers, st.sampled_from(FaultState)),
    st.builds(LengthMeasured, measures, st.booleans()),
    st.builds(BobbinChanged, numbers, st.none() | measures),
    st.builds(ReTied, numbers),
    st.builds(TreadleTied, numbers, numbers, st.booleans()),
    st.builds(PieceStarted, numbers),
    st.builds(Undone, numbers),
    st.builds(NearMiss, numbers, st.tuples(numbers), st.tuples(numbers)),
    st.sampled_from([Paused(), Resumed(), PieceFinished(), NoteWritten(""), TieUpAccepted()]),
)


@settings(max_examples=400, deadline=None)
@given(st.lists(any_event, max_size=12), st.lists(st.integers(-(10**15), 10**15), min_size=12, max_size=12))
def test_entries_of_any_kind_in_any_order_are_folded_told_and_counted_or_refused(happened, times):
    draft = lever_draft([0, 1, 0, 2], [Section("a", 2, until_cm=1.0), Section("b", 2)])
    warp = replace(lever_warp(draft, draft), winding=Winding(300.0))
    kept = []
    for event in happened:
        entry = Entry(len(kept) + 1, times[len(kept)], event)
        try:
            standing = fold(warp, [*kept, entry])
        except ContradictionError:
            continue
        kept.append(entry)
        this_pick(warp, standing)
        next_pick(warp, standing)
        warp_left(warp, standing)
        weft_needed(warp, standing)
        forecast(warp, standing)
        coming_back(warp, standing, 0)
        early_warnings(warp, standing, Units.METRIC)
    record = sheet(warp, kept)
    assert len(record.told.happened) == len(kept)
    assert json.loads(json.dumps(to_document(record), allow_nan=False))["entries"] == len(kept)
    assert to_html(record, Units.METRIC, FROM_LEFT).endswith("</html>\n")
    assert to_csv(record, Units.METRIC).count("\r\n") == len(kept) + 1
