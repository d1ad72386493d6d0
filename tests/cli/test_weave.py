"""`fellside weave --text`, as a user runs it: a process, a draft file, lines typed, a journal on disk."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

import pytest

from companion.cli import rehearse
from companion.cli.commands import run
from companion.journal.shelf import Shelf, data_folder
from companion.workshop.places import asset

ROOT = Path(__file__).resolve().parents[2]
TWILL = """\
[WIF]
Version=1.1
Date=April 20, 1997
Developers=wif@mhsoft.com
Source Program=by hand

[CONTENTS]
Weaving=true
Warp=true
Weft=true
Threading=true
Tieup=true
Treadling=true
Text=true

[TEXT]
Title=Tea towel

[WEAVING]
Shafts=4
Treadles=4
Rising Shed=true

[WARP]
Threads=8

[WEFT]
Threads=8

[THREADING]
1=1
2=2
3=3
4=4
5=1
6=2
7=3
8=4

[TIEUP]
1=1,2
2=2,3
3=3,4
4=1,4

[TREADLING]
1=1
2=2
3=3
4=4
5=1
6=2
7=3
8=4
"""
"""A 2/2 twill, written by hand for this test."""


@pytest.fixture
def home(tmp_path):
    return tmp_path / "home"


@pytest.fixture
def towel(tmp_path):
    path = tmp_path / "towel.wif"
    path.write_text(TWILL, encoding="ascii")
    return str(path)


@pytest.fixture
def fellside(monkeypatch, capsys):
    """Type a command and lines after it, in this process; as (home, words, typed)."""

    def typed_in(home, *words, typed=""):
        for display in ("DISPLAY", "WAYLAND_DISPLAY"):
            monkeypatch.delenv(display, raising=False)
        monkeypatch.setenv("FELLSIDE_HOME", str(home))
        monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
        capsys.readouterr()
        status = run(words)
        out, err = capsys.readouterr()
        return Done(status, out, err)

    return typed_in


class Done(NamedTuple):
    """What became of a command."""

    returncode: int
    stdout: str
    stderr: str


def in_a_process(home, *words, typed=""):
    """The same in a process of its own, as the weaver's terminal starts it."""
    environment = {key: value for key, value in os.environ.items() if key not in ("DISPLAY", "WAYLAND_DISPLAY")}
    return subprocess.run(
        [sys.executable, "-m", "companion", *words],
        input=typed,
        env=environment | {"FELLSIDE_HOME": str(home), "PYTHONPATH": str(ROOT)},
        cwd=home.parent,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


def woven_lines(done):
    return [line.strip() for line in done.stdout.splitlines() if line.strip().startswith(("woven", "taken out"))]


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
    assert "paused; 1 picks" in fellside(home, "weave", towel, "--text", typed="\n").stdout


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


def test_the_other_keys_note_measure_skip_jump_and_undo_and_say_what_they_do(home, towel, fellside):
    typed = "?\n\n\no 2\nn Looks even\nm 0.5\ns 2\nu\nj 8\n\nr\ny\nj 99\nb 3\nq\n"
    done = fellside(home, "weave", towel, "--text", "--treadles", "4", typed=typed)
    assert done.returncode == 0, done.stderr
    assert "n WORDS   note these words" in done.stdout
    out = [line.split(" \u00b7 ")[0].strip() for line in done.stdout.splitlines() if "pull " in line]
    assert out == ["pick 2", "pick 1"]
    for words in ("! no key 'y'", "! Tea towel has no pick 99; give 1 to 8", "! '3' after a key that stands alone"):
        assert words in done.stdout
    assert woven_lines(done) == ["woven: pick 1", "woven: pick 2", "woven: pick 8"]
    assert "Looks even" in fellside(home, "record", "Tea towel", "--json").stdout


def test_a_length_unlike_the_picks_in_the_cloth_is_asked_for_once_more(home, towel, fellside):
    options = ("--text", "--treadles", "4", "--picks-per-cm", "4")
    typed = "\n" * 8 + "m 2.1 cm\nm 50 cm\n2\nq\n"
    done = fellside(home, "weave", towel, *options, typed=typed)
    assert "Is it really 50 cm?  (The picks in it should measure about 2.1 cm)" in done.stdout
    assert [line.split(":")[0] for line in done.stdout.splitlines() if "measured" in line] == ["  measured"] * 2


def test_a_length_measured_again_is_typed_and_a_question_can_be_left(home, towel, fellside):
    options = ("--text", "--treadles", "4", "--picks-per-cm", "4", "--units", "metric")
    typed = "\n" * 8 + "m 50 cm\n1\nm 2\n2.1\nm 50 cm\n1\nb\nl\nb\nb\nq\n"
    done = fellside(home, "weave", towel, *options, typed=typed)
    assert "! 'm 2' is no answer; give 8 picks, by the picks about" in done.stdout
    assert done.stdout.count("left without an answer") == 2
    assert "taken out: pick 8" in done.stdout
    measures = json.loads(fellside(home, "record", "Tea towel", "--json").stdout)["measures"]
    assert [measure["cm"] for measure in measures] == [2.1]


def test_faults_bobbins_and_places_by_name_are_typed_and_told(home, tmp_path, fellside):
    draft = tmp_path / "runner.txt"
    treadling = "section: Border\n(1 2 3)x4\nsection: Body\n(1 2)x3 4\n"
    draft.write_text(f"threading: 1-4 1-4\ntie-up: 1 2, 3 4, 1 3, 2 4\ntreadling:\n{treadling}", encoding="utf-8")
    typed = "\n" * 3 + (
        "x broken end 5 below 1\nx wrong shed\nx wrong\nx uneven below 9\nx broken end 99\nx broken 3\n"
        "d\nd 1 mended with a needle\nd 2 left\nd 7 left\nc 2 20\nc weft\nc sea\nc 2 long\n"
        "j border 3\nj body\nj bod 2\nj hem\nj border 9\nj\nl\nnonsense\nq\n"
    )
    done = fellside(home, "weave", str(draft), "--text", typed=typed)
    assert (done.returncode, done.stderr) == (0, "")
    for words in (
        "fault noted: broken end at pick 2, end 5; found",
        "fault noted: wrong shed at pick 3; found",
        "! no such kind of fault; give one of: wrong shed, missed pick",
        "! no pick lies 9 below the fell; 3 lie in the cloth",
        "! the warp has no end 99; give 1 to 8",
        "! '3' says nothing of a fault",
        "open faults: 1 (broken end, pick 2), 2 (wrong shed, pick 3)",
        "fault settled: fault 1 mended; with a needle",
        "fault settled: fault 2 left",
        "! fault 7 is not open",
        "fresh bobbin: weft, 20 m",
        "fresh bobbin: weft\n",
        "! 'sea' names no shuttle of this piece, or several; they are 2 weft",
        "! 'long' is no length; write such as",
        "went to pick 7\n",
        "went to pick 13\n",
        "went to pick 15\n",
        "! no section is called 'hem'; they are Border, Body",
        "! section 'Border' has no repeat 9",
        "! '' is no number for a pick",
        "! 'nonsense' is no answer; give a number from 1 to",
    ):
        assert words in done.stdout, words
    faults = json.loads(fellside(home, "record", "runner", "--json").stdout)["faults"]
    assert [(fault["pick"], fault["end"], fault["state"]) for fault in faults] == [(2, 5, "mended"), (3, None, "left")]


def test_who_is_lost_answers_questions_by_number_until_the_place_is_found(home, towel, fellside):
    """The journal has two picks, the cloth one: its row is pointed at, and then the place."""
    fellside(home, "weave", towel, "--text", "--treadles", "4", typed="\n\nq\n")
    done = fellside(home, "weave", "Tea towel", "--text", typed="l\n0\nq\n")
    assert "does your cloth look as it should? then enter; if not, l" in done.stdout
    assert "! '0' is no answer" in done.stdout

    def number_above(row, typed):
        shown = fellside(home, "weave", "Tea towel", "--text", typed=typed + "z\nq\n").stdout.splitlines()
        return next(above.split()[0] for above, line in pairwise(shown) if row in line and above[2].isdigit())

    newest_row = number_above("    pick      1  ||--||--  ", "\nl\n\n")
    place = number_above("    pick      1  ||--||--  ", f"\nl\n\n{newest_row}\n")
    done = fellside(home, "weave", "Tea towel", "--text", typed=f"\nl\n\n{newest_row}\n{place}\nq\n")
    assert "Which of these is the newest row?" in done.stdout
    assert "Which of these is your cloth?" in done.stdout
    assert f"  {place}  Pick 1, repeat 1\n" in done.stdout
    assert "1 pick taken out\n" in done.stdout
    assert "paused; 1 picks lie in the cloth" in done.stdout


def test_a_fault_is_asked_for_in_the_terminal_and_its_picks_come_out_one_by_one(home, towel, fellside):
    """`x` alone asks as the screen does; a number is typed where the screen has a pad; each pick is out by itself."""
    fellside(home, "weave", towel, "--text", "--treadles", "4", typed="\n\n\n\nq\n")
    wrong_shed, one_lower, unweave, out = "1", "5", "4", ""
    typed = f"\nx\n{wrong_shed}\n{one_lower}\n{unweave}\n{out}\nq\n"
    done = fellside(home, "weave", "Tea towel", "--text", typed=typed)
    assert "2 picks with this one" in done.stdout
    assert "the last one" in done.stdout
    assert "paused; 3 picks lie in the cloth" in done.stdout
    of_loom, wrong_dent, from_left, later = "8", "2", "1", "2"
    typed = f"\nx\n{of_loom}\n{wrong_dent}\n{from_left}\n99\n3\n{later}\nq\n"
    done = fellside(home, "weave", "Tea towel", "--text", typed=typed)
    assert "type the number" in done.stdout
    assert "! '99' is no answer; give 1 to" in done.stdout
    assert "Sley 3 ends again" in done.stdout
    faults = json.loads(fellside(home, "record", "Tea towel", "--json").stdout)["faults"]
    assert [(fault["kind"], fault["end"]) for fault in faults] == [("wrong shed", None), ("sleying mistake", 3)]


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


def test_the_rehearsal_is_cut_off_and_resumes_at_the_right_pick(home):
    done = in_a_process(home, "rehearse", "--picks", "5")
    assert done.returncode == 0, done.stderr
    assert sum(line.startswith("woven: ") for line in done.stdout.splitlines()) == 5
    assert "resumed at the right pick: yes" in done.stdout


@pytest.mark.parametrize("picks", ["0", "-1", "301"])
def test_the_rehearsal_weaves_no_more_than_the_demo_has(home, picks, fellside):
    done = fellside(home, "rehearse", "--picks", picks)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == f"fellside rehearse: --picks {picks}: give a number from 1 to 300, the picks of the demo\n"


def test_a_rehearsal_whose_weaver_never_weaves_is_not_right(home, monkeypatch, capsys):
    monkeypatch.setenv("FELLSIDE_HOME", str(home))
    monkeypatch.setattr(rehearse, "_WEAVER", "raise SystemExit(3)")
    assert run(["rehearse", "--picks", "2"]) == 1
    said = capsys.readouterr().out
    assert "ended by itself after 0 of 2 picks" in said
    assert "resumed at the right pick: NO" in said


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


MATS = [str(asset(f"drafts/diversified-plain-weave-four-shaft-{number}.txt")) for number in (1, 4)]


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
