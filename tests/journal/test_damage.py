"""Whatever happens to the bytes on disk, a journal tells the truth or says in one line that it cannot."""

import random
import shutil
import sqlite3

import pytest

from companion.journal import schema
from companion.journal.errors import JournalDamagedError, JournalError
from companion.journal.lock import lock_path
from companion.journal.mark import mark_path
from companion.journal.snapshots import keep_snapshot, progress_of
from companion.journal.store import LOG_GONE, Journal
from companion.weaving.events import Entry, NoteWritten, PickWoven
from companion.weaving.progress import fold
from tests.journal.warps import small_warp

ENTRIES = tuple(
    Entry(
        number,
        1_000 + number,
        NoteWritten(f"note {number}: " + "wool " * (number % 7)) if number % 3 else PickWoven(number // 3 - 1),
    )
    for number in range(1, 25)
) + tuple(Entry(number, 2_000 + number, NoteWritten("x" * 90)) for number in range(25, 160))
PAGE = 4_096


@pytest.fixture(scope="module")
def whole(tmp_path_factory):
    """A closed journal of a few pages, with a snapshot in it."""
    path = tmp_path_factory.mktemp("whole") / "whole.journal"
    with Journal.create(path, small_warp(), at_ms=7) as journal:
        journal.extend(ENTRIES)
        standing = progress_of(journal)
        journal.keep_snapshot(standing.settled.number, "other code", "{}")
        keep_snapshot(journal, standing)
    return path.read_bytes()


@pytest.fixture(params=["pages checked at opening", "too large for that"])
def size(request, monkeypatch):
    """Both ways of opening: with a look at every page, and without, as for a journal beyond the limit."""
    if request.param == "too large for that":
        monkeypatch.setattr(schema, "LOOKED_THROUGH_BYTES", 0)
    return request.param


def read_all(path):
    """Everything that the weaver could see of the journal."""
    with Journal.open(path) as journal:
        standing = progress_of(journal)
        return journal.warp, journal.made_at_ms, tuple(journal.entries()), standing.now.woven


TRUTH = (small_warp(), 7, ENTRIES, fold(small_warp(), ENTRIES).now.woven)


def outcome(path, content):
    """`truth`, or the one line that was raised; any other exception or answer fails the test."""
    path.write_bytes(content)
    try:
        found, told = read_all(path), None
    except JournalError as error:
        found, told = None, error
    if told is None:
        assert found == TRUTH
        return "truth"
    assert "\n" not in str(told)
    assert path.name in str(told)
    assert told.mend
    return str(told)


def test_the_undamaged_journal_reads_as_it_was_written(tmp_path, whole):
    assert outcome(tmp_path / "a.journal", whole) == "truth"
    assert len(whole) >= 6 * PAGE


def test_a_page_of_rubbish_is_told_and_the_mend_named(tmp_path, whole, size):
    chance = random.Random(4)
    outcomes = set()
    for page in range(1, len(whole) // PAGE):
        rubbish = chance.randbytes(PAGE)
        outcomes.add(outcome(tmp_path / "a.journal", whole[: page * PAGE] + rubbish + whole[(page + 1) * PAGE :]))
    told = [line for line in outcomes if "put a copy back with: fellside backup --restore FILE" in line]
    assert len(told) >= len(outcomes) - 1
    assert told


def test_a_flipped_byte_is_told_or_harms_nothing(tmp_path, whole, size):
    chance = random.Random(5)
    outcomes = []
    for _ in range(200):
        place = chance.randrange(len(whole))
        flipped = bytes([whole[place] ^ 1 << chance.randrange(8)])
        outcomes.append(outcome(tmp_path / "a.journal", whole[:place] + flipped + whole[place + 1 :]))
    assert outcomes.count("truth") < len(outcomes), "no flip was ever noticed"


def test_a_flipped_byte_in_the_header_is_told_or_harms_nothing(tmp_path, whole):
    for place in range(100):
        for bit in (0, 3, 7):
            outcome(tmp_path / "a.journal", whole[:place] + bytes([whole[place] ^ 1 << bit]) + whole[place + 1 :])


def test_a_truncated_file_is_told(tmp_path, whole, size):
    chance = random.Random(6)
    lengths = [*range(0, len(whole), PAGE), *(chance.randrange(len(whole)) for _ in range(40))]
    outcomes = {outcome(tmp_path / "a.journal", whole[:length]) for length in lengths}
    assert "truth" not in outcomes


def test_damage_to_the_pages_is_found_by_looking_through(tmp_path, whole, monkeypatch):
    monkeypatch.setattr(schema, "LOOKED_THROUGH_BYTES", 0)
    path = tmp_path / "a.journal"
    place = whole.index(b"note 20")
    path.write_bytes(whole[:place] + b"Note" + whole[place + 4 :])
    with Journal.open(path) as journal, pytest.raises(JournalDamagedError, match="entry 20 is not as it was written"):
        journal.look_through()


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "is not a journal of Fellside; name another file"),
        (b"treadling 1 2 3 4\n" * 400, "is not a journal of Fellside; name another file"),
        (b"SQLite format 3\0" + b"\0" * 90, "is not a journal of Fellside; name another file"),
    ],
)
def test_a_file_that_is_no_journal_is_named(tmp_path, content, says):
    assert says in outcome(tmp_path / "a.journal", content)


def test_a_database_of_another_program_is_left_alone(tmp_path):
    path = tmp_path / "a.journal"
    database = sqlite3.connect(path)
    database.execute("CREATE TABLE entries (number)")
    database.close()
    before = path.read_bytes()
    for opened in (Journal.open, Journal.open_to_read):
        with pytest.raises(JournalError, match="is not a journal of Fellside"):
            opened(path)
    assert path.read_bytes() == before


def test_a_folder_in_place_of_a_journal_is_named(tmp_path):
    (tmp_path / "a.journal").mkdir()
    with pytest.raises(JournalError, match="no such journal"):
        Journal.open(tmp_path / "a.journal")


def test_a_journal_of_a_newer_program_is_left_alone(tmp_path, whole):
    path = tmp_path / "a.journal"
    path.write_bytes(whole)
    database = sqlite3.connect(path)
    database.execute(f"PRAGMA user_version = {schema.VERSION + 1}")
    database.close()
    for opened in (Journal.open, Journal.open_to_read):
        with pytest.raises(JournalError, match=r"was written by a newer Fellside .* update Fellside on this device"):
            opened(path)


def cut_off(tmp_path, last):
    """Files as a process leaves them that was cut off after `last` entries, most of them only in the log."""
    busy, left = tmp_path / "busy", tmp_path / "left"
    busy.mkdir()
    with Journal.create(busy / "a.journal", small_warp(), at_ms=7) as journal:
        for entry in ENTRIES[:last]:
            journal.append(entry.event, entry.at_ms)
        shutil.copytree(busy, left)
    return left / "a.journal"


def test_a_log_left_behind_is_taken_up(tmp_path):
    path = cut_off(tmp_path, 60)
    assert path.with_name("a.journal-wal").stat().st_size > 0
    with Journal.open(path) as journal:
        assert tuple(journal.entries()) == ENTRIES[:60]
        assert journal.notice == ""


def test_a_log_left_behind_can_be_read_without_taking_it_up(tmp_path):
    path = cut_off(tmp_path, 60)
    with Journal.open_to_read(path) as journal:
        assert tuple(journal.entries()) == ENTRIES[:60]
    assert path.with_name("a.journal-wal").stat().st_size > 0


def test_a_log_that_is_gone_is_told_once_and_what_is_left_is_whole(tmp_path):
    path = cut_off(tmp_path, 60)
    path.with_name("a.journal-wal").unlink()
    mark_path(path).unlink()
    with Journal.open(path) as journal:
        left = journal.look_through()
        assert tuple(journal.entries()) == ENTRIES[:left]
        assert journal.notice == LOG_GONE
    with Journal.open(path) as journal:
        assert journal.notice == ""


def test_the_notice_outlives_an_opening_that_fails(tmp_path):
    path = cut_off(tmp_path, 60)
    path.with_name("a.journal-wal").unlink()
    mark_path(path).unlink()
    good = path.read_bytes()
    path.write_bytes(b"")
    with pytest.raises(JournalError):
        Journal.open(path)
    assert lock_path(path).stat().st_size > 0
    for leftover in ("a.journal-wal", "a.journal-shm"):
        path.with_name(leftover).unlink(missing_ok=True)
    path.write_bytes(good)
    with Journal.open(path) as journal:
        assert journal.notice == LOG_GONE


def test_a_damaged_log_costs_the_newest_entries_at_most_and_never_gives_false_ones(tmp_path):
    path = cut_off(tmp_path, 60)
    log = path.with_name("a.journal-wal")
    content, database = log.read_bytes(), path.read_bytes()
    chance, lengths = random.Random(8), set()
    for _ in range(60):
        place = chance.randrange(len(content))
        path.write_bytes(database)
        path.with_name("a.journal-shm").unlink(missing_ok=True)
        log.write_bytes(content[:place] + bytes([content[place] ^ 0x40]) + content[place + 1 :])
        with Journal.open(path) as journal:
            left = tuple(journal.entries())
        assert left == ENTRIES[: len(left)]
        lengths.add(len(left))
    assert len(lengths) > 5
