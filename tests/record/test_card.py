"""The tie-up card: one page to a tie-up, with everything that is tied and trodden on it."""

from __future__ import annotations

import random
import re
from pathlib import Path

import pytest

from companion.draft.facing import FROM_LEFT
from companion.draft.masks import shed_of
from companion.draft.reading import read_draft
from companion.draft.units import Units
from companion.present.cautions import TYING_CAUTIONS
from companion.record.card import card_pages, tieup_card
from companion.record.ink import BLACK, DARK, Boxes, Letters
from companion.remap.loom.loom import Action, Loom, Tie
from companion.remap.remapping import remap
from tests.draft.drafts import draft_of

DRAFT = draft_of(
    threading=[1, 2, 3, 4],
    tieup=[[1], [2], [3], [4], [1, 2, 3], [2, 3, 4], [1, 3, 4], [1, 2, 4]],
    treadling=[1, 5, 2, 6, 3, 7, 4, 8] * 3,
)


def pages_of(answer, title="Two faces", draft=DRAFT):
    return card_pages(title, draft, answer, FROM_LEFT, Units.INCH)


def words(page):
    return " ".join(mark.text for mark in page.marks if isinstance(mark, Letters))


def cords(page, shafts=4):
    """The cords that a page draws, as ("up" or "down", treadle, shaft), found by the places of the numbers."""
    numbers = [mark for mark in page.marks if isinstance(mark, Letters) and mark.text.isdigit()]
    # Treadles stand in bold under the tie-up, shafts left of it.
    columns = {mark.x: int(mark.text) for mark in numbers if mark.bold}
    rows = {mark.y: int(mark.text) for mark in numbers if not mark.bold}
    assert set(rows.values()) == set(range(1, shafts + 1))

    def nearest(places, at):
        return places[min(places, key=lambda place: abs(place - at))]

    return {
        ("down" if mark.line else "up", nearest(columns, x + across / 2), nearest(rows, y + down / 2))
        for mark in page.marks
        if isinstance(mark, Boxes) and mark.colour == DARK
        for x, y, across, down in mark.places
    }


@pytest.mark.parametrize(("action", "treadles"), [(Action.RISING, 6), (Action.SINKING, 7), (Action.COUNTERMARCHE, 8)])
def test_the_tie_up_is_drawn_cord_by_cord_where_the_cords_are(action, treadles):
    answer = remap(DRAFT, Loom(4, treadles, action))
    (page,) = pages_of(answer)
    assert cords(page) == {
        (way, treadle + 1, shaft)
        for way in ("up", "down")
        for treadle, tie in enumerate(answer.tieup)
        for shaft in range(1, 5)
        if getattr(tie, way) & shed_of([shaft])
    }


def test_it_is_one_page_with_large_squares_and_a_box_to_tick_for_each_treadle():
    (page,) = pages_of(remap(DRAFT, Loom(4, 6)))
    ticks = [mark for mark in page.marks if isinstance(mark, Boxes) and mark.line and mark.colour == BLACK]
    assert [len(mark.places) for mark in ticks] == [6]
    (filled,) = [mark for mark in page.marks if isinstance(mark, Boxes) and mark.colour == DARK]
    # A square is at least 8 mm large: 23 points.
    assert min(across for _, _, across, _ in filled.places) >= 23


def test_the_treadling_stands_under_the_tie_up_and_the_cautions_at_the_foot():
    answer = remap(DRAFT, Loom(4, 6))
    (page,) = pages_of(answer)
    lines = [mark for mark in page.marks if isinstance(mark, Letters)]

    def place(beginning):
        return next(mark.y for mark in lines if mark.text.startswith(beginning))

    assert place("Tie-up") < place("Treadling, in order") < place("Before you go under the loom")
    assert [place(caution) for caution in TYING_CAUTIONS] == sorted(place(caution) for caution in TYING_CAUTIONS)
    assert place(TYING_CAUTIONS[0]) > page.height * 0.8
    assert any("maker" in caution for caution in TYING_CAUTIONS)
    for feet in answer.stages[0].sheds:
        left = " ".join(str(one + 1) for one in feet.footing.left) or "–"
        assert f"left {left}, " in words(page)
    told = re.findall(r"(?:[LR]\d\+?)+", words(page).split("Treadling, in order")[1])
    first = answer.stages[0].footings[0]
    # The first one is in the words that say how to read them.
    assert told[1] == "+".join([*(f"L{one + 1}" for one in first.left), *(f"R{one + 1}" for one in first.right)])


def test_a_cloth_woven_face_down_is_said_to_lie_so():
    says = "the face of the cloth lies below on the loom"
    assert says in words(pages_of(remap(DRAFT, Loom(4, 8), face_down=True))[0])
    assert says not in words(pages_of(remap(DRAFT, Loom(4, 8)))[0])


@pytest.mark.parametrize(
    ("action", "meaning"),
    [
        (Action.RISING, "A filled square: this treadle raises that shaft"),
        (Action.SINKING, "A hollow square: this treadle sinks that shaft"),
        (Action.COUNTERMARCHE, "Hollow: it sinks it"),
    ],
)
def test_it_says_what_the_squares_mean(action, meaning):
    assert meaning in words(pages_of(remap(DRAFT, Loom(4, 8, action)))[0])


def test_cords_to_change_stand_treadle_by_treadle():
    present = tuple(Tie(up=shed_of(shafts)) for shafts in ([1], [2], [3], [4], [1, 3], [2, 3, 4]))
    (page,) = pages_of(remap(DRAFT, Loom(4, 6), present=present))
    assert "1 tie to change, from the left" in words(page)
    assert "treadle 6: untie 3" in words(page)


def test_every_stage_of_a_re_tie_has_its_page():
    answer = remap(DRAFT, Loom(4, 5))
    pages = pages_of(answer)
    assert len(pages) == len(answer.stages) > 1
    for number, page in enumerate(pages, 1):
        assert f"stage {number} of {len(answer.stages)}" in words(page)


def test_levers_are_listed_pick_by_pick():
    text = words(pages_of(remap(DRAFT, Loom(4, 0, Action.LEVERS)))[0])
    assert [f"pick {pick}:" in text for pick in range(1, DRAFT.picks + 1)] == [True] * DRAFT.picks


def test_a_long_treadling_goes_on_on_further_pages():
    moves = random.Random(5).choices(range(1, 5), k=5000)
    draft = draft_of(threading=[1, 2, 3, 4], tieup=[[1], [2], [3], [4]], treadling=moves)
    pages = pages_of(remap(draft, Loom(4, 4)), draft=draft)
    assert len(pages) > 1
    told = re.findall(r"[LR]\d", " ".join(map(words, pages)))
    assert len(told) >= 1000


def test_a_loom_that_cannot_weave_it_gets_a_card_that_says_so():
    assert "There is no tie-up to show" in words(pages_of(remap(DRAFT, Loom(3, 6)))[0])


def test_a_title_of_any_text_stays_text_and_the_page_loads_nothing():
    page = tieup_card('<script>alert("x")</script> & co', DRAFT, remap(DRAFT, Loom(4, 6)), FROM_LEFT, Units.METRIC)
    assert "<script" not in page
    assert "&lt;script&gt;" in page
    assert not re.search(r"(src|href)=|url\(|@import", page)
    assert "default-src 'none'" in page


def test_it_is_in_large_letters():
    (page,) = pages_of(remap(DRAFT, Loom(4, 6)))
    treadling = [mark.size for mark in page.marks if isinstance(mark, Letters) and "L1" in mark.text]
    assert max(treadling) >= 13


@pytest.mark.parametrize("action", [Action.RISING, Action.COUNTERMARCHE])
def test_every_treadle_has_the_mark_of_its_foot_and_its_cords_to_tick_without_a_present_tie_up(action):
    answer = remap(DRAFT, Loom(4, 8, action))
    (page,) = pages_of(answer)
    (stage,) = answer.stages
    letters = [mark for mark in page.marks if isinstance(mark, Letters)]
    numbers = {mark.x: int(mark.text) - 1 for mark in letters if mark.bold and mark.text.isdigit()}
    feet = {(numbers[mark.x], mark.text) for mark in letters if mark.text in ("L", "R")}
    assert {treadle for treadle, foot in feet if foot == "L"} == {t for feet in stage.footings for t in feet.left}
    assert {treadle for treadle, foot in feet if foot == "R"} == {t for feet in stage.footings for t in feet.right}
    tied = sum(tie.up.bit_count() + tie.down.bit_count() for tie in stage.tieup)
    assert f"{tied} ties to make, from the left" in words(page)
    assert all(f"[ ] treadle {treadle}: tie" in words(page) for treadle in range(1, 9))


def test_it_says_which_treadles_hold_plain_weave_and_where_there_is_no_room_for_it():
    ties = [[1, 2], [2, 3], [3, 4], [1, 4], [1, 3], [2, 4]]
    draft = draft_of(threading=[1, 2, 3, 4] * 2, tieup=ties, treadling=[1, 2, 3, 4] * 2)

    def card(treadles):
        return tieup_card("Twill", draft, remap(draft, Loom(4, treadles)), FROM_LEFT, Units.METRIC)

    assert "Treadles 5 and 6 hold plain weave, for headings and hems; treadle 7 is free." in card(7)
    for treadles in (3, 4):
        assert card(treadles).count("No two treadles are left for the plain weave that the draft ties") == 1


@pytest.mark.parametrize("units", Units)
def test_the_card_of_a_gamp_with_sixteen_sections_is_one_page_on_either_paper(units):
    file = Path(__file__).resolve().parents[2] / "assets" / "drafts" / "eight-by-eight-gamp-eight-shaft.txt"
    gamp = read_draft(file.read_bytes())
    (page,) = card_pages("gamp", gamp, remap(gamp, Loom(8, 10)), FROM_LEFT, units)
    words = " ".join(mark.text for mark in page.marks if isinstance(mark, Letters))
    assert "picks 197 to 220" in words
    assert TYING_CAUTIONS[-1] in words
