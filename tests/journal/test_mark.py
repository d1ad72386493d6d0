"""The mark beside a journal: whatever becomes of the log, what is missing is counted and told."""

from __future__ import annotations

import shutil

import pytest

from companion.journal.mark import Acknowledged, Mark, mark_path, missing_words, read_mark
from companion.journal.store import FOLD_EVERY, Journal
from companion.weaving.events import NoteWritten, PickWoven
from tests.journal.warps import small_warp


def cut_off(tmp_path, last):
    """Files as a process leaves them that was killed after `last` picks; the read-only look leaves its traces too."""
    busy, left = tmp_path / "busy", tmp_path / "left"
    busy.mkdir()
    with Journal.create(busy / "a.journal", small_warp(), at_ms=7) as journal:
        for pick in range(last):
            journal.append(PickWoven(pick), pick)
        shutil.copytree(busy, left)
    return left / "a.journal"


def log_of(path):
    return path.with_name(path.name + "-wal")


def test_the_mark_says_how_far_the_journal_is_acknowledged(tmp_path):
    path = cut_off(tmp_path, 5)
    with Journal.open_to_read(path) as journal:
        assert read_mark(path) == (5, journal.seal_of(5), journal.identity)


@pytest.mark.parametrize("last", [1, FOLD_EVERY - 1, FOLD_EVERY + 1, 50])
@pytest.mark.parametrize("look_first", [False, True])
def test_a_log_that_is_gone_costs_less_than_twenty_picks_and_they_are_counted(tmp_path, last, look_first):
    path = cut_off(tmp_path, last)
    log_of(path).unlink()
    if look_first:
        # A read-only opening makes SQLite lay an empty log out, so that none seems to be missing.
        Journal.open_to_read(path).close()
    with Journal.open(path) as journal:
        assert journal.missing == last - journal.last_number == last % FOLD_EVERY
        assert journal.missing < 20
        assert journal.notice == missing_words(journal.missing)


def test_opening_folds_what_a_stop_left_in_the_log(tmp_path):
    path = cut_off(tmp_path, FOLD_EVERY - 1)
    with Journal.open(path) as journal:
        for pick in range(3):
            journal.put(PickWoven(FOLD_EVERY - 1 + pick), pick)
        left = tmp_path / "left again"
        shutil.copytree(path.parent, left)
    log_of(left / path.name).unlink()
    with Journal.open(left / path.name) as journal:
        assert (journal.last_number, journal.missing) == (FOLD_EVERY - 1, 3)


def test_a_log_cut_or_flipped_anywhere_costs_nothing_untold(tmp_path):
    path = cut_off(tmp_path, 40)
    database, mark, log = path.read_bytes(), mark_path(path).read_bytes(), log_of(path).read_bytes()
    told = 0
    for place in range(0, len(log), 997):
        for damaged in (log[:place], log[:place] + bytes([log[place] ^ 8]) + log[place + 1 :]):
            path.write_bytes(database)
            mark_path(path).write_bytes(mark)
            log_of(path).write_bytes(damaged)
            with Journal.open(path) as journal:
                assert journal.missing == 40 - journal.last_number
                assert bool(journal.notice) == (journal.missing > 0)
                told += journal.missing > 0
    assert told > 10


def test_what_is_missing_is_told_until_something_is_woven(tmp_path):
    path = cut_off(tmp_path, 10)
    log_of(path).unlink()
    for _ in range(2):
        with Journal.open(path) as journal:
            assert journal.missing == 10
    with Journal.open(path) as journal:
        journal.append(NoteWritten("looked at the cloth"), 0)
    with Journal.open(path) as journal:
        assert (journal.missing, journal.notice) == (0, "")


def test_a_mark_of_another_warp_or_of_nothing_readable_says_nothing(tmp_path):
    path = cut_off(tmp_path, 10)
    for content in (b"", b"000000000000099 0000000000 another-warp\n", b"\xff" * 60):
        mark_path(path).write_bytes(content)
        with Journal.open(path) as journal:
            assert (journal.missing, journal.notice) == (0, "")


def test_a_mark_that_cannot_be_written_keeps_nobody_from_weaving(tmp_path):
    mark_path(tmp_path / "a.journal").mkdir()
    with Journal.create(tmp_path / "a.journal", small_warp(), at_ms=0) as journal:
        assert journal.append(PickWoven(0), 0).number == 1
    assert read_mark(tmp_path / "a.journal") is None


def test_a_link_in_place_of_the_mark_is_not_written_through(tmp_path):
    precious = tmp_path / "precious"
    precious.write_bytes(b"kept " * 40)
    journal = tmp_path / "a.journal"
    mark_path(journal).symlink_to(precious)
    mark = Mark(journal)
    mark.set(Acknowledged(1, 2, "x"))
    mark.close()
    assert precious.read_bytes() == b"kept " * 40


def test_the_mark_is_no_program(tmp_path):
    mark = Mark(tmp_path / "a.journal")
    mark.set(Acknowledged(1, 2, "x"))
    mark.close()
    assert mark_path(tmp_path / "a.journal").stat().st_mode & 0o111 == 0
