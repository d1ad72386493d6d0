"""The words for a sheet go where their warp goes: another name, a copy, the bin and back, a bundle, a backup."""

from __future__ import annotations

import pytest

from companion.journal.backup import back_up, put_back
from companion.journal.bin import copy_warp, in_bin, rename_warp, take_out, throw_away
from companion.journal.bundle import bring_in
from companion.journal.bundle_file import write_bundle
from companion.journal.shelf import Shelf
from companion.journal.words_beside import keep_words, read_words, words_path
from companion.weaving.sheet_words import NOTHING_SAID, SheetWords
from tests.journal.warps import small_warp

WORDS = SheetWords(("Keep the edges slack.",), ("Wash warm, press damp.",))


@pytest.fixture
def shelf(tmp_path):
    shelf = Shelf(tmp_path / "shelf")
    shelf.create("Scarf", small_warp(), at_ms=0).close()
    keep_words(shelf.path("Scarf"), WORDS)
    return shelf


def test_another_name_a_copy_and_the_bin_take_them_along(shelf, tmp_path):
    rename_warp(shelf, "Scarf", "Shawl")
    copy_warp(shelf, "Shawl", "Shawl 2")
    assert read_words(shelf.path("Shawl")) == read_words(shelf.path("Shawl 2")) == WORDS
    throw_away(shelf, "Shawl", tmp_path / "bin", at_ms=5)
    assert not words_path(shelf.path("Shawl")).exists()
    (binned,) = in_bin(tmp_path / "bin")
    assert take_out(binned, shelf) == "Shawl"
    assert read_words(shelf.path("Shawl")) == WORDS


def test_a_bundle_has_them_and_leaves_words_that_are_there_alone(shelf, tmp_path):
    with shelf.open_to_read("Scarf") as journal:
        write_bundle(journal, "Scarf", tmp_path / "scarf.zip")
    elsewhere = Shelf(tmp_path / "elsewhere")
    bring_in(tmp_path / "scarf.zip", elsewhere)
    assert read_words(elsewhere.path("Scarf")) == WORDS
    own = SheetWords(("My own.",))
    keep_words(elsewhere.path("Scarf"), own)
    bring_in(tmp_path / "scarf.zip", elsewhere)
    assert read_words(elsewhere.path("Scarf")) == own


def test_a_copy_put_back_has_them(shelf, tmp_path):
    copy = back_up(shelf.path("Scarf"), tmp_path / "stick").path
    elsewhere = Shelf(tmp_path / "elsewhere")
    put_back(copy, elsewhere)
    assert read_words(elsewhere.path("Scarf")) == WORDS
    shelf.path("Scarf").write_bytes(b"no journal any more")
    keep_words(shelf.path("Scarf"), SheetWords(("newer",)))
    put_back(copy, shelf)
    assert read_words(shelf.path("Scarf")) == SheetWords(("newer",))


def test_words_taken_away_leave_no_file(shelf):
    keep_words(shelf.path("Scarf"), NOTHING_SAID)
    assert not words_path(shelf.path("Scarf")).exists()
    assert read_words(shelf.path("Scarf")) == NOTHING_SAID
