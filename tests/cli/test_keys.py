"""The longer keys of the text stepper, as they are typed: notes, lengths, faults, bobbins, places."""

from __future__ import annotations

import json

from tests.cli.terminal import fellside, home, towel, woven_lines

_USED = (fellside, home, towel)
"""Fixtures, which pytest finds by name."""


def test_the_other_keys_note_measure_skip_jump_and_undo_and_say_what_they_do(home, towel, fellside):
    typed = "?\n\n\no 2\nn Looks even\nm 0.5\ns 2\nu\n\nj 8\n\nr\ny\nj 99\nb 3\nq\n"
    done = fellside(home, "weave", towel, "--text", "--treadles", "4", typed=typed)
    assert done.returncode == 0, done.stderr
    assert "n WORDS   note these words" in done.stdout
    out = [line.split(" \u00b7 ")[0].strip() for line in done.stdout.splitlines() if "pull " in line]
    assert out == ["pick 2", "pick 1"]
    for words in ("! no key 'y'", "! Tea towel has no pick 99; give 1 to 8", "! '3' after a key that stands alone"):
        assert words in done.stdout
    assert woven_lines(done) == ["woven: pick 1", "woven: pick 2", "woven: pick 8"]
    assert "Undo: next is pick 5?" in done.stdout
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
    assert (
        "! 'm 2' is no answer; give a number from 0.1 to 100,000 cm, alone or before: relaxed; b leaves" in done.stdout
    )
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
        "fault settled: fault 2 left as it is",
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
