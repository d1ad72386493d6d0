"""Questions in the terminal: answered by number or by words, where a number is asked for by that."""

from __future__ import annotations

import json
from itertools import pairwise

import pytest

from tests.cli.terminal import fellside, home, towel

_USED = (fellside, home, towel)
"""Fixtures, which pytest finds by name."""


def test_who_is_lost_answers_questions_by_number_until_the_place_is_found(home, towel, fellside):
    """The journal has two picks, the cloth one: its row is pointed at, and then the place."""
    fellside(home, "weave", towel, "--text", "--treadles", "4", typed="\n\nq\n")
    done = fellside(home, "weave", "Tea towel", "--text", typed="l\n0\nq\n")
    assert "does your cloth look as it should? then enter; if not, l" in done.stdout
    assert "! '0' is no answer" in done.stdout

    def number_above(row, typed):
        shown = fellside(home, "weave", "Tea towel", "--text", typed=typed + "z\nq\n").stdout.splitlines()
        return next(above.split()[0] for above, line in pairwise(shown) if row in line and above[2].isdigit())

    # Three other rows are likelier: what lies so near is told beside the picture.
    place = number_above("    pick      1  ||--||--  ", "\nl\nnone of these\n")
    done = fellside(home, "weave", "Tea towel", "--text", typed=f"\nl\nnone of these\n{place}\nq\n")
    assert "Where does your cloth end?" in done.stdout
    assert "Which of these is your cloth?" in done.stdout
    assert f"  {place}  Pick 1, repeat 1\n" in done.stdout
    assert "1 pick taken out\n" in done.stdout
    assert "paused; 1 pick lies in the cloth" in done.stdout


def test_an_answer_may_be_typed_in_its_words_and_a_number_with_what_it_means(home, towel, fellside):
    """Each from the same two picks: one undo takes back what the last one told."""
    answers = {
        "4+\nby number\n5": "picks 3 to 5 woven",
        "4+\nby\n5 at": "picks 3 to 5 woven",
        "4+ off\nby\n3 further": "picks 3 to 5 woven",
        "4+ Off\nBy Number\n2 back": "2 picks taken out",
        "4+ off\n4 further": "picks 3 to 6 woven",
        "2 further": "picks 3 to 4 woven",
        "1 back": "1 pick taken out",
    }
    typed = "".join(f"l\n{typed}\nu\n\n" for typed in answers)
    done = fellside(home, "weave", towel, "--text", "--treadles", "4", typed=f"\n\n{typed}q\n")
    lines = [line.strip() for line in done.stdout.splitlines()]
    assert [line for line in lines if line in answers.values()] == list(answers.values())
    assert [line for line in lines if line.startswith("undone")] == [f"undone: {told}" for told in answers.values()]


def test_who_knows_where_the_cloth_ends_says_so_with_the_key(home, towel, fellside):
    """Each from the same two picks, the first of them on coming back; what cannot be meant changes nothing."""
    fellside(home, "weave", towel, "--text", "--treadles", "4", typed="\n\nq\n")
    answers = {"l 5": "picks 3 to 5 woven", "L 3 further": "picks 3 to 5 woven", "l 2 back": "2 picks taken out"}
    typed = "".join(f"{typed}\nu\n\n" for typed in answers)
    done = fellside(home, "weave", "Tea towel", "--text", typed=f"{typed}l 9\nl 3 back\nl five\nl not sure\nb\nq\n")
    lines = [line.strip() for line in done.stdout.splitlines()]
    assert [line for line in lines if line in answers.values()] == list(answers.values())
    assert [line.split(";")[0] for line in lines if line.startswith("!")] == [
        f"! {line!r} is no answer" for line in ("9", "3 back", "five")
    ]
    assert "Where does your cloth end?" in done.stdout
    assert "paused; 2 picks lie in the cloth" in done.stdout


def test_a_number_that_cannot_be_meant_is_one_line_that_says_what_can(home, towel, fellside):
    cannot = ["9", "9 back", "-1", "1.5", "five", "2 sideways", "3 cm", "nan", "inf", "1e9"]
    typed = "\n\nl\n4+\nby\n" + "".join(f"{line}\n" for line in cannot) + "b\nq\n"
    done = fellside(home, "weave", towel, "--text", "--treadles", "4", typed=typed)
    meant = "alone or before: so many further, so many back; or: not sure; b leaves it"
    complaint = f"is no answer; give a number from 1 to 8, {meant}"
    assert [line for line in done.stdout.splitlines() if line.startswith("!")] == [
        f"! {line!r} {complaint}" for line in cannot
    ]
    assert "paused; 2 picks lie in the cloth" in done.stdout


def test_a_length_is_typed_with_its_unit_and_whether_the_cloth_was_relaxed(home, towel, fellside):
    lengths = {
        "2 cm": (2.0, True),
        "21 mm": (2.1, True),
        "1 in": (2.54, True),
        "2 relaxed": (2.0, False),
        "1 in relax": (2.54, False),
    }
    options = ("--text", "--treadles", "4", "--picks-per-cm", "4", "--units", "metric")
    typed = "".join(f"m 50 cm\nmeasure again\n{line}\n" for line in lengths)
    done = fellside(home, "weave", towel, *options, typed="\n" * 8 + typed + "m 1.9 relaxed\nq\n")
    assert done.stdout.count("type a number from 0.1 to 100,000 cm, alone or before: relaxed\n") == len(lengths)
    measures = json.loads(fellside(home, "record", "Tea towel", "--json").stdout)["measures"]
    told = [(pytest.approx(measure["cm"]), measure["under_tension"]) for measure in measures]
    assert told == [*lengths.values(), (1.9, False)]


def test_what_is_pointed_at_on_the_screen_is_told_by_about_which_pick_it_is(home, tmp_path, fellside):
    """Plain weave with a pick of another weft now and then: neither rows nor repeats tell the place at once."""
    draft = tmp_path / "plain.txt"
    draft.write_text(
        "threading: (1 2)x8\ntie-up: 1, 2\nyarn: sand\nyarn: sea\nwarp: sand\nweft: sand\ntreadling:\n"
        "section: Ground\n(1 2)x30\nsection: Bands\nsea 1 2 sand 1 2 1 sea 2 sand (1 2)x9 sea 1\n",
        encoding="utf-8",
    )
    done = fellside(home, "weave", str(draft), "--text", typed="\n\nl\n" + "not sure\n" * 4 + "q\n")
    assert "Where in the piece does your cloth end?\n" in done.stdout
    assert "    Ground: picks 1 to 60, 30 repeats\n    Bands: picks 61 to 85\n" in done.stdout
    assert "type a number from 1 to 85; or: not sure, show what fits\n" in done.stdout


def test_a_fault_is_asked_for_in_the_terminal_and_its_picks_come_out_one_by_one(home, towel, fellside):
    """`x` alone asks as the screen does; a number is typed where the screen has a pad; each pick is out by itself."""
    fellside(home, "weave", towel, "--text", "--treadles", "4", typed="\n\n\n\nq\n")
    wrong_shed, one_lower, unweave, out = "1", "5", "4", "1"
    typed = f"\nx\n{wrong_shed}\n{one_lower}\n{unweave}\n{out}\nq\n"
    done = fellside(home, "weave", "Tea towel", "--text", typed=typed)
    assert "2 picks with this one" in done.stdout
    assert "the last one" in done.stdout
    assert "paused; 3 picks lie in the cloth" in done.stdout
    of_loom, wrong_dent, from_left, later = "8", "2", "1", "2"
    typed = f"\nx\n{of_loom}\n{wrong_dent}\n{from_left}\n99\n3\n{later}\nq\n"
    done = fellside(home, "weave", "Tea towel", "--text", typed=typed)
    assert "type a number from 1 to 8" in done.stdout
    assert "! '99' is no answer; give a number from 1 to 8; b leaves it" in done.stdout
    assert "Sley 3 ends again" in done.stdout
    faults = json.loads(fellside(home, "record", "Tea towel", "--json").stdout)["faults"]
    assert [(fault["kind"], fault["end"]) for fault in faults] == [("wrong shed", None), ("sleying mistake", 3)]


def test_a_wrong_heddle_and_a_wrong_treadle_are_told_with_what_mending_needs_and_kept(home, towel, fellside):
    fellside(home, "weave", towel, "--text", "--treadles", "4", typed="\n\nq\n")
    typed = "\nx\nthreading\n1\n1\n3\nshaft 1\nmend later\nx\nthreading\n3\nyes\nno: mend\nb\nq\n"
    done = fellside(home, "weave", "Tea towel", "--text", typed=typed)
    assert "End 3 is on shaft 1 in place of 3" in done.stdout
    assert "Tie a repair heddle on shaft 3, thread 1 end again" in done.stdout
    assert "Does treadle 2 open this shed?" in done.stdout
    faults = json.loads(fellside(home, "record", "Tea towel", "--json").stdout)["faults"]
    told = [(fault["kind"], fault["end"], fault["shaft"], fault["treadle"]) for fault in faults]
    assert told == [("threading mistake", 3, 1, None), ("wrong tie-up", None, None, 2)]
