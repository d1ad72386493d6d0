"""The place in the window that is kept while a tablet puts the program away: found once, and never in the way."""

from __future__ import annotations

import pytest

from companion.workshop.bookmarks import Bookmark, Marked, keep_bookmarks, take_bookmarks


def test_every_place_is_found_again_once(tmp_path):
    path = tmp_path / "new folder" / "place.json"
    way = tuple(Bookmark(at, f"name {number} \N{SNOWMAN}") for number, at in enumerate(Marked))
    keep_bookmarks(path, way)
    assert take_bookmarks(path) == way
    assert take_bookmarks(path) == ()


def test_the_words_in_the_file_stay(tmp_path):
    assert [at.value for at in Marked] == ["start", "loom", "record", "looms", "settings", "dressing"]
    path = tmp_path / "place.json"
    path.write_text('[["loom", "Towel"], ["record", "Towel"]]', encoding="utf-8")
    assert take_bookmarks(path) == (Bookmark(Marked.LOOM, "Towel"), Bookmark(Marked.RECORD, "Towel"))


@pytest.mark.parametrize("content", [b"", b"{", b"7", b'[["nowhere", ""]]', b'[["loom"]]', b"\xff", b"[" * 9000])
def test_a_spoilt_file_leads_nowhere_and_is_gone_or_never_matters(tmp_path, content):
    path = tmp_path / "place.json"
    path.write_bytes(content)
    assert take_bookmarks(path) == ()
    assert take_bookmarks(path) == ()
