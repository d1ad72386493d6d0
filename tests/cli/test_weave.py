"""`fellside weave --text`, as a user runs it: a process, a draft file, lines typed, a journal on disk."""

from __future__ import annotations

import json

import pytest

from tests.cli.terminal import TWILL, fellside, home, in_a_process, towel, woven_lines

_USED = (fellside, home, towel)
"""Fixtures, which pytest finds by name."""


def test_enter_weaves_b_takes_out_and_q_pauses(home, towel):
    done = in_a_process(home, "weave", towel, "--text", typed="\n\n\nb\nq\n")
    assert (done.returncode, done.stderr) == (0, "")
    assert woven_lines(done) == ["woven: pick 1", "woven: pick 2", "woven: pick 3", "taken out: pick 3"]
    assert "paused; 2 picks lie in the cloth" in done.stdout


def test_each_pick_tells_count_feet_shafts_shuttle_and_side(home, towel, fellside):
    done = fellside(home, "weave", towel, "--text", "--treadles", "4", typed="\nq\n")
    first, second = [line for line in done.stdout.splitlines() if line.startswith("pick ")]
    assert first.startswith("pick 1 of 8")
    assert "shafts up: 1 2" in first
    assert "from the right" in first
    assert second.startswith("pick 2 of 8")
    assert "shafts up: 2 3" in second
    assert "from the left" in second
    assert "L " in first or "R " in first


def test_face_down_the_other_shafts_are_up_and_it_stays_so(home, towel, fellside):
    done = fellside(home, "weave", towel, "--text", "--face-down", typed="\nq\n")
    assert (done.returncode, done.stderr) == (0, "")
    first, second = [line for line in done.stdout.splitlines() if line.startswith("pick ")]
    assert "shafts up: 3 4" in first
    assert "shafts up: 1 4" in second
    again = fellside(home, "weave", towel, "--text", "--face-down", typed="q\n")
    assert (again.returncode, "shafts up: 1 4" in again.stdout) == (0, True)


def test_a_warp_begun_face_up_is_not_woven_face_down_and_two_drafts_are_not_either(home, towel, fellside):
    assert fellside(home, "weave", towel, "--text", typed="q\n").returncode == 0
    done = fellside(home, "weave", towel, "--text", "--face-down")
    assert done.returncode == 2
    assert "without --face-down and stays so; leave --face-down out, or make another warp" in done.stderr
    both = fellside(home, "weave", towel, towel, "--text", "--face-down")
    assert (both.returncode, both.stderr.count("\n")) == (2, 1)
    assert "--face-down is for a single draft" in both.stderr


def test_the_next_day_it_goes_on_where_it_stopped_by_file_by_name_and_by_nothing(home, towel, fellside):
    in_a_process(home, "weave", towel, "--text", typed="\n\nq\n")
    for words in ([towel], ["Tea towel"], []):
        # One enter says that the cloth looks right, the next weaves.
        done = fellside(home, "weave", *words, "--text", typed="\n\nq\n")
        assert done.returncode == 0, done.stderr
    assert woven_lines(done) == ["woven: pick 5"]


def test_the_end_of_the_input_is_a_pause(home, towel, fellside):
    assert "paused; 1 pick lies" in fellside(home, "weave", towel, "--text", typed="\n").stdout


def test_a_whole_piece_is_finished_and_then_says_so(home, towel, fellside):
    done = fellside(home, "weave", towel, "--text", typed="\n" * 10)
    assert woven_lines(done)[-1] == "woven: pick 8"
    assert "piece finished" in done.stdout
    assert "woven to its end" in done.stdout


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        (["weave", "no-such-draft.wif", "--text"], "neither a file nor a warp"),
        (["weave", "{towel}", "--text", "--treadles", "0"], "say 1 to 20"),
        (["spin"], "no command 'spin'"),
    ],
)
def test_what_cannot_be_done_is_one_line_and_status_2(home, towel, words, complaint, fellside):
    done = fellside(home, *(word.format(towel=towel) for word in words))
    assert (done.returncode, done.stdout) == (2, "")
    assert len(done.stderr.splitlines()) == 1
    assert complaint in done.stderr


@pytest.mark.parametrize(
    ("words", "complaint"),
    [(["--treadles", "1"], "it needs 4"), (["--shafts", "2"], "the loom lacks: 3, 4")],
)
def test_a_loom_that_cannot_weave_the_draft_is_one_line_and_status_1(home, towel, words, complaint, fellside):
    done = fellside(home, "weave", towel, "--text", *words)
    assert (done.returncode, done.stdout) == (1, "")
    assert len(done.stderr.splitlines()) == 1
    assert complaint in done.stderr


def test_stops_to_re_tie_are_woven_through_when_the_weaver_accepts_them(home, towel, fellside):
    done = fellside(home, "weave", towel, "--text", "--treadles", "2", "--re-tie", typed="\n" * 14)
    assert done.returncode == 0, done.stderr
    assert woven_lines(done)[-1] == "woven: pick 8"
    assert "treadles tied for stage 2" in done.stdout


def test_several_drafts_are_pieces_of_one_warp_woven_in_order(home, tmp_path, fellside):
    """Two treadles open the sheds of plain weave or those of the rib, not both: the second piece is tied anew."""
    files = []
    for title, ties in (("Plain", "1=1,3\n2=2,4\n3=1,3\n4=2,4"), ("Rib", "1=1,2\n2=3,4\n3=1,2\n4=3,4")):
        files.append(tmp_path / f"{title}.wif")
        text = TWILL.replace("1=1,2\n2=2,3\n3=3,4\n4=1,4", ties).replace("Tea towel", title)
        files[-1].write_text(text, encoding="ascii")
    words = ["weave", *map(str, files), "--text", "--treadles", "2"]
    sizes = ["--length", "300", "--waste", "60", "--take-up", "10", "--fringe", "5", "--picks-per-cm", "8"]
    sizes += ["--spacer", "3"]
    done = fellside(home, *words, *sizes, typed="\n" * 10)
    assert done.returncode == 0, done.stderr
    assert "piece finished" in done.stdout
    assert "leave 2.5 cm for the fringe before you weave" in done.stdout
    assert "leave 8 cm: fringe 2.5 cm, spacer 3 cm, fringe 2.5 cm" in done.stdout
    done = fellside(home, *words, typed="\n" * 12)
    assert "woven to its end\n  leave 2.5 cm for the fringe\n" in done.stdout
    assert woven_lines(done) == [f"woven: pick {pick}" for pick in range(1, 9)]
    assert "first tie the treadles, then enter" in done.stdout
    record = json.loads(fellside(home, "record", "Plain and 1 more", "--json").stdout)
    assert [piece["name"] for piece in record["pieces"]] == ["Plain", "Rib"]


def test_a_section_woven_to_a_length_ends_when_the_weaver_says_so(home, tmp_path, fellside):
    """Nothing tells the picks per cm here, so only the weaver knows when the length is reached."""
    draft = tmp_path / "band.txt"
    sections = "section: Body until 3 cm\n1 2\nsection: End\n3 4\n"
    draft.write_text("threading: 1-4\ntie-up: 1 2, 3 4, 1 3, 2 4\ntreadling:\n" + sections, encoding="utf-8")
    done = fellside(home, "weave", str(draft), "--text", typed="\n\n\ne\n\ne\nq\n")
    assert done.returncode == 0, done.stderr
    assert "until 3 cm: e = that length is reached" in done.stdout
    assert woven_lines(done) == ["woven: pick 1", "woven: pick 2", "woven: pick 1", "woven: pick 3"]
    assert "! this section is not woven to a length" in done.stdout


def test_the_way_past_floating_selvedges_is_said_where_it_is_wished_and_the_shuttle_is_where_it_says(
    home, tmp_path, fellside
):
    draft = tmp_path / "edge.txt"
    draft.write_text(
        "shafts: 4\nyarn: sand\nwarp: sand x10\nthreading: 0 (1 2 3 4)x2 0\n"
        "tie-up: 1 2, 2 3, 3 4, 1 4\ntreadling: sand (1 2 3 4)x2\n"
    )
    done = fellside(home, "weave", str(draft), "--text", "--over-under", typed="\n\nq\n")
    picks = [line for line in done.stdout.splitlines() if line.startswith("pick ")]
    for line in picks:
        here, there = ("left", "right") if "from the left" in line else ("right", "left")
        assert line.endswith(f"from the {here}, over {here}, under {there}")
    assert len(picks) == 3
    quiet = fellside(home, "weave", str(draft), "--text", typed="q\n")
    assert ", over " not in quiet.stdout
