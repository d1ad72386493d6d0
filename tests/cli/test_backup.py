"""`fellside backup`, as typed."""

import json

import pytest

from companion.cli.commands import run
from companion.journal.shelf import shelf_of_weaver
from companion.weaving.events import PickWoven
from tests.journal.warps import small_warp


@pytest.fixture
def shelf(tmp_path, monkeypatch):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "home"))
    shelf = shelf_of_weaver()
    for name in ("scarf", "towels"):
        with shelf.create(name, small_warp(), at_ms=0) as journal:
            journal.append(PickWoven(0), 0)
    return shelf


def test_every_warp_is_copied_and_told(shelf, tmp_path, capsys):
    folder = tmp_path / "stick"
    assert run(["backup", str(folder)]) == 0
    assert capsys.readouterr().out.splitlines() == [
        f"scarf: 1 entries, copied and verified: {folder / 'scarf~000001.journal'}",
        f"towels: 1 entries, copied and verified: {folder / 'towels~000001.journal'}",
    ]
    assert run(["backup", str(folder)]) == 0
    assert "unchanged since this copy, verified again" in capsys.readouterr().out


def test_json_goes_alone_to_stdout(shelf, tmp_path, capsys):
    assert run(["backup", "--json"]) == 0
    folder = tmp_path / "home" / "backups"
    assert json.loads(capsys.readouterr().out) == {
        "folder": str(folder),
        "copies": [
            {
                "warp": name,
                "entries": 1,
                "file": str(folder / f"{name}~000001.journal"),
                "new": True,
                "there": 1,
                "others": 0,
            }
            for name in ("scarf", "towels")
        ],
    }


def test_a_warp_that_cannot_be_copied_does_not_keep_the_others_from_it(shelf, tmp_path, capsys):
    shelf.path("scarf").write_bytes(b"rubbish")
    assert run(["backup", str(tmp_path / "stick")]) == 1, "trying again is no use"
    out, err = capsys.readouterr()
    assert out.startswith("towels: 1 entries, copied and verified")
    assert err.startswith("fellside backup: 1 of 2 warps not copied: ")
    assert err.count("\n") == 1
    assert "is not a journal of Fellside" in err


def test_a_disk_that_refuses_a_copy_is_another_matter(shelf, tmp_path, capsys):
    (tmp_path / "stick").write_text("in the way")
    shelf.path("scarf").write_bytes(b"rubbish")
    assert run(["backup", str(tmp_path / "stick")]) == 2
    assert capsys.readouterr().err.startswith("fellside backup: 2 of 2 warps not copied: ")


def test_what_else_lies_in_the_folder_of_journals_keeps_nothing_from_being_copied(shelf, tmp_path, capsys):
    (shelf.folder / "folder.journal").mkdir()
    (shelf.folder / "gone.journal").symlink_to(shelf.folder / "nowhere")
    run(["backup", str(shelf.folder)])
    (shelf.folder / "._scarf.journal").write_bytes(b"of a file manager")
    assert run(["backup", str(tmp_path / "stick")]) == 0
    assert sorted(path.name for path in (tmp_path / "stick").glob("*.journal")) == [
        "scarf~000001.journal",
        "towels~000001.journal",
    ]


def test_an_empty_shelf_has_nothing_to_copy(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path))
    assert run(["backup", str(tmp_path / "stick")]) == 1
    assert "nothing to copy" in capsys.readouterr().err
    assert not (tmp_path / "stick").exists()


def test_a_copy_is_put_back_as_the_error_of_a_damaged_warp_says(shelf, tmp_path, capsys):
    folder = tmp_path / "stick"
    run(["backup", str(folder)])
    shelf.path("scarf").write_bytes(b"rubbish")
    capsys.readouterr()
    assert run(["backup", "--restore", str(folder / "scarf~000001.journal")]) == 0
    out = capsys.readouterr().out
    assert out.startswith("scarf: 1 entries put back from ")
    assert "was set aside: " in out
    with shelf.open("scarf") as journal:
        assert journal.last_number == 1
    assert run(["backup", "--restore", str(folder / "scarf~000001.journal"), "--json"]) == 2
    assert "is whole and has 1 entries" in capsys.readouterr().err


@pytest.mark.parametrize(
    "words", [["--restore", "nowhere.journal"], ["--restore"], ["a", "b"], ["a", "--restore", "b"]]
)
def test_wrong_use_is_one_line(shelf, capsys, words):
    assert run(["backup", *words]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
