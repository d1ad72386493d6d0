"""A plan in the terminal: the same in any units, what is taken as usual said, and slips told in one line."""

from __future__ import annotations

import json

import pytest

from companion.cli.commands import run
from companion.workshop.places import asset

WAFFLE = str(asset("drafts/waffle-four-shaft.txt"))
SIZE = ("--width", "18 in", "--length", "72 in", "--warp-yarn", "8/2 cotton")


def test_inches_and_centimetres_plan_the_same_warp(capsys):
    """18 in = 45.72 cm, 2 yd = 182.88 cm (NIST Special Publication 811, appendix B)."""
    told = []
    for words in (SIZE, ("--width", "45.72", "--length", "2yd", "--warp-yarn", "3360 yd/lb")):
        assert run(["plan", *words, "--reed", "10/in", "--json"]) == 0
        told.append(json.loads(capsys.readouterr().out))
    assert told[0]["ends"] == told[1]["ends"] == 421
    assert told[0]["warp_cm"] == pytest.approx(told[1]["warp_cm"])
    assert told[0]["sett_per_cm"] * 2.54 == pytest.approx(20)
    assert told[0]["taken_as_usual"][0] == "take up"


def test_the_page_says_setts_repeats_and_what_was_taken_as_usual(capsys):
    assert run(["plan", WAFFLE, *SIZE, "--units", "inch", "--take-up", "8%", "--put-up", "8oz"]) == 0
    said = capsys.readouterr().out
    assert "2/2 twill 26.1 (nearest to this draft), plain weave 19.6, lace 17.6" in said
    assert "for 2/2 twill; --weave, --layers or --sett takes another" in said
    assert "the draft's 73 ends 7 times" in said
    assert "1 x 8.0 oz" in said
    assert "common practice, no source): draw-in 5 %" in said
    assert "take-up" not in said


@pytest.mark.parametrize(
    ("options", "line"),
    [
        ((), "sett 39.1 per inch, for plain weave: two layers, twice the sett of one; "),
        (("--layers", "1"), "sett 19.6 per inch, for plain weave: one layer, as told; the draft weaves 2; "),
        (("--sett", "36/in"), "sett 36.0 per inch in two layers, 18.0 in each\n"),
    ],
)
def test_a_double_cloth_takes_twice_the_sett_of_one_layer_unless_told_otherwise(capsys, options, line):
    double = str(asset("drafts/double-weave-eight-shaft.txt"))
    assert run(["plan", double, *SIZE, "--units", "inch", *options]) == 0
    said = capsys.readouterr().out
    assert line in said
    assert ("setts of the warp yarn in one layer, per inch: plain weave 19.6" in said) == (options != ("--layers", "1"))
    assert run(["plan", double, *SIZE, "--json", *options]) == 0
    document = json.loads(capsys.readouterr().out)
    assert (document["layers"], document["layers_in_draft"]) == (1 if "--layers" in options else 2, 2)


def test_a_rush_of_untold_length_is_told_in_the_page_and_in_the_document(capsys, tmp_path):
    """16 in is as long as a place mat is wide (common practice, no source); an untold length is thrown across."""
    mat = tmp_path / "mat.txt"
    mat.write_text(
        "shafts: 2\nyarn: sea\nyarn: rush #aa9955\nwarp: sea x8\nthreading: (1 2)x4\ntie-up: 1, 2\n"
        "treadling:\nsection: Mat laid in rush\nrush (1 2)x4\n"
    )
    assert run(["plan", str(mat), *SIZE, "--units", "inch"]) == 0
    line = "rush laid in, length not set: each taken as 23.2 in, as if it were thrown; say it in the draft"
    assert f"{line}, such as laid in rush 16 in" in capsys.readouterr().out
    assert run(["plan", str(mat), *SIZE, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["laid_in_length_not_set"] == ["rush"]
    mat.write_text(mat.read_text().replace("laid in rush", "laid in rush 16 in"))
    assert run(["plan", str(mat), *SIZE, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["laid_in_length_not_set"] == []


def test_cones_are_counted_in_the_document_too(capsys):
    """Of 8/2 cotton, 3,360 yd/lb, a warp of so many grams takes that divided by what a cone weighs, rounded up."""
    assert run(["plan", *SIZE, "--put-up", "1/2 lb", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["put_up_grams"] == pytest.approx(453.59237 / 2)
    (warp,) = told["warp"]
    assert warp["put_ups"] == -(-warp["grams"] // told["put_up_grams"])
    assert run(["plan", *SIZE, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["warp"][0]["put_ups"] is None


@pytest.mark.parametrize(
    ("sett", "ends", "line"),
    [
        ("15/in", 316, "reed 10.0 per inch, 1 and 2 ends by turns, in 211 dents\n"),
        ("7/in", 147, "reed 10.0 per inch, 1 1 0 1 1 0 1 1 1 0 ends by turns (0 is an empty dent), in 209 dents\n"),
        ("14.8/in", 316, "1 and 2 ends by turns, in 211 dents (14.8 was wished for)\n"),
    ],
)
def test_a_reed_is_sleyed_for_the_sett_that_was_asked_for(capsys, sett, ends, line):
    """By hand: 18 in less 10 % in the wash and 5 % draw-in are 21.05 in of reed; 7 an inch fill 7 dents of 10."""
    assert run(["plan", *SIZE, "--sett", sett, "--reed", "10/in", "--units", "inch"]) == 0
    said = capsys.readouterr().out
    assert f"  {ends} ends, " in said
    assert line in said


@pytest.mark.parametrize(
    ("words", "line"),
    [
        (["--width", "18 in", "--length", "1 yd"], "give --sett 20/in, or --warp-yarn"),
        ([*SIZE, "--shrinkage", "100"], "--shrinkage 100: give a number from 0 to 99"),
        ([*SIZE, "--reed", "often"], "--reed: 'often' is no reed"),
        ([*SIZE, "--put-up", "heavy"], "--put-up: 'heavy' is no weight; write such as 8oz, 1 lb or 500g"),
        ([*SIZE, "--put-up", "0 g"], "--put-up 0 g: write a weight, such as"),
        ([*SIZE, "--sett", "0/in"], "a sett of 0; give a number above 0"),
        (["--width", "18 in", "--length", "1 yd", "--warp-yarn", "8"], "--warp-yarn: '8' is no size of yarn"),
        ([*SIZE, "--layers", "9"], "--layers 9: give a number from 1 to 4"),
        ([*SIZE, "--pieces", "0"], "a number of pieces of 0"),
    ],
)
def test_slips_are_one_line(capsys, words, line):
    assert run(["plan", *words]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert line in said.err
    assert said.err.count("\n") == 1
