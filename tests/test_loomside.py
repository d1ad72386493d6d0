"""At the loom: a command is on disk before it is acknowledged, and a pause leaves a copy."""

import itertools

import pytest

from companion.cli.stepper import step_through
from companion.journal.backup import copies
from companion.journal.errors import JournalError
from companion.journal.lock import lock_path
from companion.journal.store import LOG_GONE, Journal
from companion.loomside import AtTheLoom, LoomWorker
from companion.weaving.decide import pause, resume, weave_pick
from companion.weaving.errors import WeavingError
from companion.weaving.events import Entry, Paused, PickWoven
from tests.journal.warps import long_warp


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


def test_the_next_start_stands_where_the_last_one_ended(path, clock):
    with AtTheLoom(Journal.open(path), clock) as loom:
        for _ in range(3):
            loom.do(weave_pick)
        stood = loom.progress
    with AtTheLoom(Journal.open(path), clock) as loom:
        assert loom.progress == stood


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
        step_through(loom, [], said.append)
    assert f"! {LOG_GONE}" in said
    lock_path(path).write_text("4711\n")
    with LoomWorker(lambda: AtTheLoom(Journal.open(path), clock), said.append) as worker:
        assert worker.notice == LOG_GONE


def test_text_tells_of_a_copy_that_could_not_be_made_at_the_end(path, clock, tmp_path):
    (tmp_path / "copies").write_text("a file in the way")
    said = []
    with AtTheLoom(Journal.open(path), clock, copies=tmp_path / "copies") as loom:
        step_through(loom, [], said.append)
    assert said[-2].startswith("! the pause is kept, but no copy was made: ")
