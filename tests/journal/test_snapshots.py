"""A snapshot is only a short cut: with it, without it, or with a bad one, things stand the same."""

import random
from functools import partial

import pytest

from companion.journal import snapshots
from companion.journal.snapshots import keep_snapshot, progress_of
from companion.journal.store import Journal
from companion.weaving.decide import (
    change_bobbin,
    end_section,
    finish_piece,
    jump,
    measure,
    note_fault,
    pause,
    repeat_section,
    resume,
    settle_fault,
    skip,
    start_piece,
    take_out,
    undo,
    weave_pick,
    write_note,
)
from companion.weaving.errors import WeavingError
from companion.weaving.events import Entry, FaultKind, FaultState, Jumped, PickWoven
from companion.weaving.progress import begin, evolve, fold
from tests.journal.warps import long_warp, small_warp

EVERY = 7


@pytest.fixture(autouse=True)
def _often(monkeypatch):
    monkeypatch.setattr(snapshots, "EVERY", EVERY)


def any_command(chance, standing):
    """Some command that the weaver might give here; it need not be possible."""
    weave_much = [weave_pick] * 12
    end_the_piece = [finish_piece, start_piece] if chance.random() < 0.05 else []
    return chance.choice(
        [
            *weave_much,
            take_out,
            partial(jump, pick=chance.randrange(50)),
            skip,
            end_section,
            repeat_section,
            *end_the_piece,
            partial(note_fault, kind=FaultKind.WRONG_SHED, pick=chance.randrange(3), end=2, note="ä"),
            partial(settle_fault, fault=chance.randrange(standing.now.faults + 1), state=FaultState.MENDED),
            partial(write_note, text=f"note {chance.random()}"),
            partial(measure, centimetres=chance.uniform(0.5, 20.0), under_tension=chance.random() < 0.8),
            partial(change_bobbin, yarn=chance.randrange(2), metres=chance.choice([None, 40.0])),
            pause,
            resume,
            resume,
            undo,
            undo,
            partial(undo, number=standing.now.number - chance.randrange(40)),
        ]
    )


@pytest.mark.parametrize("seed", range(12))
def test_whatever_was_done_and_undone_a_reopened_journal_stands_as_the_whole_fold(tmp_path, seed):
    chance = random.Random(seed)
    path = tmp_path / "walk.journal"
    warp = small_warp(picks=60)
    at_ms, entries, standing, taken_up = 1_000_000, [], begin(warp), 0
    journal = Journal.create(path, warp, at_ms)
    while len(entries) < 250:
        at_ms += chance.choice([900, 1_500, 2_000, 650_000, -40_000])
        try:
            event = any_command(chance, standing)(warp, standing)
        except WeavingError:
            continue
        entries.append(journal.append(event, at_ms))
        standing = evolve(warp, standing, entries[-1])
        keep_snapshot(journal, standing)
        if chance.random() < 0.1:
            journal.close()
            journal = Journal.open(path)
            standing = progress_of(journal)
            taken_up = max(taken_up, journal.snapshot_number)
            assert standing == fold(warp, entries)
    journal.close()
    assert taken_up > EVERY, "no snapshot was ever used"


def woven(path, picks):
    """A journal of `picks` picks, kept up as at the loom, and how things stood at its end."""
    with Journal.create(path, long_warp(picks), at_ms=0) as journal:
        standing = begin(journal.warp)
        for pick in range(picks):
            standing = evolve(journal.warp, standing, journal.append(PickWoven(pick), pick))
            keep_snapshot(journal, standing)
    return standing


def alter(path, statement):
    with Journal.open(path) as journal:
        journal._database.execute(statement)


@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM snapshot",
        "UPDATE snapshot SET shape = 'other'",
        "UPDATE snapshot SET number = number - 1",
        "UPDATE snapshot SET number = 4000",
        "UPDATE snapshot SET body = replace(body, '1', '2')",
        "UPDATE snapshot SET body = '{}'",
        "UPDATE snapshot SET seal = seal + 1",
    ],
)
def test_a_snapshot_that_is_gone_or_wrong_is_passed_over_and_taken_anew(tmp_path, statement):
    path = tmp_path / "long.journal"
    standing = woven(path, 150)
    alter(path, statement)
    with Journal.open(path) as journal:
        assert progress_of(journal) == standing
        assert journal.snapshot_number == 0
        keep_snapshot(journal, standing)
        assert journal.snapshot_number == standing.settled.number


def test_with_a_snapshot_only_the_newest_entries_are_read(tmp_path, monkeypatch):
    path = tmp_path / "long.journal"
    standing = woven(path, 150)
    read = []
    entries = Journal.entries

    def counted(journal, after=0):
        for entry in entries(journal, after):
            read.append(entry.number)
            yield entry

    monkeypatch.setattr(Journal, "entries", counted)
    with Journal.open(path) as journal:
        assert progress_of(journal) == standing
    assert len(read) < EVERY + 64 + 1
    assert read[-1] == 150


def test_a_snapshot_folded_by_other_code_is_passed_over(tmp_path, monkeypatch):
    path = tmp_path / "long.journal"
    standing = woven(path, 150)
    monkeypatch.setattr(snapshots, "_shape", lambda: "code of tomorrow")
    with Journal.open(path) as journal:
        assert progress_of(journal) == standing
        assert journal.snapshot_number == 0


def test_a_reader_passes_over_what_it_cannot_keep(tmp_path):
    path = tmp_path / "long.journal"
    standing = woven(path, 150)
    alter(path, "DELETE FROM snapshot")
    with Journal.open_to_read(path) as journal:
        assert progress_of(journal) == standing
        keep_snapshot(journal, standing)
        assert journal.snapshot_number == 0


def test_a_journal_brought_in_at_once_is_folded_and_then_has_a_snapshot(tmp_path):
    warp = long_warp(20)
    laps = [Entry(n, n, Jumped(0) if n % 21 == 0 else PickWoven(n % 21 - 1)) for n in range(1, 2_101)]
    with Journal.create(tmp_path / "laps.journal", warp, at_ms=0) as journal:
        journal.extend(laps)
        keep_snapshot(journal, progress_of(journal))
        assert journal.snapshot_number > 2_000
        assert progress_of(journal) == fold(warp, laps)
