"""The tie-up card, read with the standard library's XML parser."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from companion.draft.facing import FROM_LEFT
from companion.draft.masks import shed_of
from companion.present.cautions import TYING_CAUTIONS
from companion.record.card import tieup_card
from companion.remap.loom.loom import Action, Loom, Tie
from companion.remap.remapping import remap
from tests.draft.drafts import draft_of

DRAFT = draft_of(
    threading=[1, 2, 3, 4],
    tieup=[[1], [2], [3], [4], [1, 2, 3], [2, 3, 4], [1, 3, 4], [1, 2, 4]],
    treadling=[1, 5, 2, 6, 3, 7, 4, 8] * 3,
)


def read(title, answer):
    """Parse the page as XML once its few void elements are closed: everything else must be well formed as it is."""
    page = tieup_card(title, answer, FROM_LEFT)
    closed = re.sub(r"<(meta[^>]*)>", r"<\1/>", page.removeprefix("<!DOCTYPE html>"))
    return page, ElementTree.fromstring(closed)


def words(element):
    return " ".join("".join(element.itertext()).split())


@pytest.mark.parametrize(("action", "treadles"), [(Action.RISING, 6), (Action.SINKING, 7), (Action.COUNTERMARCHE, 8)])
def test_the_tie_up_is_drawn_cord_by_cord_where_the_cords_are(action, treadles):
    answer = remap(DRAFT, Loom(4, treadles, action))
    _, page = read("Two faces", answer)
    drawing = page.find(".//svg")
    cell = 40
    for way in ("up", "down"):
        drawn = {
            (int(box.get("x")) // cell, 4 - int(box.get("y")) // cell)
            for box in drawing.findall(f"rect[@class='{way}']")
        }
        tied = {
            (treadle + 1, shaft)
            for treadle, tie in enumerate(answer.tieup)
            for shaft in range(1, 5)
            if getattr(tie, way) & shed_of([shaft])
        }
        assert drawn == tied


def test_a_cloth_woven_face_down_is_said_to_lie_so():
    says = "the face of the cloth lies below on the loom"
    assert says in words(read("Two faces", remap(DRAFT, Loom(4, 8), face_down=True))[1])
    assert says not in words(read("Two faces", remap(DRAFT, Loom(4, 8)))[1])


def test_feet_of_each_shed_and_the_cautions_are_on_it():
    answer = remap(DRAFT, Loom(4, 6))
    _, page = read("Two faces", answer)
    rows = [[words(cell) for cell in row] for row in page.findall(".//table[@class='feet']/tr")]
    assert len(rows) == 8
    for row, feet in zip(rows, answer.stages[0].sheds, strict=True):
        assert row[1] == (str(feet.footing.left[0] + 1) if feet.footing.left else "–")
        assert row[2] == (str(feet.footing.right[0] + 1) if feet.footing.right else "–")
        assert int(row[3].rstrip(" *")) == feet.picks
    for caution in TYING_CAUTIONS:
        assert caution in words(page)
    assert any("maker" in caution for caution in TYING_CAUTIONS)


@pytest.mark.parametrize("treadles", [6, 5])
def test_the_cautions_come_before_any_tie_up(treadles):
    page, _ = read("Two faces", remap(DRAFT, Loom(4, treadles)))
    assert page.index(TYING_CAUTIONS[0]) < page.index("<svg")


@pytest.mark.parametrize(
    ("action", "meaning"),
    [
        (Action.RISING, "A square is a cord that makes the shaft rise"),
        (Action.SINKING, "A hollow square is a cord that makes the shaft sink"),
        (Action.COUNTERMARCHE, "a hollow one a cord that makes it sink"),
    ],
)
def test_it_says_what_the_squares_mean(action, meaning):
    _, page = read("Two faces", remap(DRAFT, Loom(4, 8, action)))
    assert meaning in words(page)


def test_cords_to_change_stand_treadle_by_treadle():
    present = tuple(Tie(up=shed_of(shafts)) for shafts in ([1], [2], [3], [4], [1, 3], [2, 3, 4]))
    _, page = read("Two faces", remap(DRAFT, Loom(4, 6), present=present))
    assert [words(line) for line in page.findall(".//ul[@class='cords']/li")] == ["treadle 6: untie 3"]


def test_every_stage_of_a_re_tie_has_its_tie_up_and_feet():
    answer = remap(DRAFT, Loom(4, 5))
    _, page = read("Two faces", answer)
    assert len(page.findall(".//svg")) == len(answer.stages) == len(page.findall(".//table[@class='feet']"))


def test_levers_are_listed_pick_by_pick():
    _, page = read("Levers", remap(DRAFT, Loom(4, 0, Action.LEVERS)))
    assert len(page.findall(".//table[@class='levers']/tr")) == DRAFT.picks


def test_a_loom_that_cannot_weave_it_gets_a_card_that_says_so():
    _, page = read("Short", remap(DRAFT, Loom(3, 6)))
    assert "There is no tie-up to show" in words(page)


def test_a_title_of_any_text_stays_text_and_the_page_loads_nothing():
    page, tree = read('<script>alert("x")</script> & co', remap(DRAFT, Loom(4, 6)))
    assert words(tree.find(".//h1")) == '<script>alert("x")</script> & co'
    assert tree.findall(".//script") == []
    assert not re.search(r"(src|href)=|url\(|@import", page)
    assert "default-src 'none'" in page


def test_it_is_black_on_white_and_large():
    page, _ = read("Two faces", remap(DRAFT, Loom(4, 6)))
    assert set(re.findall(r"#[0-9a-fA-F]{3,6}", page)) == {"#000", "#fff"}
    assert int(re.search(r"font: (\d+)pt", page).group(1)) >= 16
