"""The journal: what was appended is there, in order, for ever; and only that."""

import sqlite3

import pytest

from companion.journal.database import write_new
from companion.journal.errors import JournalDamagedError, JournalError, JournalInUseError
from companion.journal.rows import READ_AT_ONCE
from companion.journal.schema import APPLICATION_ID, VERSION
from companion.journal.store import Journal
from companion.journal.warp_codec import encode_warp
from companion.remap.loom.loom import Footing
from companion.weaving.events import (
    Entry,
    FaultKind,
    FaultNoted,
    LengthMeasured,
    NoteWritten,
    Paused,
    PickWoven,
    Resumed,
)
from tests.journal.warps import pressed_first, small_warp

EVENTS = (PickWoven(0), NoteWritten("tie 3 – links"), FaultNoted(FaultKind.OTHER, 0, 2), Paused(), Resumed(False))


@pytest.fixture
def path(tmp_path):
    return tmp_path / "shawl.journal"


@pytest.fixture
def journal(path):
    with Journal.create(path, small_warp(), at_ms=1_000) as journal:
        yield journal


def raw(path):
    """The database without the journal's own care, as another program would open it."""
    return sqlite3.connect(path, isolation_level=None)


def test_a_new_journal_is_empty_and_holds_its_warp(path):
    with Journal.create(path, small_warp(), at_ms=1_234) as journal:
        assert journal.last_number == 0
        assert list(journal.entries()) == []
    with Journal.open(path) as journal:
        assert journal.warp == small_warp()
        assert journal.made_at_ms == 1_234
        assert journal.notice == ""


def test_entries_come_back_in_order_from_every_opening(path):
    with Journal.create(path, small_warp(), at_ms=0) as journal:
        told = [journal.append(event, at_ms) for at_ms, event in enumerate(EVENTS, 100)]
    assert told == [Entry(number, 99 + number, event) for number, event in enumerate(EVENTS, 1)]
    for opened in (Journal.open, Journal.open_to_read):
        with opened(path) as journal:
            assert list(journal.entries()) == told
            assert list(journal.entries(after=3)) == told[3:]
            assert journal.last_number == len(told)


def test_more_entries_than_are_read_at_once_come_back_whole(path):
    many = [Entry(number, number, PickWoven(number)) for number in range(1, 2 * READ_AT_ONCE + 2)]
    with Journal.create(path, small_warp(), at_ms=0) as journal:
        journal.extend(many)
        assert list(journal.entries()) == many
        assert journal.look_through() == len(many)


def test_entries_appended_while_reading_are_read_too(journal):
    journal.extend(Entry(number, 0, PickWoven(number)) for number in range(1, READ_AT_ONCE + 1))
    numbers = []
    for entry in journal.entries():
        if entry.number == 1:
            journal.append(Paused(), 0)
        numbers.append(entry.number)
    assert numbers == list(range(1, READ_AT_ONCE + 2))


def test_each_journal_has_an_identity_of_its_own(tmp_path):
    with (
        Journal.create(tmp_path / "a.journal", small_warp(), at_ms=0) as one,
        Journal.create(tmp_path / "b.journal", small_warp(), at_ms=0) as other,
        Journal.create(tmp_path / "c.journal", small_warp(), at_ms=0, identity=one.identity) as moved,
    ):
        assert one.identity != other.identity
        assert moved.identity == one.identity


def test_a_clock_set_back_is_kept_as_it_was_told(journal):
    journal.append(PickWoven(0), at_ms=5_000)
    journal.append(PickWoven(1), at_ms=-3_000)
    assert [(entry.number, entry.at_ms) for entry in journal.entries()] == [(1, 5_000), (2, -3_000)]


def test_a_measure_that_is_no_number_is_refused_and_nothing_is_half_done(journal):
    with pytest.raises(JournalError, match="give finite numbers"):
        journal.append(LengthMeasured(float("nan")), 0)
    assert journal.append(PickWoven(0), 0).number == 1


def test_sqlite_is_told_to_sync_every_commit_into_a_write_ahead_log(journal):
    """Read back, since builds of SQLite may differ in their defaults (sqlite.org, "PRAGMA synchronous": 2 is FULL)."""
    settings = {
        name: journal._database.execute(f"PRAGMA {name}").fetchone()[0]
        for name in ("journal_mode", "synchronous", "foreign_keys", "application_id", "user_version")
    }
    assert settings == {
        "journal_mode": "wal",
        "synchronous": 2,
        "foreign_keys": 1,
        "application_id": APPLICATION_ID,
        "user_version": VERSION,
    }


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE entries SET at_ms = 1",
        "UPDATE entries SET number = 9 WHERE number = 2",
        "DELETE FROM entries",
        "DELETE FROM entries WHERE number = 2",
        "INSERT OR REPLACE INTO entries VALUES (2, 0, 'Paused', '{}', 0)",
        "INSERT INTO entries VALUES (4, 0, 'Paused', '{}', 0)",
        "INSERT INTO entries VALUES (0, 0, 'Paused', '{}', 0)",
        "INSERT INTO entries VALUES (NULL, 0, 'Paused', '{}', 0)",
        "INSERT INTO entries VALUES (3, 'noon', 'Paused', '{}', 0)",
        "UPDATE warp SET body = ''",
        "DELETE FROM warp",
        "INSERT OR REPLACE INTO warp VALUES (1, '', 0, '', 0)",
        "INSERT INTO warp VALUES (2, '', 0, '', 0)",
    ],
)
def test_no_statement_changes_what_was_written(path, journal, statement):
    told = [journal.append(PickWoven(0), 10), journal.append(PickWoven(1), 20)]
    journal.close()
    database = raw(path)
    with pytest.raises(sqlite3.IntegrityError):
        database.execute(statement)
    database.close()
    with Journal.open(path) as again:
        assert list(again.entries()) == told
        assert again.warp == small_warp()


def test_entries_brought_in_from_elsewhere_come_all_or_none(journal):
    journal.append(PickWoven(0), 0)
    with pytest.raises(JournalError):
        journal.extend([Entry(2, 0, PickWoven(1)), Entry(4, 0, PickWoven(2))])
    assert journal.last_number == 1
    assert journal.append(Paused(), 0) == Entry(2, 0, Paused())
    assert journal.look_through() == 2


@pytest.mark.parametrize(
    ("statement", "says"),
    [
        ("UPDATE entries SET body = '{\"pick\":7}' WHERE number = 2", "entry 2 is not as it was written"),
        ("UPDATE entries SET at_ms = 9 WHERE number = 1", "entry 1 is not as it was written"),
        ("DELETE FROM entries WHERE number = 2", "entry 2 is not as it was written"),
        ("DELETE FROM entries WHERE number = 1", "entry 1 is not as it was written"),
        ("UPDATE warp SET made_at_ms = 9", "its warp is not as it was written"),
    ],
)
def test_a_row_changed_behind_the_triggers_shows_when_it_is_read(path, journal, statement, says):
    for pick in range(3):
        journal.append(PickWoven(pick), 0)
    journal.close()
    database = raw(path)
    for (trigger,) in database.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        database.execute(f"DROP TRIGGER {trigger}")
    database.execute(statement)
    database.close()

    def read_all():
        with Journal.open(path) as again:
            return list(again.entries())

    with pytest.raises(JournalDamagedError, match=says):
        read_all()


def test_a_reader_sees_what_the_writer_has_appended_and_may_not_write(path, journal):
    with Journal.open_to_read(path) as reader:
        journal.append(PickWoven(0), 0)
        assert list(reader.entries()) == [Entry(1, 0, PickWoven(0))]
        with pytest.raises(JournalError, match="may not be written"):
            reader.append(PickWoven(1), 0)


def test_only_one_may_write_at_a_time(path, journal):
    with pytest.raises(JournalInUseError, match=r"this warp is already open in process \d+; weave on there"):
        Journal.open(path)
    journal.close()
    Journal.open(path).close()


def test_closing_twice_is_harmless_and_leaves_no_log(path, journal):
    journal.append(PickWoven(0), 0)
    journal.close()
    journal.close()
    assert sorted(file.name for file in path.parent.iterdir()) == [
        "shawl.journal",
        "shawl.journal.lock",
        "shawl.journal.mark",
    ]


def test_a_journal_is_not_made_over_another(path, journal):
    journal.append(PickWoven(0), 0)
    journal.close()
    with pytest.raises(JournalError, match="exists already"):
        Journal.create(path, small_warp(), at_ms=0)
    with Journal.open(path) as again:
        assert again.last_number == 1


def test_what_a_creation_that_was_cut_off_left_behind_does_not_stop_the_next(path):
    for leftover in ("shawl.journal.new", "shawl.journal.new-wal", "shawl.journal.new-shm"):
        path.with_name(leftover).write_bytes(b"half a file")
    with Journal.create(path, small_warp(), at_ms=0) as journal:
        assert journal.append(PickWoven(0), 0).number == 1


def test_a_journal_that_is_not_there_is_named(path):
    for opened in (Journal.open, Journal.open_to_read):
        with pytest.raises(JournalError, match=r"shawl.journal: no such journal; check the name"):
            opened(path)
    assert not list(path.parent.iterdir())


def test_a_warp_whose_sheds_are_not_opened_is_not_begun(path):
    with pytest.raises(JournalError, match="what is pressed at pick 1 does not open its shed; put the draft"):
        Journal.create(path, pressed_first(Footing((1,))), at_ms=0)
    assert not path.exists()


def test_a_warp_whose_sheds_are_not_opened_says_so_and_lets_its_weaver_in_all_the_same(path):
    write_new(path, "somebody's", 0, encode_warp(pressed_first(Footing((1,)))))
    with Journal.open(path) as journal:
        assert journal.notice == "piece 'Shawl': what is pressed at pick 1 does not open its shed"
        assert journal.append(PickWoven(0), at_ms=1).number == 1
