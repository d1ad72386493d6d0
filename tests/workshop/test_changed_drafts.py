"""A changed draft is kept beside the weaver's own as soon as it is changed, and never over another."""

from __future__ import annotations

import queue
from dataclasses import replace

import pytest

from companion.draft.edits import set_weft
from companion.draft.reading import read_draft
from companion.workshop.changed_drafts import ChangedDraft
from tests.screens.warps import twill_draft

DRAFT = twill_draft()
CHANGED = [set_weft(DRAFT, pick, 1 - DRAFT.weft[pick]) for pick in range(6)]


def test_changed_drafts_are_kept_beside_each_other_and_never_over_one_another(tmp_path):
    for stem in ("towel", "towel", "towel changed 2"):
        ChangedDraft(stem, DRAFT, tmp_path, print).keep_now(CHANGED[0])
    names = ["towel changed 2.wif", "towel changed 3.wif", "towel changed.wif"]
    assert sorted(path.name for path in tmp_path.iterdir()) == names
    assert read_draft((tmp_path / names[0]).read_bytes()) == CHANGED[0]


def test_the_last_of_many_changes_is_in_the_one_file_without_being_asked_for(tmp_path):
    told = queue.SimpleQueue()
    kept = ChangedDraft("towel", DRAFT, tmp_path, told.put)
    for draft in CHANGED:
        kept.keep(draft)
    path = tmp_path / "towel changed.wif"
    assert told.get(timeout=60) == path
    kept.keep_now(CHANGED[-1])
    assert [read_draft(file.read_bytes()) for file in tmp_path.iterdir()] == [CHANGED[-1]]


def test_a_draft_changed_back_leaves_no_file(tmp_path):
    kept = ChangedDraft("towel", DRAFT, tmp_path, lambda _outcome: None)
    kept.keep_now(CHANGED[0])
    kept.keep_now(replace(DRAFT))
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_cannot_be_written_is_told_and_nothing_is_thought_kept(tmp_path):
    told = queue.SimpleQueue()
    (tmp_path / "file").write_bytes(b"")
    kept = ChangedDraft("towel", DRAFT, tmp_path / "file", told.put)
    kept.keep(CHANGED[0])
    assert isinstance(told.get(timeout=60), OSError)
    with pytest.raises(OSError, match="file"):
        kept.keep_now(CHANGED[0])
