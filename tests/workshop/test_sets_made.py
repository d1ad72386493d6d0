"""Sets made and changed: what is put in is listed, in its order, with what a hand wrote there left alone."""

from __future__ import annotations

import pytest

from companion.draft.wif_write import write_wif
from companion.journal.bin import in_bin, rename_warp
from companion.journal.errors import JournalError
from companion.journal.shelf import Shelf
from companion.journal.words_beside import keep_words, read_words
from companion.weaving.sheet_words import SheetWords
from companion.workshop.drafts_tidied import drafts_in_bin
from companion.workshop.project_sets import SET_FILE, ProjectSetError, read_set
from companion.workshop.sets_made import (
    add_draft,
    add_warp,
    add_words,
    look_at_set,
    make_set,
    put_first,
    rename_in_sets,
    sets_there,
    take_out,
)
from companion.workshop.sets_tidied import rename_set, sets_in_bin, take_set_out, throw_set_away
from tests.journal.warps import small_warp
from tests.screens.warps import twill_draft


@pytest.fixture
def shelf(tmp_path, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    (tmp_path / "towel.wif").write_bytes(write_wif(twill_draft()))
    keep_words(tmp_path / "towel.wif", SheetWords(("Slack edges.",)))
    shelf = Shelf(tmp_path / "shelf")
    shelf.create("Scarf", small_warp(), at_ms=0).close()
    return shelf


def listed(folder, shelf):
    return [(one.kind, one.which) for one in look_at_set(folder, shelf)[2]]


def test_drafts_and_warps_are_put_in_ordered_and_taken_out(shelf, tmp_path):
    folder = make_set("Towels: four and eight")
    assert sets_there() == (folder,)
    assert look_at_set(folder, shelf) == ("Towels: four and eight", (), ())
    for _ in range(2):
        add_draft(folder, tmp_path / "towel.wif")
    add_warp(folder, "Scarf")
    add_words(folder, "Weave the sample first.")
    assert listed(folder, shelf) == [("draft", "towel.wif"), ("draft", "towel 2.wif"), ("warp", "Scarf")]
    assert read_words(folder / "towel 2.wif") == SheetWords(("Slack edges.",))
    title, words, members = look_at_set(folder, shelf)
    assert (title, words) == ("Towels: four and eight", ("Weave the sample first.",))
    put_first(folder, members[2])
    take_out(folder, members[0])
    assert listed(folder, shelf) == [("warp", "Scarf"), ("draft", "towel 2.wif")]
    assert [member.name for member in read_set(folder, shelf).members] == ["Scarf", "Towel"]


def test_what_a_hand_wrote_there_stays_and_what_is_gone_has_its_problem(shelf, tmp_path):
    folder = make_set("Mine")
    (folder / SET_FILE).write_text("# by hand\nTitle: Mine\nwarp: Nobody's\n", encoding="utf-8")
    add_draft(folder, tmp_path / "towel.wif")
    gone, there = look_at_set(folder, shelf)[2]
    assert gone.member is None
    assert "Nobody's" in gone.problem
    assert there.member is not None
    take_out(folder, gone)
    assert (folder / SET_FILE).read_text(encoding="utf-8") == "# by hand\nTitle: Mine\ndraft: towel.wif\n"


def test_a_set_follows_when_a_warp_in_it_gets_another_name(shelf):
    folder, other = make_set("Mine"), make_set("Other")
    (folder / SET_FILE).write_text("# by hand\nTitle: Mine\nwarp: Scarf\nwords: Scarf\n", encoding="utf-8")
    assert rename_in_sets("Scarf", rename_warp(shelf, "Scarf", "Shawl")) == ("Mine",)
    assert (folder / SET_FILE).read_text(encoding="utf-8") == "# by hand\nTitle: Mine\nwarp: Shawl\nwords: Scarf\n"
    assert (other / SET_FILE).read_text(encoding="utf-8") == "title: Other\n"
    assert [member.name for member in read_set(folder, shelf).members] == ["Shawl"]


def test_what_is_gone_is_told_by_touch_with_its_name_and_without_a_path(shelf, tmp_path):
    folder = make_set("Mine")
    add_draft(folder, tmp_path / "towel.wif")
    (folder / "towel.wif").unlink()
    add_warp(folder, "Gone")
    with pytest.raises(ProjectSetError) as refused:
        read_set(folder, shelf)
    for told in (refused.value.told_by_touch, *(one.problem for one in look_at_set(folder, shelf)[2])):
        assert str(tmp_path) not in told
        assert told.startswith(("towel.wif", "Gone"))
    assert str(folder) in str(refused.value), "in the terminal the file is told"


def test_no_set_is_made_over_another(shelf):
    make_set("Mats")
    with pytest.raises(JournalError, match="exists already"):
        make_set("Mats")


def test_a_set_gets_another_name_and_keeps_what_is_in_it(shelf, tmp_path):
    folder = make_set("Towes")
    add_words(folder, "Weave the sample first.")
    add_draft(folder, tmp_path / "towel.wif")
    make_set("Mats")
    with pytest.raises(JournalError, match="exists already"):
        rename_set(folder, "Mats")
    new = rename_set(folder, "Towels")
    assert (new.name, folder.exists()) == ("Towels", False)
    assert look_at_set(new, shelf)[:2] == ("Towels", ("Weave the sample first.",))
    assert listed(new, shelf) == [("draft", "towel.wif")]
    # Only its capitals: on some disks that is the same folder.
    assert rename_set(new, "TOWELS").name == "TOWELS"
    assert look_at_set(tmp_path / "Documents" / "Fellside" / "Sets" / "TOWELS", shelf)[0] == "TOWELS"


def test_a_set_in_the_bin_leaves_its_drafts_and_warps_and_comes_back_as_it_was(shelf, tmp_path):
    bin_ = tmp_path / "bin"
    folder = make_set("Towels")
    add_draft(folder, tmp_path / "towel.wif")
    add_warp(folder, "Scarf")
    before = listed(folder, shelf)
    binned = throw_set_away(folder, bin_, at_ms=7)
    assert sets_in_bin(bin_) == (binned,)
    assert (sets_there(), in_bin(bin_), drafts_in_bin(bin_)) == ((), (), ())
    assert (folder / "towel.wif").read_bytes() == (tmp_path / "towel.wif").read_bytes()
    assert shelf.names_by_use() == ("Scarf",)
    # Emptied or not, the drafts of a set stay; here it comes back beside another that has its name meanwhile.
    other = make_set("Towels")
    back = take_set_out(binned.path, bin_)
    assert (back.name, listed(back, shelf), listed(other, shelf)) == ("Towels 2", before, [])
    assert sets_in_bin(bin_) == ()
    again = throw_set_away(back, bin_, at_ms=8)
    assert take_set_out(again.path, bin_) == back
    assert listed(back, shelf) == before
    with pytest.raises(JournalError, match="in the bin no longer"):
        take_set_out(again.path, bin_)


@pytest.mark.parametrize(
    ("listed", "told"),
    [
        (
            b"title: Mats\ndraft mat.wif\n",
            "'draft mat.wif' is no line of a set: line 2 of set.txt; write title, words, draft or warp, a colon,",
        ),
        (b"\xff\xfe", "set.txt is no text in UTF-8; save it as UTF-8"),
        (b"#" * 100_001, "Its set.txt is too large for the list of a set; write one line for each of at most 200"),
    ],
)
def test_a_list_that_cannot_be_read_says_by_touch_what_is_wrong_where_and_how_to_mend_it(shelf, tmp_path, listed, told):
    folder = make_set("Mats")
    (folder / SET_FILE).write_bytes(listed)
    with pytest.raises(ProjectSetError) as refused:
        look_at_set(folder, shelf)
    assert refused.value.told_by_touch.startswith(told)
    assert str(refused.value).startswith(str(folder))
