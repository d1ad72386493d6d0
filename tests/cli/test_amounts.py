"""`fellside amounts` for a draft that is planned and for a warp on the loom."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.cli.commands import run
from companion.cli.status import CommandError
from companion.cli.yarn_words import yarn_size
from companion.draft.wif_write import write_wif
from companion.journal.shelf import shelf_of_weaver
from companion.weaving.events import PickWoven
from companion.weaving.warp import Winding
from companion.workshop.places import asset
from tests.weaving.world import lever_draft, lever_warp


@pytest.fixture(autouse=True)
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "home"))


@pytest.fixture
def draft(tmp_path):
    path = tmp_path / "stripes.wif"
    path.write_bytes(write_wif(replace(lever_draft([0, 1] * 100, ends=40), title="Stripes")))
    return str(path)


def told(capsys, *words):
    assert run(["amounts", *words, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def test_a_draft_with_its_sizes_tells_warp_and_weft(draft, capsys):
    sizes = ["--picks-per-cm", "4", "--width", "50", "--waste", "30", "--fringe", "10", "--take-up", "20 %"]
    # 200 picks are 50 cm; 50 / 0.8 + 10 + 30 = 102.5 cm of warp for 40 ends; 100 picks across half a metre.
    amounts = told(capsys, draft, *sizes, "--shrinkage", "10", "--yarn", "sand 100 tex")
    assert (amounts["picks"], amounts["woven_cm"], amounts["finished_cm"], amounts["warp_cm"]) == (200, 50, 45, 102.5)
    assert amounts["warp"] == [{"yarn": "sand", "ends": 40, "metres": 41.0, "grams": pytest.approx(4.1)}]
    assert amounts["weft"][0]["metres"] == pytest.approx([50, 55, 60])
    assert amounts["weft"][0]["grams"] == pytest.approx([5, 5.5, 6])
    assert amounts["weft"][1]["grams"] is None


def test_what_nobody_told_is_not_known(draft, capsys):
    assert run(["amounts", draft]) == 0
    out = capsys.readouterr().out
    assert "woven on the loom not known" in out
    assert "100 picks, length not known, weight not known" in out


def test_a_warp_on_the_loom_tells_what_is_left(capsys):
    warp = replace(lever_warp(lever_draft([0] * 100), picks_per_cm=2.0), winding=Winding(45.0))
    with shelf_of_weaver().create("Band", warp, 0) as journal:
        for pick in range(60):
            journal.append(PickWoven(pick), pick * 3_000)
    amounts = told(capsys, "Band")
    assert (amounts["picks"], amounts["warp_left_cm"], amounts["warp_over_cm"]) == (40, 15.0, -5.0)
    assert amounts["warnings"] == ["the warp is 5 cm short for piece 1 (piece 1)"]
    assert run(["amounts", "Band"]) == 0
    assert "note: the warp is 5 cm short for piece 1" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "line"),
    [
        (["--width", "-1"], "--width -1: give a number from 0"),
        (["--width", "nan"], "--width nan"),
        (["--picks-per-cm", "0"], "give a number above 0"),
        (["--width", "1e308"], "--width 1e+308: give a number from 0 to 100000"),
        (["--take-up", "much"], "'much' is no share; write such as 10 or 10%"),
        (["--take-up", "100"], "--take-up 100: give a number from 0 to 99"),
        (["--yarn", "sand"], "write name, number and system"),
        (["--yarn", "rope 20 cotton"], "no yarn is called 'rope'"),
        (["--yarn", "sand x tex"], "'x tex' is no size of yarn"),
        (["--yarn", "sand 0 wraps"], "no yarn has such numbers"),
    ],
)
def test_what_cannot_be_is_one_line_and_status_two(draft, capsys, words, line):
    assert run(["amounts", draft, *words]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert line in err
    assert err.count("\n") == 1


@pytest.mark.parametrize(
    ("words", "tex"),
    [
        ("sand 30 tex", 30.0),
        ("SAND 20 cotton", 29.527),
        ("sand 20 cotton 2-ply", 59.054),
        ("sand 25 Nm", 40.0),
        ("sand 8 linen", 206.69),
        ("sand 9 denier", 1.0),
    ],
)
def test_sizes_are_read_in_every_system(words, tex):
    # The products of ASTM D2260-03, Table 1: cotton 590.541, linen lea 1653.52; den = 9 tex; tex = 1000/Nm.
    size = yarn_size(words, [lever_draft([0])])
    assert (size.yarn, size.tex) == ("sand", pytest.approx(tex, rel=1e-4))


def test_a_size_is_shown_as_it_was_written_without_the_name_and_blanks_around_it():
    assert yarn_size("   sand  20  cotton 2-ply ", [lever_draft([0])]).words == "20 cotton 2-ply"


@settings(max_examples=150, deadline=None)
@given(st.text(max_size=25) | st.from_regex(r"sand [-0-9.e]{1,9} (tex|wraps|run)( [0-9]{1,6}-ply)?", fullmatch=True))
def test_whatever_is_written_is_a_size_or_one_line(words):
    refusal, tex = "", 0.0
    try:
        tex = yarn_size(words, [lever_draft([0])]).tex
    except CommandError as error:
        refusal = str(error)
    assert refusal.startswith("--yarn") if refusal else tex > 0


def test_several_drafts_are_pieces_with_measures_of_their_own(draft, capsys):
    sizes = ["--picks-per-cm", "4,5", "--fringe", "10,0", "--spacer", "3", "--width", "50", "--waste", "30"]
    amounts = told(capsys, draft, draft, *sizes, "--length", "100", "--yarn", "sand 100 tex")
    # 200 picks are 50 and 40 cm: 50 + 10 + 3, 40, and 30 cm of waste make 133 cm.
    assert [piece["warp_cm"] for piece in amounts["pieces"]] == [63, 40]
    assert (amounts["picks"], amounts["woven_cm"], amounts["warp_cm"]) == (400, 90, 133)
    assert amounts["weft"][0]["grams"] == pytest.approx([10, 11, 12])
    assert amounts["notes"] == ["the warp is 33 cm short for piece 2 (Stripes)"]
    assert run(["amounts", draft, draft, *sizes, "--piece-length", ",60"]) == 0
    assert "piece 2 (Stripes) is planned 60 cm long, its treadling makes 40.0 cm" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "line"),
    [
        (["--fringe", "1,2,3"], "3 numbers where 2 would be one for each"),
        (["--spacer", "1,2"], "2 numbers where 1 would be one for each"),
        (["--piece-length", "0"], "a length of 0 cm; give a number above 0"),
        (["--piece-length", "1,x"], "--piece-length x: give a number from 0"),
        (["--fringe", ""], "--fringe : give a number from 0"),
    ],
)
def test_measures_of_pieces_that_make_no_sense_are_one_line(draft, capsys, words, line):
    assert run(["amounts", draft, draft, *words]) == 2
    said = capsys.readouterr()
    assert (said.out, len(said.err.splitlines())) == ("", 1)
    assert line in said.err


@pytest.mark.parametrize(
    ("words", "tex"),
    [
        ("sand 16/2 cotton", 73.818),
        ("sand=16/2 Ne", 73.818),
        ("sand 2/20 worsted", 88.581),
        ("sand 20/2 Nm", 100.0),
        ("sand 8 linen lea", 206.69),
        ("sand 3 woollen run", 103.345),
    ],
)
def test_count_and_plies_may_stand_around_a_stroke(words, tex):
    # The products of ASTM D2260-03, Table 1: cotton 590.541, worsted 885.812, woollen run 310.034, linen lea 1653.52.
    assert yarn_size(words, [lever_draft([0])]).tex == pytest.approx(tex, rel=1e-4)


def test_wraps_per_inch_are_wraps_per_cm_in_another_unit():
    inch, cm = (yarn_size(words, [lever_draft([0])]).tex for words in ("sand 25.4 wpi", "sand 10 wraps"))
    assert inch == pytest.approx(cm)


def test_measures_given_with_a_warp_on_the_shelf_are_told_of(capsys):
    shelf_of_weaver().create("Band", lever_warp(lever_draft([0] * 4)), 0).close()
    assert run(["amounts", "Band", "--width", "3"]) == 2
    assert "--width is for drafts; 'Band' is on the shelf" in capsys.readouterr().err


def test_a_width_in_inches_is_the_same_warp_as_in_centimetres(capsys):
    """18 in = 45.72 cm and 4.5 yd = 411.48 cm exactly (NIST Special Publication 811, appendix B)."""
    file = str(asset("drafts/waffle-four-shaft.txt"))
    in_inches = told(capsys, file, "--width", "18 in", "--length", "4.5yd", "--picks-per-cm", "24/in")
    assert in_inches == told(
        capsys, file, "--width", "45.72", "--length", "411.48", "--picks", "24", "--units", "inch", "--fringe", "0 in"
    )
    assert in_inches["pieces"][0]["picks_per_cm"] == pytest.approx(24 / 2.54)
    assert told(capsys, file, "--picks", "6") == told(capsys, file, "--picks-per-cm", "6")


def test_units_can_be_asked_for_and_the_same_said_twice_is_told(capsys):
    file = str(asset("drafts/waffle-four-shaft.txt"))
    assert run(["amounts", file, "--width", "18 in", "--length", "3 yd", "--units", "inch"]) == 0
    assert "warp wound 108.0 in (3.00 yd)" in capsys.readouterr().out
    assert run(["amounts", file, "--picks", "24", "--picks-per-cm", "9"]) == 2
    assert "--picks and --picks-per-cm say the same" in capsys.readouterr().err
    assert run(["amounts", file, "--units", "furlong"]) == 2
    assert "give metric or inch" in capsys.readouterr().err
    assert run(["amounts", file, "--width", "18 parsecs"]) == 2
    assert "'parsecs' is no unit of length" in capsys.readouterr().err


def test_wefts_are_laid_in_by_an_option_and_slips_are_one_line(capsys, tmp_path):
    draft = tmp_path / "mat.txt"
    draft.write_text("yarn: oat\nyarn: rush gold\nthreading: 1 2\ntie-up: 1, 2\ntreadling: oat/rush (1 2)x5\n")
    assert run(["amounts", str(draft), "--lay-in", "rush 14 in", "--json"]) == 0
    oat, rush = json.loads(capsys.readouterr().out)["weft"]
    assert (oat["laid_in"], rush["laid_in"]) == ([], [{"number": 5, "length_cm": 35.56}])
    assert rush["metres"] == pytest.approx([1.778] * 3)
    for words, line in (("reed 14 in", "no weft is called so; the wefts are oat, rush"), ("rush 14", "14 of what?")):
        assert run(["amounts", str(draft), "--lay-in", words]) == 2
        assert line in capsys.readouterr().err
