"""A warp begun in the terminal: its sizes, what it is tied for, and what cannot be."""

from __future__ import annotations

import io

import pytest

from companion.cli.commands import run
from companion.journal.shelf import Shelf, data_folder
from companion.workshop.places import asset
from tests.cli.terminal import TWILL, fellside, home, towel

_USED = (fellside, home, towel)
"""Fixtures, which pytest finds by name."""
MATS = [str(asset(f"drafts/diversified-plain-weave-four-shaft-{number}.txt")) for number in (1, 4)]


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        (["--width", "1e308"], "--width 1e+308: give a number from 0 to 100000"),
        (["--waste", "-1"], "--waste -1: give a number from 0 to 100000"),
        (["--take-up", "10"], "give its --length too"),
        (["--length", "300", "--take-up", "100"], "give a number from 0 to 99"),
        (["--length", "0"], "a warp of 0 cm"),
        (["--picks-per-cm", "0"], "0 picks per cm"),
        (["--shafts", "4", "--present", "1 9"], "name shafts 1 to 4"),
    ],
)
def test_sizes_of_a_new_warp_that_make_no_sense_are_one_line_and_no_warp(
    home, towel, monkeypatch, capsys, words, complaint
):
    monkeypatch.setenv("FELLSIDE_HOME", str(home))
    assert run(["weave", towel, "--text", *words]) == 2
    said = capsys.readouterr()
    assert (said.out, len(said.err.splitlines())) == ("", 1)
    assert complaint in said.err
    assert not home.exists()


def test_another_draft_of_the_same_title_does_not_take_the_place_of_the_first(home, towel, tmp_path, fellside):
    fellside(home, "weave", towel, "--text", typed="\nq\n")
    other = tmp_path / "other.wif"
    other.write_text(TWILL.replace("1=1,2", "1=1,3"), encoding="ascii")
    done = fellside(home, "weave", str(other), "--text")
    assert done.returncode == 2
    assert "another draft" in done.stderr
    assert "2 picks lie" in fellside(home, "weave", "Tea towel", "--text", typed="\n\nq\n").stdout


def test_several_pieces_are_woven_with_the_same_feet_where_that_is_asked_for(home, monkeypatch):
    monkeypatch.setenv("FELLSIDE_HOME", str(home))
    monkeypatch.setattr("sys.stdin", io.StringIO(""))
    assert run(["weave", *MATS, "--treadles", "8", "--same-feet", "--name", "mats", "--text"]) == 0
    pieces = Shelf(data_folder() / "journal").open_to_read("mats").warp.pieces
    assert pieces[0].footings == pieces[1].footings
    assert pieces[0].stages[0].tieup != pieces[1].stages[0].tieup
    assert run(["weave", *MATS, "--treadles", "8", "--same-feet", "--name", "mats", "--text"]) == 0


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        ([MATS[0], "--same-feet"], "--same-feet is for several drafts on one warp"),
        ([*MATS, "--same-feet", "--aim", "feet"], "leave --aim out"),
        ([*MATS, "--same-feet", "--treadles", "3"], "treadles for these pieces together"),
        ([MATS[0], "--aim", "cords"], "say it with --present"),
    ],
)
def test_feet_and_aims_that_cannot_be_are_one_line_and_no_warp(home, monkeypatch, capsys, words, complaint):
    monkeypatch.setenv("FELLSIDE_HOME", str(home))
    assert run(["weave", *words, "--text"]) == 2
    said = capsys.readouterr()
    assert (said.out, said.err.count("\n")) == ("", 1)
    assert complaint in said.err
    assert not home.exists()


def test_a_warp_is_tied_for_the_aim_that_is_asked_for(home, monkeypatch):
    monkeypatch.setenv("FELLSIDE_HOME", str(home))
    monkeypatch.setattr("sys.stdin", io.StringIO(""))
    draft = str(asset("drafts/overshot-four-shaft.txt"))
    both = {}
    for aim in ("feet", "treadles"):
        assert run(["weave", draft, "--treadles", "6", "--aim", aim, "--name", aim, "--text"]) == 0
        (piece,) = Shelf(data_folder() / "journal").open_to_read(aim).warp.pieces
        both[aim] = sum(bool(footing.left and footing.right) for footing in piece.footings)
    assert both["feet"] == 0
    assert both["treadles"] > 0


def test_free_treadles_are_tied_for_plain_weave_where_that_is_asked_for(home, monkeypatch, capsys):
    monkeypatch.setenv("FELLSIDE_HOME", str(home))
    monkeypatch.setattr("sys.stdin", io.StringIO(""))
    waffle = str(asset("drafts/waffle-four-shaft.txt"))
    assert run(["weave", waffle, "--treadles", "4", "--plain-weave", "--name", "w", "--text"]) == 2
    assert "no two treadles are free" in capsys.readouterr().err
    assert run(["weave", waffle, "--treadles", "6", "--plain-weave", "--name", "w", "--text"]) == 0
    (piece,) = Shelf(data_folder() / "journal").open_to_read("w").warp.pieces
    assert [tie.up for tie in piece.stages[0].tieup[4:]] == [0b0101, 0b1010]
    assert run(["weave", waffle, waffle, "--treadles", "6", "--plain-weave", "--name", "x", "--text"]) == 2
    assert "--plain-weave is for a single draft" in capsys.readouterr().err
