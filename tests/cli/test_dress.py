"""`fellside dress --counts` says what is needed before a warp is put on, to read and as JSON."""

from __future__ import annotations

import json

import pytest

from companion.cli.commands import run

TOWEL = (
    "title: Towel\nyarn: sand\nyarn: sea\nthreading: (1-4)x15\nwarp: sand x48 (sea sand)x6\n"
    "tie-up: 1, 2, 3, 4\ntreadling: 1-4\nsley: 2\nreed: 10/in\n"
)


@pytest.fixture
def dress(tmp_path, capsys, monkeypatch):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "home"))

    def run_it(text, *options):
        path = tmp_path / "towel.txt"
        path.write_text(text)
        status = run(["dress", str(path), *options])
        said = capsys.readouterr()
        return status, said.out, said.err

    return run_it


def test_the_document_has_what_was_agreed(dress):
    status, out, err = dress(TOWEL, "--counts", "--json", "--reed-width", "60.96")
    assert (status, err) == (0, "")
    document = json.loads(out)
    assert document == {
        "ends": 60,
        "heddles": [15, 15, 15, 15],
        "colours": [{"yarn": "sand", "ends": 54}, {"yarn": "sea", "ends": 6}],
        "winding": [
            {"ends": 48, "yarn": "sand"},
            {"times": 6, "parts": [{"ends": 1, "yarn": "sea"}, {"ends": 1, "yarn": "sand"}]},
        ],
        "groups": [{"first": first, "last": first + 11, "shafts": [1, 2, 3, 4] * 3} for first in range(1, 60, 12)],
        "dents": 30,
        "width_cm": pytest.approx(7.62),
        # 240 dents in 24 inches, 105 to the left of the warp.
        "start_dent": 106,
        "start_dent_from": "edge",
    }


def test_a_length_takes_its_unit(dress):
    inches, cm = (dress(TOWEL, "--counts", "--json", "--reed-width", width)[1] for width in ("24 in", "60.96"))
    assert inches == cm


def test_what_no_reed_tells_is_left_out(dress):
    document = json.loads(dress(TOWEL.replace("reed: 10/in\n", ""), "--counts", "--json")[1])
    assert list(document) == ["ends", "heddles", "colours", "winding", "groups"]


@pytest.mark.parametrize(("sley", "dents", "begin"), [("2", 30, 15), ("2x28 1x4", 32, 16), ("2x29 1x2", 31, 16)])
def test_without_the_length_of_the_reed_a_warp_is_centred_from_its_middle(dress, sley, dents, begin):
    """Half of the dents lie at each side of the middle, of an odd number one in it (common practice, no source)."""
    document = json.loads(dress(TOWEL, "--counts", "--json", "--sley", sley)[1])
    assert (document["dents"], document["start_dent"], document["start_dent_from"]) == (dents, begin, "middle")
    out = dress(TOWEL, "--counts", "--sley", sley)[1]
    assert f"begin on the side of end 1 in dent {begin} from the middle of the reed" in out
    assert ("(the middle dent is 1)" in out) == bool(dents % 2)


def test_where_the_heddles_are_told_it_is_said_that_none_is_short(dress):
    assert json.loads(dress(TOWEL, "--counts", "--json", "--heddles", "15")[1])["short"] == []
    assert "the loom has enough on each shaft" in dress(TOWEL, "--counts", "--heddles", "15")[1]
    assert "enough" not in dress(TOWEL, "--counts")[1]


def test_the_lines_say_what_is_short(dress):
    status, out, _ = dress(TOWEL, "--counts", "--heddles", "10,15,20,20", "--reed-width", "60.96", "--raddle", "1/in")
    assert status == 0
    assert "shaft 1: 15; 5 too few on the loom\n  shaft 2: 15\n" in out
    assert "48 sand, (1 sea 1 sand)x6" in out
    assert "30 dents, 7.6 cm wide" in out
    assert "dent 106 from the edge" in out
    assert "raddle: 20 20 20" in out or "raddle: 20x3" in out or "raddle: (20)x3" in out


def test_a_plan_for_other_ends_is_told(dress):
    _, out, _ = dress(TOWEL, "--counts", "--sley", "(1 2)x10")
    assert "! the plan has no dents for the last 30 ends" in out


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (["--sley", "(1 2"], "--sley: this bracket is not closed"),
        (["--reed", "fine"], "--reed: 'fine' is no reed"),
        (["--raddle", "wide"], "--raddle: 'wide'"),
        (["--heddles", "ten"], "--heddles ten: give whole numbers"),
        (["--group", "0"], "groups of 0 ends"),
        (["--at-once", "99"], "99 ends wound at once"),
        (["--reed-width", "1"], "the plan takes 30 dents and the reed has 3"),
        (["--reed-width", "-1"], "--reed-width -1: give a number"),
        (["--reed-width", "0"], "--reed-width 0: give a number above 0"),
        (["--reed-width", "wide"], "argument --reed-width"),
    ],
)
def test_bad_input_is_one_line(dress, options, told):
    status, out, err = dress(TOWEL, "--counts", *options)
    assert (status, out) == (2, "")
    assert err.startswith(f"fellside dress: {told}")
    assert err.count("\n") == 1


def test_a_loom_of_yours_knows_its_heddles(dress, capsys):
    assert run(["looms", "add", "floor loom", "--shafts", "4", "--treadles", "6", "--heddles", "10,40,40,40"]) == 0
    assert "heddles: 10, 40, 40, 40" in capsys.readouterr().out
    assert "shaft 1: 15; 5 too few" in dress(TOWEL, "--counts", "--loom", "floor loom")[1]
    status, _, err = dress(TOWEL, "--counts", "--loom", "none such")
    assert status == 2
    assert "no loom is called" in err


def test_a_loom_has_heddles_for_its_shafts_only(dress, capsys):
    assert run(["looms", "add", "narrow", "--shafts", "2", "--treadles", "2", "--heddles", "10,40,40"]) == 2
    assert "heddles for 3 shafts" in capsys.readouterr().err
