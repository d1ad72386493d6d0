"""Copies: verified before they get their name, ten of each warp, and good for putting a warp back."""

import shutil
import sqlite3

import pytest

from companion.journal import backup
from companion.journal.backup import KEPT, back_up, backup_folder, copies, longer_copy, put_back
from companion.journal.database import write_new
from companion.journal.errors import CannotCopyError, JournalDamagedError, JournalError, JournalInUseError
from companion.journal.lock import WriterLock
from companion.journal.shelf import Shelf
from companion.journal.store import Journal
from companion.journal.warp_codec import encode_warp
from companion.remap.loom.loom import Footing
from companion.weaving.events import NoteWritten, PickWoven
from tests.journal.warps import pressed_first, small_warp


@pytest.fixture
def shelf(tmp_path):
    shelf = Shelf(tmp_path / "journal")
    with shelf.create("Scarf 1/2", small_warp(), at_ms=0) as journal:
        for pick in range(5):
            journal.append(PickWoven(pick), pick)
    return shelf


@pytest.fixture
def folder(tmp_path):
    return tmp_path / "stick" / "copies"


def weave_one(shelf, name="Scarf 1/2"):
    with shelf.open(name) as journal:
        journal.append(NoteWritten("one more"), 0)


def entries_of(path):
    with Journal.open_to_read(path) as journal:
        return list(journal.entries())


def spoil(path):
    """Change an entry behind the triggers' back, so that only its seal tells."""
    database = sqlite3.connect(path, isolation_level=None)
    database.execute("DROP TRIGGER entries_stay")
    database.execute("UPDATE entries SET body = '{\"pick\":1}' WHERE number = 3")
    database.close()


def test_a_copy_holds_every_entry_and_is_named_after_its_warp(shelf, folder):
    copy = back_up(shelf.path("Scarf 1/2"), folder)
    assert (copy.entries, copy.made_now) == (5, True)
    assert copy.path == folder / "Scarf 1%2F2~000001.journal"
    assert entries_of(copy.path) == entries_of(shelf.path("Scarf 1/2"))
    assert sorted(file.name for file in folder.iterdir()) == [".backup.lock", "Scarf 1%2F2~000001.journal"]


def test_a_copy_is_made_while_the_warp_is_woven(shelf, folder):
    with shelf.open("Scarf 1/2") as journal:
        journal.append(PickWoven(5), 0)
        copy = back_up(journal.path, folder)
        journal.append(PickWoven(6), 0)
    assert copy.entries == 6
    assert len(entries_of(copy.path)) == 6


def test_a_copy_of_an_empty_warp_is_a_copy(shelf, folder):
    shelf.create("empty", small_warp(), at_ms=0).close()
    assert back_up(shelf.path("empty"), folder).entries == 0


def test_without_new_entries_the_copy_that_is_there_is_looked_through_and_stays(shelf, folder):
    first = back_up(shelf.path("Scarf 1/2"), folder)
    again = back_up(shelf.path("Scarf 1/2"), folder)
    assert (again.path, again.entries, again.made_now) == (first.path, 5, False)


def test_a_copy_that_went_bad_is_made_anew(shelf, folder):
    spoil(back_up(shelf.path("Scarf 1/2"), folder).path)
    again = back_up(shelf.path("Scarf 1/2"), folder)
    assert again.made_now
    assert again.path.name == "Scarf 1%2F2~000002.journal"


def test_the_newest_ten_copies_of_each_warp_stay(shelf, folder):
    shelf.create("Scarf 1", small_warp(), at_ms=0).close()
    other = back_up(shelf.path("Scarf 1"), folder)
    made = []
    for _ in range(KEPT + 3):
        weave_one(shelf)
        made.append(back_up(shelf.path("Scarf 1/2"), folder).path)
    assert copies(folder, "Scarf 1%2F2") == tuple(made[-KEPT:])
    assert copies(folder, "Scarf 1") == (other.path,)


def test_a_damaged_journal_costs_no_older_copy(shelf, folder):
    for _ in range(KEPT):
        weave_one(shelf)
        back_up(shelf.path("Scarf 1/2"), folder)
    before = copies(folder, "Scarf 1%2F2")
    spoil(shelf.path("Scarf 1/2"))
    with pytest.raises(CannotCopyError, match="entry 3 is not as it was written"):
        back_up(shelf.path("Scarf 1/2"), folder)
    assert copies(folder, "Scarf 1%2F2") == before
    assert not list(folder.glob("*part*"))


def test_what_a_cut_off_copy_left_behind_does_not_stop_the_next(shelf, folder):
    folder.mkdir(parents=True)
    (folder / "Scarf 1%2F2~part").write_bytes(b"half")
    (folder / "Scarf 1%2F2~part-wal").write_bytes(b"half")
    assert back_up(shelf.path("Scarf 1/2"), folder).entries == 5
    assert not list(folder.glob("*part*"))


def test_two_do_not_copy_into_one_folder_at_once(shelf, folder):
    folder.mkdir(parents=True)
    lock = WriterLock(folder / ".backup")
    with pytest.raises(JournalInUseError, match="copies are being made here already"):
        back_up(shelf.path("Scarf 1/2"), folder)
    lock.release()
    assert back_up(shelf.path("Scarf 1/2"), folder).made_now


def test_a_folder_that_cannot_be_made_is_told(shelf, tmp_path):
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(JournalError, match=r"Not a directory|File exists"):
        back_up(shelf.path("Scarf 1/2"), tmp_path / "file" / "copies")


def test_a_copy_that_differs_from_its_journal_is_not_named(shelf, folder, monkeypatch):
    def lame_copy(journal, path):
        with Journal.create(path, small_warp(), at_ms=0) as other:
            for _ in range(journal.last_number):
                other.append(NoteWritten("something else"), 0)
        path.with_name(path.name + ".lock").unlink()

    monkeypatch.setattr(backup.Journal, "copy_to", lame_copy)
    with pytest.raises(JournalError, match="the copy differs from the journal"):
        back_up(shelf.path("Scarf 1/2"), folder)
    assert copies(folder, "Scarf 1%2F2") == ()


def test_a_damaged_warp_is_put_back_and_the_damaged_one_set_aside(shelf, folder):
    path = shelf.path("Scarf 1/2")
    good = entries_of(path)
    copy = back_up(path, folder)
    path.write_bytes(path.read_bytes()[:6_000])
    path.with_name(path.name + "-wal").write_bytes(b"a log that belongs to the damaged one")
    done = put_back(copy.path, shelf)
    assert (done.name, done.entries) == ("Scarf 1/2", 5)
    assert done.set_aside.stat().st_size == 6_000
    assert done.set_aside.with_name(done.set_aside.name + "-wal").exists()
    assert shelf.names() == ("Scarf 1/2",)
    with shelf.open("Scarf 1/2") as journal:
        assert journal.notice == ""
        assert list(journal.entries()) == good
        assert journal.append(PickWoven(5), 0).number == 6


def test_a_warp_that_is_gone_is_put_back(shelf, folder, tmp_path):
    copy = back_up(shelf.path("Scarf 1/2"), folder)
    done = put_back(copy.path, Shelf(tmp_path / "another device"))
    assert done.set_aside is None
    assert Shelf(tmp_path / "another device").names() == ("Scarf 1/2",)


def test_a_warp_that_is_whole_and_no_shorter_is_not_replaced(shelf, folder):
    copy = back_up(shelf.path("Scarf 1/2"), folder)
    weave_one(shelf)
    before = entries_of(shelf.path("Scarf 1/2"))
    with pytest.raises(JournalError, match="is whole and has 6 entries, the copy 5; weave on; nothing was changed"):
        put_back(copy.path, shelf)
    assert entries_of(shelf.path("Scarf 1/2")) == before


def test_another_warp_of_that_name_is_not_replaced(shelf, folder, tmp_path):
    copy = back_up(shelf.path("Scarf 1/2"), folder)
    other = Shelf(tmp_path / "another device")
    other.create("Scarf 1/2", small_warp(), at_ms=0).close()
    with pytest.raises(JournalError, match="is another warp than the copy"):
        put_back(copy.path, other)


def test_a_copy_that_is_not_whole_is_not_put_back(shelf, folder):
    copy = back_up(shelf.path("Scarf 1/2"), folder)
    shelf.path("Scarf 1/2").write_bytes(b"damaged")
    spoil(copy.path)
    with pytest.raises(JournalDamagedError, match="entry 3 is not as it was written"):
        put_back(copy.path, shelf)
    assert shelf.path("Scarf 1/2").read_bytes() == b"damaged"


def test_a_copy_that_no_command_could_open_is_not_put_back(shelf, folder):
    # Appended as they come: the store itself asks nobody whether an entry can follow.
    with shelf.create("gap", small_warp(), at_ms=0) as journal:
        journal.append(PickWoven(0), 1)
        journal.append(PickWoven(2), 2)
    copy = back_up(shelf.path("gap"), folder)
    shelf.path("gap").write_bytes(b"damaged")
    with pytest.raises(JournalError, match=r"does not make sense .*pick 3 woven where pick 2 was next.*older copy"):
        put_back(copy.path, shelf)
    assert shelf.path("gap").read_bytes() == b"damaged"


def test_a_copy_whose_treadles_weave_another_cloth_is_put_back_and_says_so(shelf, folder):
    write_new(shelf.path("odd"), "0" * 32, 0, encode_warp(pressed_first(Footing((1,)))))
    copy = back_up(shelf.path("odd"), folder)
    shelf.path("odd").unlink()
    assert put_back(copy.path, shelf).unopened == ("piece 'Shawl': what is pressed at pick 1 does not open its shed")
    copy = back_up(shelf.path("Scarf 1/2"), folder)
    shelf.path("Scarf 1/2").unlink()
    assert put_back(copy.path, shelf).unopened == ""


def test_nothing_is_put_back_under_the_weavers_hands(shelf, folder):
    copy = back_up(shelf.path("Scarf 1/2"), folder)
    with shelf.open("Scarf 1/2"), pytest.raises(JournalInUseError):
        put_back(copy.path, shelf)


def test_the_copies_of_a_pause_lie_in_the_weavers_folder(monkeypatch, tmp_path):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path))
    assert backup_folder() == tmp_path / "backups"


def killed(shelf, tmp_path, picks):
    """The files of a warp whose program was killed: what is newest lies in the log only."""
    left = tmp_path / "left"
    with shelf.open("Scarf 1/2") as journal:
        for pick in range(picks):
            journal.append(NoteWritten(f"note {pick}"), 0)
        shutil.copytree(shelf.folder, left)
    return left / journal.path.name


def test_a_rescued_journal_is_put_back_with_its_log(shelf, tmp_path):
    rescued = killed(shelf, tmp_path, 9)
    assert rescued.with_name(rescued.name + "-wal").stat().st_size
    elsewhere = Shelf(tmp_path / "elsewhere")
    done = put_back(rescued, elsewhere)
    assert (done.name, done.entries) == ("Scarf 1/2", 14)
    assert len(entries_of(elsewhere.path("Scarf 1/2"))) == 14


def test_a_journal_that_was_set_aside_is_put_back_under_its_own_name(shelf, folder, tmp_path):
    path = shelf.path("Scarf 1/2")
    aside = tmp_path / (path.name + ".set-aside-1")
    shutil.copyfile(path, aside)
    elsewhere = Shelf(tmp_path / "elsewhere")
    assert put_back(aside, elsewhere).name == "Scarf 1/2"
    assert elsewhere.names() == ("Scarf 1/2",)


def test_a_file_that_is_not_named_as_a_copy_is_refused(shelf, tmp_path):
    odd = tmp_path / "scarf.db"
    shutil.copyfile(shelf.path("Scarf 1/2"), odd)
    with pytest.raises(JournalError, match="is not named as a copy"):
        put_back(odd, shelf)


def test_the_only_long_copy_outlives_a_loss(shelf, folder):
    for _ in range(20):
        weave_one(shelf)
    long = back_up(shelf.path("Scarf 1/2"), folder).path
    with Journal.open_to_read(shelf.path("Scarf 1/2")) as journal:
        warp, made_at, identity = journal.warp, journal.made_at_ms, journal.identity
        first = list(journal.entries())[:5]
    for file in shelf.folder.glob("Scarf 1%2F2.*"):
        file.unlink()
    with shelf.create("Scarf 1/2", warp, made_at, identity) as journal:
        journal.extend(first)
        assert longer_copy(journal, folder).path == long
    made = [back_up(shelf.path("Scarf 1/2"), folder)]
    for _ in range(KEPT + 4):
        weave_one(shelf)
        made.append(back_up(shelf.path("Scarf 1/2"), folder))
    assert copies(folder, "Scarf 1%2F2") == (long, *(copy.path for copy in made[-KEPT:]))
    assert (made[-1].there, made[-1].others) == (KEPT + 1, 1)


def test_two_devices_share_a_stick_without_driving_each_others_copies_out(shelf, folder, tmp_path):
    other = Shelf(tmp_path / "another device")
    other.create("Scarf 1/2", small_warp(), at_ms=0).close()
    for _ in range(KEPT + 2):
        for device in (shelf, other):
            weave_one(device)
            made = back_up(device.path("Scarf 1/2"), folder)
    assert (made.there, made.others) == (2 * KEPT, KEPT)
    again = back_up(shelf.path("Scarf 1/2"), folder)
    assert (again.made_now, again.entries) == (False, 5 + KEPT + 2)


def test_a_journal_that_lacks_nothing_has_no_longer_copy(shelf, folder):
    back_up(shelf.path("Scarf 1/2"), folder)
    with shelf.open("Scarf 1/2") as journal:
        assert longer_copy(journal, folder) is None


def test_a_link_in_place_of_the_lock_of_a_folder_cannot_empty_a_journal(shelf, folder):
    folder.mkdir(parents=True)
    journal = shelf.path("Scarf 1/2")
    (folder / ".backup.lock").symlink_to(journal)
    before = journal.read_bytes()
    with pytest.raises(JournalError, match="is a link"):
        back_up(journal, folder)
    assert journal.read_bytes() == before
