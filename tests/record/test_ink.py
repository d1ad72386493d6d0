"""A page is printed alike as PDF and as SVG, and other programs find on it what was put there."""

from __future__ import annotations

import re
import string
from xml.etree import ElementTree

import numpy as np
import pytest

from companion.draft.model import Colour
from companion.record.ink import Anchor, Boxes, InkPage, Letters, Rules
from companion.record.ink_pdf import letters_missing, pdf_of
from companion.record.ink_svg import html_of
from companion.record.letter_widths import fitted, text_width, wrapped
from tests.record.printed import needs_poppler, pages_of, poppler, text_of

RED, BLUE = Colour(200, 30, 30), Colour(30, 60, 200)


def page(*marks):
    return InkPage(200.0, 100.0, marks)


def pixels(data):
    """The first page as poppler paints it, one pixel to a point: rows x columns x 3."""
    image = poppler("pdftoppm", data, "-r", "72", "-aa", "no", "-aaVector", "no")
    width, height = map(int, re.match(rb"P6\s(\d+) (\d+)\s255\s", image).groups())
    return np.frombuffer(image[-width * height * 3 :], np.uint8).reshape(height, width, 3)


@needs_poppler
def test_text_of_a_pdf_can_be_searched_and_its_title_may_hold_any_letters():
    data = pdf_of(
        "Żółw 羊", [page(Letters(10, 20, "Tie-up (a\\b) × 3 – é", 9)), page(Letters(10, 60, "turned", 9, turned=True))]
    )
    assert "Tie-up (a\\b) × 3 – é" in text_of(data)
    assert "turned" in text_of(data)
    assert pages_of(data) == 2
    assert "Żółw 羊" in poppler("pdfinfo", data).decode()


@needs_poppler
def test_boxes_and_rules_lie_where_they_were_put():
    shown = pixels(pdf_of("", [page(Boxes(((20, 10, 30, 40),), RED), Rules(((0, 80, 200, 80),), 4.0, BLUE))]))
    assert shown.shape == (100, 200, 3)
    assert (shown[12:48, 22:48] == RED).all()
    assert (shown[:, 52:][:70] == 255).all()
    assert (shown[:8] == 255).all()
    assert (shown[79:81] == BLUE).all()


@needs_poppler
@pytest.mark.parametrize("bold", [False, True])
def test_letters_are_as_wide_as_poppler_has_them(bold):
    """The widths of the standard fonts, from poppler's own table of them."""
    for letters in (string.ascii_letters, string.digits + string.punctuation, "éÜß×–½øØíæ“’…°"):
        data = pdf_of("", [InkPage(900, 100, (Letters(40, 50, letters, 10, bold),))])
        boxes = poppler("pdftotext", data, "-bbox").decode()
        left, right = re.search(r'xMin="([\d.]+)" yMin="[\d.]+" xMax="([\d.]+)"', boxes).groups()
        assert float(right) - float(left) == pytest.approx(text_width(letters, 10, bold), abs=0.01)


def test_letters_without_a_shape_in_the_pdf_are_told():
    assert letters_missing([page(Letters(0, 0, "žół é ×", 9), Letters(0, 9, "羊ł", 9))]) == "ł羊"
    # ž and ó are in code page 1252 (from memory).


def test_a_page_of_html_is_well_formed_and_shows_all_letters():
    html = html_of('<"羊">', [page(Letters(5, 5, "<b> & ł", 9, anchor=Anchor.END), Boxes(((1, 2, 3, 4),), RED, 0.5))])
    assert "<title>&lt;&quot;羊&quot;&gt;</title>" in html
    svg = ElementTree.fromstring(re.search(r"<svg.*</svg>", html, re.DOTALL)[0])
    assert svg.get("viewBox") == "0 0 200 100"
    assert svg.find("text").text == "<b> & ł"
    assert "script" not in html


def test_lines_break_at_blanks_and_a_long_word_is_cut():
    lines = list(wrapped("one two three " + "x" * 40, 10, 60.0))
    assert lines[0] == "one two"
    assert all(text_width(line, 10) <= 60 for line in lines)
    assert "".join(lines).replace(" ", "") == "onetwothree" + "x" * 40
    # A first line without room stays empty, so that a label can stand there.
    assert list(wrapped("onetwothree", 10, 60.0, first_indent=50.0)) == ["", "onetwothree"]


def test_a_word_as_long_as_a_page_of_notes_is_cut_and_no_letter_of_it_lost():
    # Cut by trying every length it took minutes: a slip of copy and paste looked like a program that hangs.
    word = "wim" * 5_000
    lines = list(wrapped(word, 10, 60.0))
    assert "".join(lines) == word
    assert all(text_width(line, 10) <= 60 < text_width(line + word[0], 10) for line in lines[:1])
    assert text_width(fitted(word, 10, 60), 10) <= 60


def test_what_does_not_fit_ends_in_dots():
    assert fitted("short", 10, 100) == "short"
    long = fitted("a very long title indeed", 10, 60)
    assert long.endswith("...")
    assert text_width(long, 10) <= 60
