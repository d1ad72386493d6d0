"""Drafts renamed, copied, thrown away and put back, each with its words, as files on disk."""

from __future__ import annotations

import pytest

from companion.draft.wif_write import write_wif
from companion.journal.bin import empty_bin, in_bin
from companion.journal.errors import JournalError
from companion.journal.words_beside import keep_words, read_words
from companion.weaving.sheet_words import SheetWords
from companion.workshop.drafts_tidied import (
    copy_draft,
    drafts_in_bin,
    own_drafts,
    rename_draft,
    take_draft_out,
    throw_draft_away,
)
from tests.screens.warps import twill_draft

WORDS = SheetWords(("Slack edges.",))
CONTENT = write_wif(twill_draft())


@pytest.fixture
def towel(tmp_path, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    documents = tmp_path / "Documents"
    documents.mkdir()
    (documents / "towel.wif").write_bytes(CONTENT)
    keep_words(documents / "towel.wif", WORDS)
    return documents / "towel.wif"


def holds(path):
    return path.read_bytes() == CONTENT and read_words(path) == WORDS


def test_another_name_and_a_copy_take_the_words_along_and_overwrite_nothing(towel, tmp_path):
    renamed = rename_draft(towel, "tea towel.wif")
    assert (renamed.name, towel.exists()) == ("tea towel.wif", False)
    copy = copy_draft(renamed, "second")
    assert holds(renamed)
    assert holds(copy)
    for act in (rename_draft, copy_draft):
        with pytest.raises(JournalError, match="exists already"):
            act(renamed, "second")
    assert holds(copy)
    assert set(own_drafts(tmp_path)) == {renamed, copy}
    assert rename_draft(renamed, "Tea Towel").name == "Tea Towel.wif"


def test_the_bin_gives_a_draft_back_where_it_was_until_it_is_emptied(towel, tmp_path):
    bin_folder = tmp_path / "bin"
    binned = throw_draft_away(towel, bin_folder, at_ms=7)
    assert not towel.exists()
    assert in_bin(bin_folder) == (), "no warp"
    assert drafts_in_bin(bin_folder) == (binned,)
    towel.write_bytes(b"another of that name")
    assert take_draft_out(binned.path, bin_folder) == towel.with_name("towel 2.wif")
    assert holds(towel.with_name("towel 2.wif"))
    assert towel.read_bytes() == b"another of that name"
    assert drafts_in_bin(bin_folder) == ()
    gone = throw_draft_away(towel, bin_folder, at_ms=8)
    empty_bin(bin_folder)
    with pytest.raises(JournalError, match="in the bin no longer"):
        take_draft_out(gone.path, bin_folder)


def test_where_its_folder_is_gone_a_draft_comes_back_among_the_papers(towel, tmp_path):
    binned = throw_draft_away(towel, tmp_path / "bin", at_ms=7)
    towel.parent.rename(tmp_path / "Elsewhere")
    back = take_draft_out(binned.path, tmp_path / "bin")
    assert back == tmp_path / "Documents" / "Fellside" / "towel.wif"
    assert holds(back)
