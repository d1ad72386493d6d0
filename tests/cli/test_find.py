"""`fellside find`: what a person types, what comes out, and the one line when it cannot be."""

from __future__ import annotations

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.cli.commands import run
from companion.cli.seen import seen_rows
from companion.cli.status import CommandError
from companion.draft.reading import read_draft
from companion.journal.shelf import shelf_of_weaver
from companion.weaving.events import Jumped, PickWoven
from tests.weaving.world import two_stage_warp

WIF = """\
[WIF]
Version=1.1
Date=April 20, 1997
Developers=wif@mhsoft.com
Source Program=written by hand
[WEAVING]
Shafts=4
Treadles=4
Rising Shed=yes
[WARP]
Threads=4
Color=1
[WEFT]
Threads=8
Color=1
[COLOR PALETTE]
Entries=2
Range=0,255
Form=RGB
[COLOR TABLE]
1=10,20,30
2=200,180,20
[THREADING]
1=1
2=2
3=3
4=4
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
[WEFT COLORS]
1=1
2=2
3=1
4=1
5=2
6=2
7=1
8=1
"""


@pytest.fixture
def draft(tmp_path):
    path = tmp_path / "twill.wif"
    path.write_text(WIF)
    return str(path)


def found(capsys, *words):
    status = run(["find", *words, "--json"])
    told = json.loads(capsys.readouterr().out)
    return status, [position["newest"] for position in told["positions"]], told


def test_the_newest_row_stands_last(draft, capsys):
    # The wefts are 1 2 1 1 2 2 1 1: only pick 2 and pick 5 are a 2 over a 1.
    assert found(capsys, draft, "--seen", "1, 2")[:2] == (0, [2, 5])
    assert found(capsys, draft, "--seen", "2,1")[:2] == (0, [3, 7])


def test_a_colour_or_several_wefts_or_nothing_known_will_do(draft, capsys):
    assert found(capsys, draft, "--seen", "#C8B414, ?, ?")[1] == [4, 7, 8]
    assert found(capsys, draft, "--seen", "1/2, 2")[1] == [2, 5, 6]


def test_ends_are_counted_from_one_on_the_left(draft, capsys):
    # End 1 is on shaft 1, up on treadles 1 and 4; end 2 on shaft 2, up on treadles 1 and 2.
    assert found(capsys, draft, "--seen", "? up 1 2")[1] == [1, 5]
    assert found(capsys, draft, "--seen", "? up 1 down 2")[1] == [4, 8]
    assert found(capsys, draft, "--seen", "down 1, up 1 down 2")[1] == [4, 8]


def test_the_nearest_comes_first_and_a_question_is_asked(draft, capsys):
    status, newest, told = found(capsys, draft, "--since-change", "2", "--treadle", "4", "--near", "7")
    assert (status, newest) == (0, [8, 4])
    assert told["rows_to_be_sure"] == 4
    assert told["question"] == {"ask": "weft", "row": 4, "end": None, "left_on_average": 1.0, "left_at_worst": 1}
    assert told["positions"][0] == {"newest": 8, "next": None, "rows": 4}


def test_where_nothing_fits_the_status_is_one(draft, capsys):
    assert found(capsys, draft, "--seen", "2, 2, 2")[:2] == (1, [])
    assert run(["find", draft, "--seen", "2, 2, 2"]) == 1
    assert "No pick of this draft looks like that" in capsys.readouterr().out


def test_more_picks_since_the_change_than_are_listed_where_a_section_is_woven_to_a_length(tmp_path, capsys):
    # Two black picks, gold over and over: nine gold ones lie above the black where the newest is a first of two.
    text = """
        yarn: black
        yarn: gold
        threading: 1 2
        tie-up: 1, 2
        treadling:
        section: Hem
          black 1 2
        section: Body until 40 cm
          gold 1 2"""
    (tmp_path / "body.txt").write_text(text)
    assert found(capsys, str(tmp_path / "body.txt"), "--since-change", "9")[:2] == (0, [3])


def test_the_answer_in_words(draft, capsys):
    assert run(["find", draft, "--since-change", "2"]) == 0
    out = capsys.readouterr().out
    assert "3 of 8 picks may lie newest" in out
    assert "pick      4  black; next is pick 5; 4 rows tell it from every other" in out
    assert "Most useful to say next: does end 1 lie over the weft in the newest row" not in out
    assert "Most useful to say next: which weft is" in out


@pytest.mark.parametrize(
    ("words", "line"),
    [
        ([], 'say what you know: --seen "…"'),
        (["--seen", " "], "--seen is empty"),
        (["--seen", "1,,2"], "--seen, row 2: nothing in it"),
        (["--seen", "1, blue"], "--seen, row 2: no weft is called 'blue'; the wefts are 1 black, 2 gold"),
        (["--seen", "1 up 5"], "--seen, row 1: '5' is no end; give numbers from 1 to 4"),
        (["--seen", "1 up ²"], "'²' is no end"),
        (["--seen", "1 up " + "9" * 5000], "is no end"),
        (["--seen", "1 up 1 down 1"], "end 1 cannot lie up and down at once"),
        (["--since-change", "0"], "--since-change 0: give a number from 1 to 8"),
        (["--shuttles", "gold"], "--shuttles, part 1: say a shuttle and its side"),
        (["--shuttles", "left"], "--shuttles, part 1: say a shuttle and its side"),
        (
            ["--shuttles", "gold left, blue right"],
            "--shuttles, part 2: no weft is called 'blue'; the wefts are 1 black",
        ),
        (["--shuttles", "gold left, 2 right"], "part 2: '2' cannot lie on both sides at once"),
        (["--treadle", "5"], "--treadle 5: give 1 to 4, the treadles in use"),
        (["--seen", "1", "--near", "99"], "--near 99: give a number from 1 to 8"),
    ],
)
def test_what_cannot_be_is_one_line_and_status_two(draft, capsys, words, line):
    assert run(["find", draft, *words]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert line in err
    assert err.count("\n") == 1
    assert len(err) < 300


def test_a_warp_is_looked_at_as_it_stands_with_the_journals_place_nearest(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path))
    with shelf_of_weaver().create("Towels", two_stage_warp(), 0) as journal:
        for number in range(3):
            journal.append(PickWoven(number), number)
    # Picks 1, 3, 5 and 7 press the loom's first treadle; pick 3 is the newest by the journal.
    assert found(capsys, "Towels", "--treadle", "1")[:2] == (0, [3, 1, 5, 7])


def test_places_that_a_shuttle_speaks_against_come_last(draft, capsys):
    # From the right, black lies left after picks 1, 4 and 8, its 1st, 3rd and 5th; gold, with none, right at 1.
    status, newest, told = found(capsys, draft, "--seen", "1", "--shuttles", "black left, GOLD left")
    assert (status, newest) == (0, [4, 8, 1, 3, 7])
    assert [place["shuttles_against"] for place in told["positions"]] == [False, False, True, True, True]
    assert run(["find", draft, "--seen", "1", "--shuttles", "1 left, 2 left"]) == 0
    out = capsys.readouterr().out
    assert out.count("a shuttle should lie on the other side") == 3


def test_where_only_the_side_tells_places_apart_it_is_asked_for(tmp_path, capsys):
    stripes = tmp_path / "stripes.txt"
    stripes.write_text("threading: 1-4\ntie-up: 1 2, 2 3, 3 4\ntreadling: (1 2 3)x40\n", encoding="utf-8")
    rows = ", ".join(["? up 1 2 down 3 4", "? up 2 3 down 1 4", "? up 3 4 down 1 2"] * 8)
    _, newest, told = found(capsys, str(stripes), "--seen", rows)
    assert newest[:2] == [24, 27]
    assert told["question"]["ask"] == "side"
    assert run(["find", str(stripes), "--seen", rows]) == 0
    assert "on which side does the weft shuttle lie (--shuttles)?" in capsys.readouterr().out
    _, nearest, _ = found(capsys, str(stripes), "--seen", rows, "--shuttles", "weft left")
    assert nearest[:3] == [27, 33, 39]


def test_what_was_woven_across_a_jump_is_found_where_the_journal_is_known(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path))
    with shelf_of_weaver().create("Towels", two_stage_warp(), 0) as journal:
        for number, event in enumerate((PickWoven(0), PickWoven(1), Jumped(0), PickWoven(0), PickWoven(1))):
            journal.append(event, number)
    # The wefts listed are sand sand sea sea sand sand sea sea: four times sand was woven only across the jump.
    assert found(capsys, "Towels", "--since-change", "4")[:2] == (0, [2])
    assert found(capsys, "Towels", "--seen", "sand, sand, sand")[1] == [2, 1]


def test_after_the_last_pick_of_a_section_woven_to_a_length_another_lap_may_come(tmp_path, capsys):
    band = tmp_path / "band.txt"
    sections = "section: Body until 3 cm\n1 2\nsection: End\n3\n"
    band.write_text(f"threading: 1-4\ntie-up: 1 2, 3 4, 1 3\ntreadling:\n{sections}", encoding="utf-8")
    _, _, told = found(capsys, str(band), "--treadle", "2")
    assert told["positions"] == [{"newest": 2, "next": 3, "rows": 1, "next_lap": 1}]
    assert run(["find", str(band), "--treadle", "2"]) == 0
    assert "next is pick 3, or 1 in another lap" in capsys.readouterr().out


def test_neither_a_file_nor_a_warp(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path))
    assert run(["find", "Curtain", "--seen", "?"]) == 2
    assert capsys.readouterr().err.count("\n") == 1


@settings(max_examples=200, deadline=None)
@given(st.text("ab12 ,/?#updown\x00²", max_size=30) | st.text(max_size=20))
def test_whatever_is_seen_gives_rows_or_one_line(text):
    draft = read_draft(WIF.encode())
    refusal, rows = "", ()
    try:
        rows = seen_rows(text, draft)
    except CommandError as error:
        refusal = str(error)
    assert refusal.startswith("--seen") if refusal else len(rows) == text.count(",") + 1
