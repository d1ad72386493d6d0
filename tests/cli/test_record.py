"""`fellside record` over a real journal on disk."""

from __future__ import annotations

import json

import pytest

from companion.cli.commands import run
from companion.journal.database import write_new
from companion.journal.shelf import shelf_of_weaver
from companion.journal.warp_codec import encode_warp
from companion.remap.loom.loom import Footing
from companion.weaving.events import NoteWritten, PickWoven
from tests.journal.warps import pressed_first
from tests.weaving.world import lever_draft, lever_warp


@pytest.fixture
def shelf(tmp_path, monkeypatch):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "home"))
    shelf = shelf_of_weaver()
    with shelf.create("Runner", lever_warp(lever_draft([0, 1, 0])), 1_000) as journal:
        journal.append(PickWoven(0), 2_000)
        journal.append(PickWoven(1), 3_000)
        journal.append(NoteWritten("Zürcher Kante"), 4_000)
    return shelf


def test_json_is_one_document(shelf, capsys):
    assert run(["record", "Runner", "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert (document["picks_woven"], document["pieces"][0]["picks_in_cloth"]) == (2, 2)


def test_page_and_table_are_written_and_named(shelf, capsys, tmp_path):
    page, table = tmp_path / "out.html", tmp_path / "out.csv"
    assert run(["record", "--html", str(page), "--csv", str(table)]) == 0
    assert "2 picks woven, 0 taken out" in capsys.readouterr().out
    assert "Zürcher Kante" in page.read_text(encoding="utf-8")
    assert "Zürcher Kante" in table.read_text(encoding="utf-8-sig")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["home", "out.csv", "out.html"]


def test_a_record_is_read_while_the_warp_is_being_woven(shelf, capsys):
    with shelf.open("Runner") as journal:
        journal.append(PickWoven(2), 5_000)
        assert run(["record", "Runner", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["picks_woven"] == 3


@pytest.mark.parametrize(
    ("words", "line"),
    [
        (["Scarf"], "no warp is called 'Scarf'"),
        (["Runner", "--html", "/nowhere/at/all.html"], "/nowhere/at/all.html: No such file or directory"),
    ],
)
def test_what_cannot_be_is_one_line_and_status_two(shelf, capsys, words, line):
    assert run(["record", *words]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert line in err
    assert err.count("\n") == 1


def test_an_empty_shelf_says_what_to_do(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path))
    assert run(["record"]) == 2
    assert "fellside weave" in capsys.readouterr().err


def test_a_warp_whose_treadles_weave_another_cloth_says_so_and_has_no_sheet(shelf, capsys, tmp_path):
    write_new(shelf.path("odd"), "0" * 32, 0, encode_warp(pressed_first(Footing((1,)))))
    says = "piece 'Shawl': what is pressed at pick 1 does not open its shed; put the draft on the loom again"
    page, paper = tmp_path / "odd.html", tmp_path / "sheet.pdf"
    assert run(["record", "odd", "--html", str(page)]) == 0
    assert capsys.readouterr().err == f"! {says}\n"
    assert "what is pressed at pick 1 does not open its shed" in page.read_text(encoding="utf-8")
    assert run(["sheet", "odd", "--pdf", str(paper)]) == 2
    assert says in capsys.readouterr().err
    assert not paper.exists()
