"""Warps put away: no entry is lost on the way, a warp in use stays where it is, and the bin gives back what it took."""

from __future__ import annotations

import subprocess
import sys

import pytest

from companion.journal.bin import copy_warp, empty_bin, found_in_bin, in_bin, rename_warp, take_out, throw_away
from companion.journal.disk import has_log
from companion.journal.errors import JournalError, JournalInUseError
from companion.journal.mark import mark_path, read_mark
from companion.journal.shelf import Shelf, as_shelved
from companion.weaving.events import PickWoven
from tests.journal.warps import small_warp

KILLED = """
import os, sys
from pathlib import Path
from companion.journal.shelf import Shelf
from companion.weaving.events import PickWoven
journal = Shelf(Path(sys.argv[1])).open("Scarf")
journal.append(PickWoven(2), 9)
os._exit(9)
"""


@pytest.fixture
def shelf(tmp_path):
    """A shelf with a scarf, two picks woven, and a rug."""
    shelf = Shelf(tmp_path / "journal")
    shelf.create("Rug", small_warp(), at_ms=0).close()
    with shelf.create("Scarf", small_warp(), at_ms=0) as journal:
        journal.append(PickWoven(0), 5)
        journal.append(PickWoven(1), 7)
    return shelf


@pytest.fixture
def bin_(tmp_path):
    return tmp_path / "bin"


def entries(shelf, name):
    with shelf.open_to_read(name) as journal:
        return tuple(journal.entries())


def files(folder):
    return sorted(path.name for path in folder.iterdir() if path.suffix != ".lock")


def test_a_renamed_warp_has_every_entry_its_identity_and_its_mark(shelf):
    before = entries(shelf, "Scarf")
    with shelf.open_to_read("Scarf") as journal:
        identity = journal.identity
    assert rename_warp(shelf, "scarf", "  Scarf for  Ada ") == "Scarf for Ada"
    assert (shelf.names(), shelf.last_used()) == (("Rug", "Scarf for Ada"), "Scarf for Ada")
    with shelf.open("Scarf for Ada") as journal:
        assert (journal.identity, journal.missing, journal.notice) == (identity, 0, "")
        assert as_shelved(journal).name == "Scarf for Ada"
    assert entries(shelf, "Scarf for Ada") == before
    assert read_mark(shelf.path("Scarf for Ada")).number == 2
    assert not any(name.startswith("Scarf.") for name in files(shelf.folder))


def test_only_the_capitals_of_a_name_may_change_and_another_warps_name_is_refused(shelf):
    assert rename_warp(shelf, "Scarf", "SCARF") == "SCARF"
    assert shelf.names() == ("Rug", "SCARF")
    for change in (rename_warp, copy_warp):
        with pytest.raises(JournalError, match="exists already; choose another name"):
            change(shelf, "SCARF", "rug")
        with pytest.raises(JournalError, match="needs a name"):
            change(shelf, "SCARF", " ")
    assert (shelf.names(), len(entries(shelf, "SCARF")), len(entries(shelf, "Rug"))) == (("Rug", "SCARF"), 2, 0)


def test_renaming_another_warp_leaves_the_last_used(shelf):
    rename_warp(shelf, "Rug", "Mat")
    assert shelf.last_used() == "Scarf"


def test_a_warp_in_use_is_neither_renamed_nor_thrown_away_but_can_be_copied(shelf, bin_):
    with shelf.open("Scarf") as journal:
        for change in (
            lambda: rename_warp(shelf, "Scarf", "Shawl"),
            lambda: throw_away(shelf, "Scarf", bin_, 1),
        ):
            with pytest.raises(JournalInUseError) as refused:
                change()
            assert "is already open" in str(refused.value)
            assert "\n" not in str(refused.value)
        journal.append(PickWoven(2), 9)
        assert copy_warp(shelf, "Scarf", "Scarf 2") == "Scarf 2"
        journal.append(PickWoven(3), 11)
    assert [len(entries(shelf, name)) for name in shelf.names()] == [0, 4, 3]
    assert in_bin(bin_) == ()


def test_what_only_the_log_of_a_killed_program_holds_goes_along(shelf, bin_):
    subprocess.run([sys.executable, "-c", KILLED, str(shelf.folder)], check=False, timeout=60)
    assert has_log(shelf.path("Scarf"))
    binned = throw_away(shelf, "Scarf", bin_, 1)
    assert not has_log(binned.path)
    assert rename_warp(shelf, take_out(binned, shelf), "Shawl") == "Shawl"
    assert [entry.event for entry in entries(shelf, "Shawl")] == [PickWoven(0), PickWoven(1), PickWoven(2)]


def test_a_copy_is_a_warp_of_its_own_with_the_same_entries(shelf):
    copy_warp(shelf, "Scarf", "Scarf 2")
    assert entries(shelf, "Scarf 2") == entries(shelf, "Scarf")
    with shelf.open_to_read("Scarf") as one, shelf.open_to_read("Scarf 2") as other:
        assert one.identity != other.identity
        assert (other.warp.name, other.warp.pieces, other.look_through()) == ("Scarf 2", one.warp.pieces, 2)
    assert not [name for name in files(shelf.folder) if name.startswith(".")]


def test_a_copy_that_fails_leaves_nothing_on_the_shelf(shelf, monkeypatch):
    def fails(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("companion.journal.bin.move_journal", fails)
    with pytest.raises(JournalError, match="No space left"):
        copy_warp(shelf, "Scarf", "Scarf 2")
    assert [name for name in files(shelf.folder) if name.startswith((".", "Scarf 2"))] == []
    assert shelf.names() == ("Rug", "Scarf")


def test_the_bin_gives_back_what_it_took_and_never_over_another_warp(shelf, bin_):
    before = entries(shelf, "Scarf")
    first = throw_away(shelf, "Scarf", bin_, 1_000)
    throw_away(shelf, "Rug", bin_, 2_000)
    assert shelf.names() == ()
    assert [(warp.name, warp.at_ms) for warp in in_bin(bin_)] == [("Rug", 2_000), ("Scarf", 1_000)]
    shelf.create("Scarf", small_warp(), at_ms=0).close()
    assert take_out(first, shelf) == "Scarf 2"
    assert (entries(shelf, "Scarf 2"), entries(shelf, "Scarf")) == (before, ())
    assert [warp.name for warp in in_bin(bin_)] == ["Rug"]
    (rug,) = in_bin(bin_)
    assert found_in_bin(bin_, rug.path) == rug
    with pytest.raises(JournalError, match="in the bin no longer"):
        found_in_bin(bin_, first.path)


def test_a_damaged_warp_can_be_thrown_away_as_it_lies(shelf, bin_):
    path = shelf.path("Scarf")
    path.write_bytes(b"rubbish")
    marked = mark_path(path).read_bytes()
    binned = throw_away(shelf, "Scarf", bin_, 1)
    assert (binned.path.read_bytes(), mark_path(binned.path).read_bytes()) == (b"rubbish", marked)
    with pytest.raises(JournalError, match="not a journal"):
        rename_warp(shelf, take_out(binned, shelf), "Shawl")


def test_emptying_removes_what_is_in_the_bin_and_nothing_else(shelf, bin_):
    assert (in_bin(bin_), empty_bin(bin_)) == ((), 0)
    throw_away(shelf, "Scarf", bin_, 1)
    (bin_ / "letters").mkdir()
    (bin_ / "letters" / "Rug.journal").write_text("the weaver's own")
    (bin_ / "000000000000001-00000000").symlink_to(bin_ / "letters")
    assert empty_bin(bin_) == 1
    assert sorted(path.name for path in bin_.iterdir()) == ["000000000000001-00000000", "letters"]
    assert (bin_ / "letters" / "Rug.journal").exists()
    assert shelf.names() == ("Rug",)
