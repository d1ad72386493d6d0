"""From a square of a gamp to a draft or a mark: what is touched is what is wanted, and what is made of it."""

from __future__ import annotations

from pathlib import Path

from companion.draft.cloth import interlacement
from companion.draft.colours import parse_colour
from companion.draft.gamp import area_of, gamp_of
from companion.draft.reading import read_draft
from companion.draft.square import Finish, square_of
from companion.present.asking import Answered, AskedToWrite
from companion.present.square_table import SquareSeen
from companion.present.squares import MarkWanted, ask_square
from tests.draft.drafts import draft_of

FOLDER = Path(__file__).resolve().parents[2] / "assets" / "drafts"
GAMP = read_draft((FOLDER / "eight-by-eight-gamp-four-shaft.txt").read_bytes())


def follow(asked, *words):
    for wanted in words:
        asked = next(one for one in (*asked.answers, *asked.pad, *asked.foot) if one.words == wanted).leads_to()
    return asked


def asked_for(block=2, section=3, draft=GAMP, starred=False, text="", can_mark=False):
    area = area_of(gamp_of(draft), draft, block, section)
    return ask_square(draft, SquareSeen(area, starred, text), can_mark)


def told(asked):
    return {answer.words: answer.detail for answer in asked.answers}


def test_size_edges_selvedge_border_and_colours_stand_on_one_page_until_it_is_made():
    asked = asked_for()
    assert asked.words == "Rosepath on Point"
    assert told(asked) == {
        "Ends": "20",
        "Picks": "20",
        "Edges": "as they lie",
        "Selvedge": "none",
        "Border": "none",
        "Yarn: cream": "as it is",
        "Yarn: madder": "as it is",
    }
    asked = follow(asked, "Ends", "2", "4", "0", "Done", "Picks", "4", "0", "0", "Done", "Edges")
    asked = follow(asked, "Selvedge", "6", "Done", "Border", "Done", "Yarn: madder", "sea")
    assert list(told(asked).values()) == [
        "240 and 12 of selvedge",
        "400 and 16 of border",
        "mirrored",
        "6 ends at each side",
        "8 plain picks before and after",
        "as it is",
        "sea",
    ]
    # Mirrored edges may take one thread more, so nothing is promised in all.
    assert told(follow(asked, "Edges"))["Ends"] == "240 and 12 of selvedge: 252 in all"
    end = follow(asked, "Make it")
    assert isinstance(end, Answered)
    finish = end.result.finish
    assert (finish.ends, finish.picks, finish.balanced, finish.selvedge, finish.border) == (240, 400, True, 6, 8)
    square = square_of(GAMP, end.result.area, finish)
    # What is around it comes on top; mirrored edges may take one thread more.
    assert (square.ends - 12 - 240 in (0, 1), square.picks - 16 - 400 in (0, 1)) == (True, True)
    assert {tuple(yarn.colour) for yarn in square.yarns} == {
        tuple(parse_colour("sea")),
        *(tuple(yarn.colour) for yarn in GAMP.yarns if yarn.name == "cream"),
    }
    assert follow(asked, "Yarn: madder", "Keep madder", "Edges", "Make it").result.finish.yarns is None


def test_made_as_it_is_it_is_the_square():
    end = follow(asked_for(), "Make it").result
    assert end.finish == Finish(20, 20)
    area = end.area
    square = interlacement(GAMP)[area.first_pick : area.last_pick, area.first_end : area.last_end]
    assert (interlacement(square_of(GAMP, area, end.finish)) == square).all()


def test_plain_picks_are_offered_only_where_the_threading_weaves_them():
    three = draft_of(threading=[1, 2, 3], tieup=[[1], [2], [3]], treadling=[1, 2, 3])
    assert "Border" in told(asked_for())
    assert "Border" not in told(asked_for(0, 0, three))


def test_a_square_that_is_woven_is_marked_and_unmarked():
    bare, marked = asked_for(can_mark=True), asked_for(can_mark=True, starred=True, text="soft")
    area = area_of(gamp_of(GAMP), GAMP, 2, 3)
    assert follow(bare, "Give it a star").result == MarkWanted(area, True, "")
    assert follow(marked, "Take the star away").result == MarkWanted(area, False, "soft")
    assert follow(marked, "Take the words away").result == MarkWanted(area, True, "")
    writing = follow(marked, "Other words")
    assert isinstance(writing, AskedToWrite)
    assert writing.written == "soft"
    assert writing.leads_to("stiff").result == MarkWanted(area, True, "stiff")
    assert marked.detail == "star; soft"
    assert follow(marked, "Make a draft of it", "Make it").result.area == area
