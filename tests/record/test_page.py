"""The record's page, read with the standard library's HTML parser; its pictures decoded by hand."""

from __future__ import annotations

import re
import zlib
from dataclasses import replace
from html.parser import HTMLParser

import numpy as np

from companion.draft.facing import FROM_LEFT
from companion.draft.masks import shed_of
from companion.draft.png import png
from companion.draft.units import Units
from companion.record.drawings import CELL, draft_image, tieup_drawing
from companion.record.page import to_html
from companion.record.pages import record_pages
from companion.record.sheet import sheet
from companion.remap.loom.loom import Tie
from companion.weaving import decide
from companion.weaving.events import FaultKind, FaultState
from companion.weaving.warp import Winding, YarnSize
from tests.record.conftest import FORMULA, HARMFUL
from tests.weaving.world import AtLoom, lever_draft, lever_warp, two_stage_warp

VOID = {"meta", "img", "path", "br"}


class Reader(HTMLParser):
    """Collects tags, attributes and words, and checks that every element is closed in order."""

    def __init__(self, page):
        super().__init__()
        self.tags, self.attributes, self.words, self.open = [], [], [], []
        self.feed(page)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += attrs
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += attrs

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.words.append(data)


def page_of(loom):
    return to_html(sheet(loom.warp, loom.entries), Units.METRIC, FROM_LEFT)


def test_the_page_is_closed_and_words_come_through_as_they_were_written(woven):
    read = Reader(page_of(woven))
    text = "\n".join(read.words)
    assert f"runner {HARMFUL}" in text
    assert f"hem {HARMFUL}" in text
    assert FORMULA in text
    assert "script" not in read.tags
    assert "motif once more" in text
    assert "mended, " in text
    assert "2.00" in text


def test_the_page_needs_no_other_file_and_runs_nothing(woven):
    read = Reader(page_of(woven))
    assert not {"script", "link", "iframe", "object", "form"} & set(read.tags)
    addresses = [value for name, value in read.attributes if name in ("src", "href", "action", "data")]
    assert addresses == []
    assert "svg" in read.tags
    assert not any(name.startswith("on") for name, _ in read.attributes)
    assert dict(read.attributes)["content"] == "width=device-width, initial-scale=1"
    assert any(value and "default-src 'none'" in value for _, value in read.attributes)


def test_a_warp_with_stages_shows_each_tie_up_with_its_feet():
    loom = AtLoom(two_stage_warp())
    loom.weave(3)
    text = "\n".join(Reader(page_of(loom)).words)
    assert "Tie-up, stage 2 of 2" in text
    assert "up 3 4" in text
    assert "left foot" in text


def test_what_is_still_to_come_is_told():
    warp = lever_warp(lever_draft([0] * 100), picks_per_cm=2.0)
    loom = AtLoom(replace(warp, width_cm=50.0, winding=Winding(80.0)), gap_ms=3_000)
    loom.weave(60)
    text = "\n".join(Reader(page_of(loom)).words)
    assert "22 m (20 to 24)" in text
    assert "not known" in text
    assert "At your recent pace: 2 min at the loom" in text
    assert "Warp left to weave with: 50.0 cm. Left over at the end: 30.0 cm." in text


def test_a_warp_that_is_short_is_said_to_be():
    warp = lever_warp(lever_draft([0] * 100), lever_draft([0] * 100), picks_per_cm=2.0)
    loom = AtLoom(replace(warp, winding=Winding(80.0)))
    loom.weave(1)
    assert (
        "Warp left to weave with: 79.5 cm. The warp is 20 cm short for piece 2 (piece 2)."
        in Reader(page_of(loom)).words
    )
    rows = [row for page in record_pages(sheet(loom.warp, loom.entries), Units.METRIC, FROM_LEFT) for row in page.rows]
    assert any("The warp is 20 cm short for piece 2 (piece 2)" in words for _, words in rows)


def test_weft_of_later_pieces_and_how_it_is_reckoned_are_told():
    warp = lever_warp(lever_draft([0] * 100), lever_draft([1] * 40), picks_per_cm=2.0, length_cm=50.0)
    loom = AtLoom(replace(warp, width_cm=50.0, sizes=(YarnSize("sea", 100.0),)))
    loom.weave(20)
    words = Reader(page_of(loom)).words
    text = "\n".join(words)
    # The second piece is planned 50 cm long: 100 picks of 0.55 m, not the 40 of its treadling.
    assert "piece 2\nsea\n100\n55 m (50 to 60)\n5.5 g (5.0 to 6.0)" in text
    assert "in all\nsand\n80\n44 m (40 to 48)\nnot known\nin all\nsea\n100" in text
    assert "with the treadling begun over again." in text
    loom.do(decide.finish_piece)
    loom.do(decide.start_piece)
    loom.do(decide.finish_piece)
    assert "Still to come" not in page_of(loom)


def test_faults_are_counted_by_kind_and_by_what_became_of_them():
    loom = AtLoom(lever_warp(lever_draft([0] * 8)))
    loom.weave(4)
    loom.do(decide.note_fault, FaultKind.WRONG_SHED, 1)
    loom.do(decide.note_fault, FaultKind.BROKEN_END, 3, 2, FaultState.MENDED)
    loom.do(decide.note_fault, FaultKind.WRONG_SHED, 3)
    loom.do(decide.note_fault, FaultKind.OTHER, 3)
    loom.do(decide.undo)
    loom.do(decide.take_out)
    loom.do(decide.settle_fault, 2, FaultState.MENDED, "woven again")
    assert "2 wrong shed, 1 broken end; 1 found, 2 mended." in Reader(page_of(loom)).words
    rows = [row for page in record_pages(sheet(loom.warp, loom.entries), Units.METRIC, FROM_LEFT) for row in page.rows]
    assert ("", "2 wrong shed, 1 broken end; 1 found, 2 mended.") in rows


def test_what_is_left_out_of_a_picture_is_said():
    loom = AtLoom(lever_warp(lever_draft([0, 1] * 350, ends=900)))
    loom.weave(500)
    text = "\n".join(Reader(page_of(loom)).words)
    assert re.search(r"Shown are ends 1–\d+ of 900, newest picks \d+ of 500\.", text)
    # The draft is drawn whole, its repeats under brackets.
    assert "Under a bracket stands how often it comes." in text
    assert "x225" in text


def test_of_a_piece_woven_face_down_the_back_is_said_to_lie_up():
    warp = lever_warp(lever_draft([0] * 4))
    loom = AtLoom(replace(warp, pieces=(replace(warp.pieces[0], face_down=True),)))
    loom.weave(2)
    text = "\n".join(Reader(page_of(loom)).words)
    assert "woven with its face below" in text
    assert "The face, which lies below on the loom, newest pick at the bottom." in text
    assert "The back, which lies up on the loom, newest pick at the bottom." in text


def test_an_unwoven_warp_has_a_page():
    warp = lever_warp(lever_draft([0, 0]))
    assert "None was noted." in "\n".join(Reader(to_html(sheet(warp, []), Units.METRIC, FROM_LEFT)).words)


def decoded(data):
    """A PNG's pixels, by the chunks of ISO/IEC 15948 (8-bit RGB without filters), checksums compared."""
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    place, chunks = 8, {}
    while place < len(data):
        size = int.from_bytes(data[place : place + 4])
        name, body = data[place + 4 : place + 8], data[place + 8 : place + 8 + size]
        assert zlib.crc32(name + body) == int.from_bytes(data[place + 8 + size : place + 12 + size])
        chunks[name] = body
        place += size + 12
    columns, rows = (int.from_bytes(chunks[b"IHDR"][at : at + 4]) for at in (0, 4))
    assert chunks[b"IHDR"][8:] == bytes([8, 2, 0, 0, 0])
    lines = np.frombuffer(zlib.decompress(chunks[b"IDAT"]), dtype=np.uint8).reshape(rows, 1 + 3 * columns)
    assert not lines[:, 0].any()
    return lines[:, 1:].reshape(rows, columns, 3)


def test_a_png_holds_the_picture():
    image = np.random.default_rng(3).integers(0, 256, (5, 7, 3), dtype=np.uint8)
    assert (decoded(png(image)) == image).all()


def squares(drawing, attribute):
    """The cells (column, row) that a drawing fills or frames."""
    path = next((part for part in drawing.split("<path ") if attribute in part), "")
    marks = path.split('d="')[1].split('"')[0].split("z") if path else []
    return {tuple(int(number) // CELL for number in mark[1:].split("h")[0].split()) for mark in marks if mark}


def test_a_tie_up_is_drawn_with_shaft_one_lowest():
    ties = (Tie(up=shed_of([1]), down=shed_of([3])), Tie(up=shed_of([2, 3]), down=shed_of([1])))
    drawing = tieup_drawing(ties, 3)
    assert squares(drawing, 'fill="#222222"') == {(0, 2), (1, 1), (1, 0)}
    assert squares(drawing, 'stroke-width="2"') == {(0, 0), (1, 2)}


def test_the_draft_for_a_screen_has_rules_between_its_squares():
    for draft in (two_stage_warp().pieces[0].draft, lever_draft([0, 1], ends=8)):
        image = draft_image(draft, FROM_LEFT)
        middles = image[CELL // 2 :: CELL, CELL // 2 :: CELL, 0]
        dark = {(int(column), int(row)) for row, column in zip(*np.where(middles < 60), strict=True)}
        # Each end on its shaft, shaft 1 lowest.
        assert {(end, draft.shafts - 1 - shaft) for end, shaft in enumerate(draft.threading)} <= dark
        ends = draft.ends * CELL
        assert (image[0, : ends + 1] < 200).all()
        # Between threading and cloth lies bare paper, and right of the threading too.
        gap = draft.shafts * CELL
        assert (image[gap + 1 : gap + CELL, : ends + 1] == 255).all()
        assert (image[:, ends + 1 : ends + CELL] == 255).all()


def test_what_seconds_remain_is_told_without_a_range_and_a_loom_without_a_name_has_none():
    loom = AtLoom(two_stage_warp())
    page = to_html(sheet(loom.warp, loom.entries), Units.METRIC, FROM_LEFT)
    assert "between 0 s" not in page
    assert "loom: loom" not in page


def test_the_draft_keeps_its_title_and_its_notes_whatever_the_warp_is_called():
    draft = replace(lever_draft([0, 1], ends=8), title="Scarf & stole", notes=("A square of 'Gamp'.",))
    loom = AtLoom(lever_warp(draft))
    page = to_html(sheet(loom.warp, loom.entries), Units.METRIC, FROM_LEFT)
    assert "Scarf &amp; stole" in page
    assert "A square of &#x27;Gamp&#x27;." in page
