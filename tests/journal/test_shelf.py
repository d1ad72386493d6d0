"""The shelf: names of any script and shape become files and come back; the last used is known."""

import os
import shutil
import sqlite3

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.journal.errors import JournalError, JournalInUseError
from companion.journal.shelf import Shelf, data_folder, file_stem, name_of, same_name, tidy_name
from companion.weaving.events import PickWoven
from tests.journal.warps import small_warp


@pytest.fixture
def shelf(tmp_path):
    return Shelf(tmp_path / "journal")


def put(shelf, *names):
    for name in names:
        shelf.create(name, small_warp(), at_ms=0).close()


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ("Blue shawl", "Blue shawl"),
        ("Scarf 1/2", "Scarf 1%2F2"),
        ("..", "%2E%2E"),
        (".hidden", "%2Ehidden"),
        ("ends in a dot.", "ends in a dot%2E"),
        ("CON", "%43ON"),
        ("com1.old", "%63om1.old"),
        ("100%", "100%25"),
        ('a\\b:c*d?e"f<g>h|i', "a%5Cb%3Ac%2Ad%3Fe%22f%3Cg%3Eh%7Ci"),
        ("~ backup", "%7E backup"),
        ("Schal für Zoë", "Schal für Zoë"),
        ("藍の帯", "藍の帯"),
        ("\N{BALL OF YARN}" * 17, "\N{BALL OF YARN}" * 17),
    ],
)
def test_a_name_becomes_a_file_name_that_every_system_takes_and_comes_back(name, stem):
    assert file_stem(name) == stem
    assert name_of(stem) == name


@given(st.text(min_size=1, max_size=60))
def test_every_name_that_is_taken_makes_a_safe_file_name_and_comes_back(name):
    try:
        stem = file_stem(name)
    except JournalError:
        return
    assert name_of(stem) == tidy_name(name)
    assert not set(stem) & set('/\\:*?"<>|~\0')
    assert not stem.startswith((".", " "))
    assert not stem.endswith((".", " "))
    assert len(stem.encode()) <= 200


NAMES = st.text("ab2F%/. ü\N{COMBINING DIAERESIS}u藍~", min_size=1, max_size=5).filter(str.strip)


@given(NAMES, NAMES)
def test_two_names_share_a_file_name_only_if_they_are_one_name(one, other):
    stems = file_stem(one), file_stem(other)
    assert (stems[0] == stems[1]) == (tidy_name(one) == tidy_name(other))


def test_spaces_and_composed_letters_are_made_one_way():
    assert tidy_name("  Zoe\N{COMBINING DIAERESIS} \n shawl ") == "Zoë shawl"
    assert same_name("BLUE  Shawl", "blue shawl")


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("", "needs a name"),
        (" \n", "needs a name"),
        ("a\0b", "cannot be shown"),
        ("x" * 81, "is too long"),
        ("\N{BALL OF YARN}" * 51, "needs more room than a file's name has"),
    ],
)
def test_a_name_that_cannot_be_kept_is_refused(shelf, name, says):
    with pytest.raises(JournalError, match=says):
        shelf.create(name, small_warp(), at_ms=0)
    assert shelf.names() == ()


def test_a_name_that_an_older_program_wrote_otherwise_is_the_same_warp(shelf):
    put(shelf, "\N{BALL OF YARN}")
    old = shelf.folder / "%F0%9F%A7%B6.journal"
    shelf.path("\N{BALL OF YARN}").rename(old)
    assert (shelf.names(), shelf.path("\N{BALL OF YARN}"), shelf.last_used()) == (
        ("\N{BALL OF YARN}",),
        old,
        "\N{BALL OF YARN}",
    )
    with pytest.raises(JournalError, match="exists already"):
        shelf.create("\N{BALL OF YARN}", small_warp(), at_ms=0)


def test_an_empty_shelf_has_no_names_and_no_last_used(shelf):
    assert shelf.names() == ()
    assert shelf.last_used() is None
    assert not shelf.folder.exists()


def test_names_are_sorted_without_regard_to_capitals_and_other_files_are_left_alone(shelf):
    put(shelf, "towels", "Blue shawl", "Åland rug", "scarf 1/2")
    (shelf.folder / "notes.txt").write_text("not a warp")
    assert shelf.names() == ("Blue shawl", "scarf 1/2", "towels", "Åland rug")


def test_a_warp_is_found_whatever_its_capitals(shelf):
    put(shelf, "Blue shawl")
    with shelf.open("BLUE SHAWL") as journal:
        journal.append(PickWoven(0), 0)
    with shelf.open_to_read("blue  shawl") as journal:
        assert journal.last_number == 1
    with pytest.raises(JournalError, match="exists already"):
        shelf.create("blue shawl", small_warp(), at_ms=0)
    assert shelf.names() == ("Blue shawl",)


def test_an_unknown_name_is_answered_with_the_names_there_are(shelf):
    put(shelf, "scarf", "towels")
    with pytest.raises(JournalError, match="no warp is called 'rug'; the warps here are: scarf, towels"):
        shelf.open("rug")


def test_the_last_used_is_the_last_opened_to_weave(shelf):
    put(shelf, "scarf", "towels", "rug")
    assert shelf.last_used() == "rug"
    shelf.open("scarf").close()
    shelf.open_to_read("towels").close()
    assert shelf.last_used() == "scarf"


def test_without_its_mark_the_last_used_is_the_last_changed(shelf):
    put(shelf, "scarf", "towels", "rug")
    for age, name in enumerate(("towels", "rug", "scarf")):
        os.utime(shelf.path(name), (1_000_000 - age, 1_000_000 - age))
    (shelf.folder / "last-used").unlink()
    assert shelf.last_used() == "towels"
    (shelf.folder / "last-used").write_bytes(b"\xff")
    assert shelf.last_used() == "towels"
    (shelf.folder / "last-used").write_text("gone")
    assert shelf.last_used() == "towels"


def test_folders_copies_hidden_files_and_links_that_lead_nowhere_are_no_warps(shelf):
    put(shelf, "scarf")
    (shelf.folder / "folder.journal").mkdir()
    (shelf.folder / "gone.journal").symlink_to(shelf.folder / "nowhere")
    for name in ("scarf~000012.journal", "._scarf.journal"):
        shutil.copy(shelf.path("scarf"), shelf.folder / name)
    (shelf.folder / "last-used").unlink()
    assert (shelf.names(), shelf.last_used()) == (("scarf",), "scarf")


def test_warps_that_cannot_be_opened_show_at_a_glance(shelf):
    put(shelf, "empty", "flipped", "rubbish", "scarf", "newer")
    shelf.path("empty").write_bytes(b"")
    shelf.path("rubbish").write_bytes(b"rubbish")
    flipped = bytearray(shelf.path("flipped").read_bytes())
    flipped[flipped.index(b"Blue shawl")] ^= 1
    shelf.path("flipped").write_bytes(flipped)
    with sqlite3.connect(shelf.path("newer")) as database:
        database.execute("PRAGMA user_version = 99")
    assert shelf.unreadable() == {"empty", "flipped", "rubbish", "newer"}


def test_a_warp_in_use_stays_in_use_and_the_mark_where_it_was(shelf):
    put(shelf, "scarf", "towels")
    with shelf.open("scarf"), shelf.open("towels"):
        with pytest.raises(JournalInUseError):
            shelf.open("scarf")
        assert shelf.last_used() == "towels"


def test_the_data_folder_follows_the_environment():
    home = {"FELLSIDE_HOME": "/srv/loom", "XDG_DATA_HOME": "/srv/share"}
    assert data_folder(home).as_posix() == "/srv/loom"
    assert data_folder({"XDG_DATA_HOME": "/srv/share"}).as_posix() == "/srv/share/fellside"
    assert data_folder({}).as_posix().endswith("/.local/share/fellside")
