"""Progress against a naive replay of the whole journal, under random commands; and the rules one by one."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from companion.draft.facing import Side
from companion.draft.model import Section
from companion.weaving import decide, progress
from companion.weaving.errors import WeavingError
from companion.weaving.events import (
    Entry,
    FaultKind,
    FaultNoted,
    FaultState,
    LengthMeasured,
)
from companion.weaving.pick_view import next_pick, this_pick
from companion.weaving.progress import carry_on, evolve, fold
from companion.weaving.state import side_of
from tests.oracles.naive_weaving import NaiveLoom
from tests.weaving.world import AtLoom, lever_draft, lever_warp

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


def test_a_section_woven_to_its_length_once_more_stands_as_the_naive_replay_says():
    weaver = WeavingAtRandom()
    weaver.wind(weft=[0, 0, 0, 0], until=0.5, density=None, side=Side.LEFT)
    weaver.weave(3)
    # Three picks to the centimetre: the section of one pick is woven twice to be half of one.
    weaver.measure(1.0, tension=True)
    weaver.move(decide.repeat_section)
    for then in (2, 2, 3):
        assert weaver.loom.now.next_pick == then
        weaver.stands_as_the_naive_replay_says()
        weaver.weave(1)
    weaver.take_out(2)
    weaver.stands_as_the_naive_replay_says()
    weaver.teardown()


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
