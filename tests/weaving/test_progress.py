"""Progress against a naive replay of the whole journal, under random commands; and the rules one by one."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from companion.draft.facing import FROM_LEFT, Side
from companion.draft.model import Section
from companion.draft.units import Units
from companion.present.plan_words import early_warnings
from companion.record.page import to_html
from companion.record.sheet import sheet
from companion.record.tables import to_csv, to_document
from companion.weaving import decide, progress
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
from companion.weaving.pick_view import next_pick, rows_at_fell, this_pick
from companion.weaving.progress import AWAY_MS, begin, carry_on, evolve, fold
from companion.weaving.state import Bobbin, Shuttle, side_of
from companion.weaving.warp import Winding
from companion.weaving.yarn_needs import weft_needed
from tests.oracles.naive_weaving import NaiveLoom
from tests.weaving.world import AtLoom, lever_draft, lever_warp, two_stage_warp

SHORT_TRAIL = 6


class WeavingAtRandom(RuleBasedStateMachine):
    """A weaver who does anything the commands allow, and some that they refuse."""

    @initialize(
        weft=st.lists(st.integers(0, 2), min_size=4, max_size=9),
        until=st.sampled_from([None, 0.5, 1.0, 2.5]),
        density=st.sampled_from([None, 2.0, 3.5]),
        side=st.sampled_from(Side),
    )
    def wind(self, weft, until, density, side):
        progress.TRAIL = SHORT_TRAIL
        first = lever_draft(weft, [Section("hem", 2), Section("body", len(weft) - 3, until), Section("end", 1)])
        warp = lever_warp(first, lever_draft([2, 1, 0, 0]), picks_per_cm=density, start_side=side)
        self.loom, self.naive = AtLoom(warp), NaiveLoom(warp)

    def teardown(self):
        progress.TRAIL = 64

    def attempt(self, command, *args):
        try:
            entry = self.loom.do(command, *args)
        except WeavingError:
            return
        self.naive.entries.append(entry)

    @rule(times=st.integers(1, 4))
    def weave(self, times):
        for _ in range(times):
            self.attempt(decide.weave_pick)

    @rule(times=st.integers(1, 3))
    def take_out(self, times):
        for _ in range(times):
            self.attempt(decide.take_out)

    @rule(times=st.integers(1, 5))
    def undo(self, times):
        for _ in range(times):
            self.attempt(decide.undo)

    @rule(back=st.integers(0, SHORT_TRAIL + 2))
    def undo_out_of_turn(self, back):
        self.attempt(decide.undo, len(self.loom.entries) - back)

    @rule(pick=st.integers(-1, 10))
    def jump(self, pick):
        self.attempt(decide.jump, pick)

    @rule(command=st.sampled_from([decide.repeat_section, decide.end_section, decide.skip]))
    def move(self, command):
        self.attempt(command)

    @rule(centimetres=st.floats(0.1, 9), tension=st.booleans())
    def measure(self, centimetres, tension):
        self.attempt(decide.measure, centimetres, tension)

    @rule(yarn=st.integers(0, 2), metres=st.none() | st.floats(1, 50))
    def bobbin(self, yarn, metres):
        self.attempt(decide.change_bobbin, yarn, metres)

    @rule(state=st.sampled_from(FaultState), pick=st.integers(0, 9))
    def fault(self, state, pick):
        self.attempt(decide.note_fault, FaultKind.WRONG_SHED, pick, None, state)

    @rule(fault=st.integers(0, 5), state=st.sampled_from(FaultState))
    def settle(self, fault, state):
        self.attempt(decide.settle_fault, fault, state)

    @rule(text=st.sampled_from(["", "tight", "slack", "new weft"]))
    def note(self, text):
        self.attempt(decide.write_note, text)

    @rule()
    def near_miss(self):
        self.attempt(decide.note_near_miss, (1,), ())

    @rule()
    def go_and_come(self):
        self.attempt(decide.pause)
        self.attempt(decide.weave_pick)
        self.attempt(decide.resume)

    @precondition(lambda self: self.loom.now.cloth.picks > 2)
    @rule()
    def next_piece(self):
        self.attempt(decide.finish_piece)
        self.attempt(decide.start_piece)

    @invariant()
    def stands_as_the_naive_replay_says(self):
        now, expected = self.loom.now, self.naive.replay()
        assert list(now.cloth.newest_first()) == expected["cloth"][::-1]
        assert now.cloth.picks == len(expected["cloth"])
        piece = self.loom.warp.pieces[now.piece]
        assert {
            "piece": now.piece,
            "next": now.next_pick,
            "cloth": expected["cloth"],
            "finished": now.finished,
            "paused": now.paused,
            "measured": now.measured and (now.measured.centimetres, now.measured.picks),
            "relaxed": now.relaxed and (now.relaxed.centimetres, now.relaxed.picks),
            "faults": now.faults,
            "open": [fault.number for fault in now.open_faults],
            "notes": [note.text for note in now.notes],
            "woven": now.woven,
            "taken_out": now.taken_out,
            "lies": {yarn: side_of(piece, now, yarn).value for yarn in range(len(piece.draft.yarns))},
        } == expected

    @invariant()
    def carries_on_from_a_snapshot_to_the_same(self):
        settled = self.loom.progress.settled
        later = [entry for entry in self.loom.entries if entry.number > settled.number]
        assert carry_on(self.loom.warp, settled, later) == self.loom.progress
        assert fold(self.loom.warp, self.loom.entries) == self.loom.progress

    @invariant()
    def the_view_foretells_the_next_pick(self):
        foretold = next_pick(self.loom.warp, self.loom.progress)
        if self.loom.now.paused or this_pick(self.loom.warp, self.loom.progress) is None:
            return
        event = decide.weave_pick(self.loom.warp, self.loom.progress)
        after = evolve(self.loom.warp, self.loom.progress, Entry(len(self.loom.entries) + 1, 0, event))
        assert foretold == this_pick(self.loom.warp, after)


TestWeavingAtRandom = WeavingAtRandom.TestCase
TestWeavingAtRandom.settings = settings(
    max_examples=60, stateful_step_count=30, deadline=None, suppress_health_check=list(HealthCheck)
)


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


def test_only_the_newest_events_can_be_undone():
    loom = AtLoom(lever_warp(lever_draft([0] * 100)))
    loom.weave(progress.TRAIL + 10)
    for _ in range(progress.TRAIL):
        loom.do(decide.undo)
    assert loom.now.next_pick == 10
    with pytest.raises(WeavingError, match="nothing to undo"):
        loom.do(decide.undo)


def test_a_fault_noted_some_picks_ago_can_still_be_taken_back():
    loom = AtLoom(lever_warp(lever_draft([0] * 9)))
    loom.weave(2)
    noted = loom.do(decide.note_fault, FaultKind.SKIPPED_END, 1, 3)
    loom.weave(2)
    loom.do(decide.undo, noted.number)
    assert (loom.now.open_faults, loom.now.next_pick, loom.now.faults) == ((), 4, 0)


def test_a_measure_is_not_undone_under_the_repeats_that_it_decided():
    draft = lever_draft([0] * 6, [Section("body", 4, until_cm=3.0), Section("hem", 2)])
    loom = AtLoom(lever_warp(draft, picks_per_cm=3.0))
    loom.weave(4)
    measured = loom.do(decide.measure, 2.0)
    loom.weave(3)
    loom.do(decide.jump, 5)
    loom.weave(1)
    assert isinstance(loom.entries[4].event, LengthMeasured)
    loom.do(decide.undo)
    loom.do(decide.undo)
    loom.weave(2)
    with pytest.raises(WeavingError, match="builds on it"):
        loom.do(decide.undo, measured.number)


def test_events_name_the_pick_and_end_of_a_fault():
    loom = AtLoom(lever_warp(lever_draft([0] * 9)))
    loom.weave(1)
    assert loom.do(decide.note_fault, FaultKind.BROKEN_END, 0, 7).event == FaultNoted(FaultKind.BROKEN_END, 0, 7)
    with pytest.raises(WeavingError, match="no end 9"):
        loom.do(decide.note_fault, FaultKind.BROKEN_END, 0, 8)


def test_a_snapshot_knows_of_an_undo_that_came_after_it(monkeypatch):
    monkeypatch.setattr(progress, "TRAIL", 4)
    loom = AtLoom(lever_warp(lever_draft([0] * 20)))
    noted = loom.do(decide.write_note, "to be taken back")
    loom.weave(2)
    undone = loom.do(decide.undo, noted.number)
    loom.weave(3)
    settled = loom.progress.settled
    assert noted.number <= settled.number < undone.number
    later = [entry for entry in loom.entries if entry.number > settled.number]
    assert carry_on(loom.warp, settled, later) == loom.progress
    assert loom.now.notes == ()
