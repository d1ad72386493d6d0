"""The start screen offers drafts, newest first, and nothing that only shares their ending."""

from __future__ import annotations

import os

from companion.workshop.places import asset, drafts_to_choose_from, home, last_folder, remember_folder


def test_the_demo_draft_ships_with_the_program():
    assert asset("drafts/demo-double-faced-four-shaft.wif").is_file()


def test_drafts_are_found_where_weavers_keep_them_newest_first(tmp_path):
    names = {"Documents/old.wif": 1, "Downloads/towels/new.WIF": 3, "Drafts/typed.txt": 2, "Documents/letter.txt": 4}
    for name, changed in names.items():
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text("threading: 1 2" if "typed" in name else "dear weaver", encoding="utf-8")
        os.utime(path, (changed, changed))
    found = [path.name for path in drafts_to_choose_from(tmp_path)]
    assert found[:3] == ["new.WIF", "typed.txt", "old.wif"]
    assert "letter.txt" not in found
    assert "demo-double-faced-four-shaft.wif" in found[3:]


def test_drafts_of_the_folder_looked_into_last_are_offered_too(tmp_path):
    for name in ("Documents/towel.wif", "mine/rug.wif", "mine/deeper/other.wif"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("[WIF]", encoding="utf-8")
    offered = [path.name for path in drafts_to_choose_from(tmp_path, tmp_path / "mine")]
    assert sorted(offered[:2]) == ["rug.wif", "towel.wif"]
    assert offered[2:] == [path.name for path in drafts_to_choose_from(tmp_path)][1:]
    # A folder that is named twice, or is gone, or holds what comes along, changes nothing.
    for also in (tmp_path / "Documents", tmp_path / "gone", asset("drafts")):
        assert drafts_to_choose_from(tmp_path, also) == drafts_to_choose_from(tmp_path)


def test_where_there_are_no_folders_only_the_drafts_of_the_program_are_offered(tmp_path):
    found = drafts_to_choose_from(tmp_path)
    assert found
    assert all(path.parent == asset("drafts") for path in found)


def test_the_last_folder_is_remembered_and_home_before_that(tmp_path, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    assert last_folder() == home() == tmp_path
    for name in ("rugs", "Größe 2 ", "\udcff"):
        remember_folder(tmp_path / "rugs")
        remember_folder(tmp_path / name)
        assert last_folder() == tmp_path / ("rugs" if name == "\udcff" else name)
    for spoilt in (b"", b"\xff\xfe", b"rugs"):
        (tmp_path / "fellside" / "last-folder").write_bytes(spoilt)
        assert last_folder() == tmp_path


def test_a_folder_that_the_disk_does_not_remember_stops_nobody(tmp_path, monkeypatch):
    (tmp_path / "file").write_text("no folder")
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "file"))
    remember_folder(tmp_path / "rugs")
    assert last_folder() == tmp_path
