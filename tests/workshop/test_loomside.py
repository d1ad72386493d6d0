"""At the loom: a command is on disk before it is acknowledged, and a pause leaves a copy."""

import itertools
import shlex
from dataclasses import replace

import pytest

from companion.cli.stepper import step_through
from companion.draft.facing import FROM_LEFT
from companion.draft.model import Section
from companion.draft.units import Units
from companion.journal.backup import copies
from companion.journal.errors import JournalDamagedError, JournalError
from companion.journal.lock import lock_path
from companion.journal.store import FOLD_EVERY, LOG_GONE, Journal
from companion.weaving.decide import pause, re_tie, resume, undo, weave_pick
from companion.weaving.errors import WeavingError
from companion.weaving.events import Entry, Paused, PickWoven
from companion.weaving.warp import Winding
from companion.workshop.loomside import AtTheLoom, LoomWorker
from tests.journal.warps import long_warp
from tests.weaving.world import lever_draft, lever_warp, two_stage_warp


@pytest.fixture
def path(tmp_path):
    Journal.create(tmp_path / "shawl.journal", long_warp(20), at_ms=0).close()
    return tmp_path / "shawl.journal"


@pytest.fixture
def clock():
    ticks = itertools.count(1_000, 1_000)
    return lambda: next(ticks)


def test_a_command_is_on_disk_when_it_returns(path, clock):
    with AtTheLoom(Journal.open(path), clock) as loom:
        entry = loom.do(weave_pick)
        assert entry == Entry(1, 1_000, PickWoven(0))
        with Journal.open_to_read(path) as reader:
            assert list(reader.entries()) == [entry]


def test_a_pick_is_told_as_soon_as_it_is_on_disk_and_the_log_folded_after_that(path, clock, monkeypatch):
    order, fold, put = [], Journal._fold_log, Journal.put

    def put_and_note(journal, event, at_ms):
        entry = put(journal, event, at_ms)
        order.append(("on disk", entry.number))
        return entry

    monkeypatch.setattr(Journal, "put", put_and_note)
    monkeypatch.setattr(Journal, "_fold_log", lambda journal: (order.append("folded"), fold(journal)))
    with LoomWorker(
        lambda: AtTheLoom(Journal.open(path), clock), lambda told: order.append(("told", told.progress.now.number))
    ) as worker:
        for _ in range(FOLD_EVERY + 1):
            worker.submit(weave_pick)
    one_by_one = [(what, number) for number in range(1, FOLD_EVERY + 2) for what in ("on disk", "told")]
    first, second = one_by_one[: 2 * FOLD_EVERY], one_by_one[2 * FOLD_EVERY :]
    assert order == ["folded", *first, "folded", *second], "once on opening, and then after what was told"


def test_what_cannot_be_folded_never_comes_onto_the_disk(path, clock):
    with AtTheLoom(Journal.open(path), clock) as loom:
        loom.do(weave_pick)
        before = loom.progress
        with pytest.raises(WeavingError, match="pick 10 woven where pick 2 was next"):
            loom.do(lambda _warp, _progress: PickWoven(9))
        assert loom.progress == before
        loom.do(weave_pick)
    with Journal.open_to_read(path) as journal:
        assert [entry.event for entry in journal.entries()] == [PickWoven(0), PickWoven(1)]


def test_the_next_start_stands_where_the_last_one_ended(path, clock):
    with AtTheLoom(Journal.open(path), clock) as loom:
        for _ in range(3):
            loom.do(weave_pick)
        stood = loom.progress
    with AtTheLoom(Journal.open(path), clock) as loom:
        assert loom.progress == stood


def test_a_tie_up_is_told_when_something_is_first_done_and_whenever_it_changes(tmp_path, clock):
    warp = two_stage_warp()
    first, second = (stage.tieup for stage in warp.pieces[0].stages)
    told = []

    def tied(of_warp, tieup):
        told.append((of_warp.name, tieup))
        return "that could not be noted" if tieup == second else ""

    journal = Journal.create(tmp_path / "two ties.journal", warp, at_ms=0)
    with AtTheLoom(journal, clock, tied=tied) as loom:
        assert told == []
        for _ in range(4):
            loom.do(weave_pick)
        assert told == [("two ties", first)]
        loom.do(re_tie)
        assert (told[1:], loom.notice) == ([("two ties", second)], "that could not be noted")
        # What could not be noted is said once and holds nothing up.
        loom.do(weave_pick)
        assert (len(told), loom.notice) == (2, "")
        loom.do(undo)
        loom.do(undo)
        assert told[2:] == [("two ties", first)]
    with Journal.open_to_read(journal.path) as reader:
        assert reader.last_number == 8


def test_a_tie_up_that_could_not_be_put_on_disk_is_told_to_nobody(tmp_path, clock):
    told = []
    Journal.create(tmp_path / "two ties.journal", two_stage_warp(), at_ms=0).close()
    journal = Journal.open_to_read(tmp_path / "two ties.journal")
    with (
        AtTheLoom(journal, clock, tied=lambda _warp, tieup: str(told.append(tieup))) as loom,
        pytest.raises(JournalError),
    ):
        loom.do(weave_pick)
    assert told == []


CONFIRMED = ("2",)
"""The answer to a measure that is asked once more, as it is far from what the picks should take."""


def stepping(warp, path, typed):
    """What the stepper says to these lines."""
    said = []
    with AtTheLoom(Journal.create(path, warp, at_ms=0), itertools.count(1_000, 1_000).__next__) as loom:
        step_through(loom, typed, said.append, Units.METRIC, FROM_LEFT)
    return said


def test_text_warns_early_that_the_warp_will_be_short_and_once_for_each_amount(tmp_path):
    # Three pieces of 10 cm with 2 cm of fringe: 36 cm of warp.
    warp = lever_warp(*[lever_draft([0] * 20)] * 3, picks_per_cm=2.0, fringe_cm=2.0)
    typed = ["", "", "n fine", "m 2", *CONFIRMED, "n still", "u", "", "u", ""]
    warnings = [
        line for line in stepping(replace(warp, winding=Winding(40.0)), tmp_path / "long", typed) if "short" in line
    ]
    # Two picks in 2 cm are 1 pick a cm: the piece will be 20 cm long, and 46 cm of warp are needed.
    assert warnings == ["! the warp is 6 cm short for piece 3 (piece 3)"]
    warnings = [
        line for line in stepping(replace(warp, winding=Winding(34.0)), tmp_path / "short", typed) if "short" in line
    ]
    assert warnings == [
        "! the warp is 2 cm short for piece 3 (piece 3)",
        "! the warp is 12 cm short for piece 3 (piece 3)",
        "! the warp is 2 cm short for piece 3 (piece 3)",
    ]


def test_text_says_that_the_bobbin_of_this_pick_runs_out(tmp_path):
    warp = replace(lever_warp(lever_draft([0, 1] * 10)), width_cm=50.0)
    said = stepping(warp, tmp_path / "bobbin", ["c sand 2"])
    # 55 cm a pick: 2 m are 3 picks.
    assert said[-2].endswith("  The sand bobbin runs out in about 3 picks")


def test_text_says_that_a_measure_shows_a_length_to_be_reached(tmp_path):
    draft = lever_draft([0] * 6, [Section("hem", 2), Section("body", 2, until_cm=3.0), Section("end", 2)])
    # 4 picks planned at 2 a cm are 2 cm, of which the body has 1; measured as 8 cm it has 4.
    said = stepping(
        lever_warp(draft, picks_per_cm=2.0), tmp_path / "body", ["", "", "", "", "m 8", *CONFIRMED, "e", "", ""]
    )
    told = [line for line in said if "until 3 cm" in line or "reached" in line]
    assert [line.split("\n  ")[1] for line in told] == [
        "until 3 cm: e = that length is reached",
        "until 3 cm: e = that length is reached",
        "3 cm are reached: e ends the section, enter weaves another repeat",
    ]
    assert [line for line in said if "woven: pick" in line] == [f"  woven: pick {pick}" for pick in range(1, 7)]


def test_text_says_by_measure_when_a_section_woven_to_a_length_ends(tmp_path):
    draft = lever_draft([0] * 6, [Section("hem", 2), Section("body", 2, until_cm=3.0), Section("end", 2)])
    # Planned at 2 picks a cm the body would take 6 picks; measured at 1 a cm it takes 4, the fewest repeats that reach.
    said = stepping(lever_warp(draft, picks_per_cm=2.0), tmp_path / "body", ["", "", "", "m 3", *CONFIRMED, *[""] * 5])
    woven = [line.removeprefix("  woven: pick ") for line in said if "woven: pick" in line]
    assert woven == ["1", "2", "3", "4", "3", "4", "5", "6"]


def test_text_tells_where_the_treadling_ends_before_the_planned_length(tmp_path):
    warp = lever_warp(lever_draft([0] * 4), picks_per_cm=2.0, length_cm=4.0)
    said = stepping(warp, tmp_path / "long", [""] * 4 + ["j 1"] + [""] * 4)
    ends = [line for line in said if "enter to go on" in line]
    # Four picks are 2 cm; the second time they make the 4 cm that were planned.
    assert ends == [
        "piece 1 · piece 1 of 1 · enter to go on\n"
        "  2 of the 4 cm planned are woven; j 1 = the treadling from its first pick again",
        "piece 1 · piece 1 of 1 · enter to go on",
    ]


def test_text_tells_how_to_settle_the_fault_of_a_pick_that_is_taken_out(tmp_path):
    warp = lever_warp(lever_draft([0] * 9))
    said = stepping(
        warp, tmp_path / "fault", ["", "", "x wrong shed below 1", "x missed mended", "b", "b", "", "", "b"]
    )
    assert [line for line in said if "taken out" in line] == [
        "  taken out: pick 2",
        "  taken out: pick 1\n  fault 1 was noted in it; d 1 mended settles it",
        "  taken out: pick 2",
    ]


def test_a_command_that_does_not_apply_changes_nothing(path, clock):
    with AtTheLoom(Journal.open(path), clock) as loom:
        loom.do(pause)
        stood = loom.progress
        with pytest.raises(WeavingError):
            loom.do(weave_pick)
        assert loom.progress == stood
    with Journal.open_to_read(path) as reader:
        assert reader.last_number == 1


def test_an_event_that_the_disk_refuses_leaves_the_progress_as_it_was(path, clock):
    with AtTheLoom(Journal.open_to_read(path), clock) as loom:
        stood = loom.progress
        with pytest.raises(JournalError, match="may not be written"):
            loom.do(weave_pick)
        assert loom.progress == stood


def test_a_pause_leaves_a_verified_copy(path, clock, tmp_path):
    with AtTheLoom(Journal.open(path), clock, copies=tmp_path / "copies") as loom:
        loom.do(weave_pick)
        assert copies(tmp_path / "copies", "shawl") == ()
        loom.do(pause)
        assert loom.notice == ""
    (copy,) = copies(tmp_path / "copies", "shawl")
    with Journal.open_to_read(copy) as journal:
        assert [entry.event for entry in journal.entries()] == [PickWoven(0), Paused()]


def test_a_copy_that_cannot_be_made_is_told_and_the_pause_stands(path, clock, tmp_path):
    (tmp_path / "copies").write_text("a file in the way")
    with AtTheLoom(Journal.open(path), clock, copies=tmp_path / "copies") as loom:
        assert loom.do(pause).event == Paused()
        assert loom.notice.startswith("the pause is kept, but no copy was made: ")
        loom.do(resume)
        assert loom.notice == ""


def test_a_log_that_is_gone_is_told_in_the_window_and_in_text(path, clock):
    lock_path(path).write_text("4711\n")
    said = []
    with AtTheLoom(Journal.open(path), clock) as loom:
        step_through(loom, [], said.append, Units.METRIC, FROM_LEFT)
    assert f"! {LOG_GONE}" in said
    lock_path(path).write_text("4711\n")
    with LoomWorker(lambda: AtTheLoom(Journal.open(path), clock), said.append) as worker:
        assert worker.notice == LOG_GONE


def test_text_tells_of_a_copy_that_could_not_be_made_at_the_end(path, clock, tmp_path):
    (tmp_path / "copies").write_text("a file in the way")
    said = []
    with AtTheLoom(Journal.open(path), clock, copies=tmp_path / "copies") as loom:
        step_through(loom, [], said.append, Units.METRIC, FROM_LEFT)
    assert said[-2].startswith("! the pause is kept, but no copy was made: ")


def test_a_journal_shorter_than_its_copy_is_told_with_the_way_back(path, clock, tmp_path):
    copies = tmp_path / "copies"
    with AtTheLoom(Journal.open(path), clock, copies=copies) as loom:
        for _ in range(3):
            loom.do(weave_pick)
        loom.do(pause)
    kept = path.read_bytes()
    with AtTheLoom(Journal.open(path), clock, copies=copies) as loom:
        assert loom.notice == ""
        for _ in range(3):
            loom.do(resume if loom.progress.now.paused else weave_pick)
        loom.do(pause)
    path.write_bytes(kept)
    newest = copies / f"{path.stem}~000002.journal"
    with AtTheLoom(Journal.open(path), clock, copies=copies) as loom:
        assert "4 entries that were on disk before are gone" in loom.notice
        assert loom.notice.endswith(f"4 of them are in a copy: fellside backup --restore {shlex.quote(str(newest))}")


def test_a_journal_whose_entries_cannot_be_read_is_let_go_at_once(tmp_path):
    path = tmp_path / "Long.journal"
    with Journal.create(path, long_warp(8), at_ms=0) as journal:
        journal.append(PickWoven(0), at_ms=1)
    path.write_bytes(path.read_bytes().replace(b'"pick":0', b'"pick":7'))
    for _ in range(2):
        with pytest.raises(JournalDamagedError, match="entry 1"):
            AtTheLoom(Journal.open(path), now_ms=lambda: 0)
