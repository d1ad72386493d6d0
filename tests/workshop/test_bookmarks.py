"""The place in the window that is kept while a tablet puts the program away: found once, and never in the way."""

from __future__ import annotations

from pathlib import Path

import pytest

from companion.remap.loom.loom import Action, Loom
from companion.weaving.warp import LoomProfile
from companion.workshop.bookmarks import (
    Bookmark,
    Marked,
    keep_bookmarks,
    mark_of_search,
    search_of,
    take_bookmarks,
)


def test_every_place_is_found_again_once(tmp_path):
    path = tmp_path / "new folder" / "place.json"
    way = tuple(Bookmark(at, f"name {number} \N{SNOWMAN}") for number, at in enumerate(Marked))
    keep_bookmarks(path, way)
    assert take_bookmarks(path) == way
    assert take_bookmarks(path) == ()


def test_the_words_in_the_file_stay(tmp_path):
    assert [at.value for at in Marked] == [
        "start", "loom", "record", "looms", "settings", "dressing", "draft", "search",
    ]  # fmt: skip
    path = tmp_path / "place.json"
    path.write_text('[["loom", "Towel"], ["record", "Towel"]]', encoding="utf-8")
    assert take_bookmarks(path) == (Bookmark(Marked.LOOM, "Towel"), Bookmark(Marked.RECORD, "Towel"))


def test_a_search_is_found_again_with_its_loom_and_one_that_makes_no_sense_is_told_as_such():
    loom = LoomProfile("Floor loom", Loom(8, 10, Action.COUNTERMARCHE), heddles=(40,) * 8)
    unnamed = LoomProfile("loom", Loom(4, 6))
    assert search_of(mark_of_search(Path("/drafts/towel.wif"), unnamed)) == (Path("/drafts/towel.wif"), unnamed)
    mark = mark_of_search(Path("/drafts/towel.wif"), loom)
    assert search_of(mark) == (Path("/drafts/towel.wif"), loom)
    impossible = mark.of.replace('"shafts": 8', '"shafts": -8')
    assert impossible != mark.of
    for spoilt in ("", "7", "[]", '["a"]', '["a", {"name": 7}]', '["a", {}]', impossible):
        with pytest.raises(ValueError, match="no search is marked there"):
            search_of(Bookmark(Marked.SEARCH, spoilt))


@pytest.mark.parametrize("content", [b"", b"{", b"7", b'[["nowhere", ""]]', b'[["loom"]]', b"\xff", b"[" * 9000])
def test_a_spoilt_file_leads_nowhere_and_is_gone_or_never_matters(tmp_path, content):
    path = tmp_path / "place.json"
    path.write_bytes(content)
    assert take_bookmarks(path) == ()
    assert take_bookmarks(path) == ()
