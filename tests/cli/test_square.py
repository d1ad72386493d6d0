"""`fellside square`: the table of squares, and one of them written as a draft of its own."""

from __future__ import annotations

import io
import json
from pathlib import Path

import numpy as np
import pytest

from companion.cli.commands import run
from companion.draft.cloth import interlacement
from companion.draft.reading import read_draft

GAMP = str(Path(__file__).resolve().parents[2] / "assets" / "drafts" / "twill-gamp-four-shaft.txt")


def draft_in(path):
    return read_draft(Path(path).read_bytes())


@pytest.mark.parametrize("suffix", [".wif", ".txt"])
def test_a_square_is_written_repeated_to_a_size(suffix, tmp_path, capsys):
    out = str(tmp_path / f"new{suffix}")
    assert run(["square", GAMP, "--block", "3", "--section", "2", "--ends", "240", "--picks", "400", "--out", out]) == 0
    square = interlacement(draft_in(GAMP))[24:48, 48:72]
    assert (interlacement(draft_in(out)) == np.tile(square, (17, 10))[:400]).all()
    assert out in capsys.readouterr().out


def test_any_rectangle_works_too_and_once_without_a_size(tmp_path, capsys):
    out = str(tmp_path / "new.wif")
    assert run(["square", GAMP, "--area", "9-40,1-32", "--out", out, "--json"]) == 0
    assert (interlacement(draft_in(out)) == interlacement(draft_in(GAMP))[:32, 8:40]).all()
    told = json.loads(capsys.readouterr().out)
    assert told["area"] == {"name": "", "ends": [9, 40], "picks": [1, 32]}
    assert (told["draft"]["ends"], told["draft"]["picks"], told["out"]) == (32, 32, out)


def test_without_a_square_the_squares_are_listed(capsys):
    assert run(["square", GAMP]) == 0
    text = capsys.readouterr().out
    assert "16 squares" in text
    assert "block 3  Rosepath: ends 49 to 72" in text
    assert run(["square", GAMP, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["named"] is True
    assert told["sections"][1] == {"number": 2, "name": "Point", "first": 25, "last": 48}


def test_a_colour_is_changed(tmp_path):
    out = str(tmp_path / "new.wif")
    assert run(["square", GAMP, "--block", "Point", "--section", "1", "--color", "madder=navy", "--out", out]) == 0
    assert [yarn.name for yarn in draft_in(out).yarns] == ["cream", "navy"]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--block", "9", "--section", "1"], "1 Straight"),
        (["--block", "1", "--area", "1-4,1-4"], "in place of"),
        (["--area", "4-1,1-4"], "no stretch"),
        (["--area", "0-4,1-4"], "no stretch"),
        (["--area", "1-200,1-4"], "96 there are"),
        (["--area", "left"], "9-40,1-32"),
        (["--block", "1", "--ends", "0"], "give 1 to"),
        (["--block", "1", "--colour", "madder=mauvish"], "red=navy"),
        (["--block", "1", "--colour", "rot=navy"], "cream, madder"),
        (["--block", "1", "--out", "new.png"], ".wif"),
        (["--out", "new.wif"], "which square"),
    ],
)
def test_bad_input_is_one_line_and_exit_status_2(words, says, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert run(["square", GAMP, *words]) == 2
    told = capsys.readouterr().err
    assert says in told
    assert told.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_is_there_is_kept_unless_told_otherwise(tmp_path, capsys):
    out = tmp_path / "new.wif"
    out.write_text("mine")
    assert run(["square", GAMP, "--block", "1", "--out", str(out)]) == 2
    assert out.read_text() == "mine"
    assert run(["square", GAMP, "--block", "1", "--out", str(out), "--overwrite"]) == 0
    assert draft_in(out).ends == 24


def test_a_square_marked_at_the_loom_stands_in_list_record_and_in_the_notes_of_its_draft(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "shelf"))
    lines = "\ng 3 2\ng Point 1 star soft in the hand\ng 2 2 stiff\ng 2 2 off\ng 9 1\ng\nq\n"
    monkeypatch.setattr("sys.stdin", io.StringIO(lines))
    assert run(["weave", GAMP, "--text", "--treadles", "8", "--tied", "--name", "Gamp"]) == 0
    told = capsys.readouterr().out
    assert "there is no block '9'" in told
    assert [line.strip() for line in told.splitlines() if line.startswith("  marked ")] == [
        "marked  Point on Rosepath: star; not in the cloth",
        # One pick is woven.
        "marked  Straight on Point: star; soft in the hand; 1 of 24 picks in the cloth",
    ]
    for command in (["square", "Gamp", "--json"], ["record", "Gamp", "--json"]):
        assert run(command) == 0
        document = json.loads(capsys.readouterr().out)
        marked = document["marked"] if command[0] == "square" else document["pieces"][0]["squares_marked"]
        assert [(one["star"], one["words"]) for one in marked] == [(True, ""), (True, "soft in the hand")]
    out = str(tmp_path / "soft.wif")
    assert run(["square", "Gamp", "--block", "Point", "--section", "1", "--out", out]) == 0
    assert draft_in(out).notes[-1] == "Marked at the loom: soft in the hand"
    assert (interlacement(draft_in(out)) == interlacement(draft_in(GAMP))[:24, 24:48]).all()


def test_marks_on_a_piece_that_is_finished_are_told_of_with_the_way_to_them(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "shelf"))
    small = tmp_path / "small.txt"
    small.write_text("title: Small\nthreading: (1 2)x2\ntie-up: 1, 2\ntreadling: 1 2\n")
    monkeypatch.setattr("sys.stdin", io.StringIO("g 1 1 star\n\n\n\n\nq\n"))
    assert run(["weave", str(small), str(small), "--text", "--treadles", "4", "--tied", "--name", "Two"]) == 0
    capsys.readouterr()
    assert run(["square", "Two"]) == 0
    assert capsys.readouterr().out.splitlines()[-1] == "  piece 1 has marks too: --piece 1 shows them"
    assert run(["square", "Two", "--piece", "1"]) == 0
    assert "marked  section 1 on block 1: star" in capsys.readouterr().out
