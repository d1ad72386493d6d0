"""Modules say where their lemmas are proved: each such word points to a section of the page that is there."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PAGE = ROOT / "assets" / "mathematics.md"
MENTION = re.compile(r'assets/mathematics\.md(?:#(?P<anchor>[\w-]+)|,\s+"(?P<title>[^"]+)")?')


def anchor_of(title: str) -> str:
    """The anchor that a heading gets where pages are shown: small letters, dashes for blanks, no other signs."""
    return re.sub(r"[^\w -]", "", title.lower()).replace(" ", "-")


def sections(page: str) -> list[str]:
    return re.findall(r"^##+ (.+)$", page, re.MULTILINE)


def mentions(text: str) -> Iterator[str]:
    """Yield the anchor of every mention of the page, empty where it names no section."""
    for found in MENTION.finditer(text):
        yield found["anchor"] or anchor_of(re.sub(r"\s+", " ", found["title"] or ""))


def test_every_link_to_the_page_names_a_section_that_is_there():
    there = {anchor_of(title) for title in sections(PAGE.read_text(encoding="utf-8"))}
    linked = [
        (path.relative_to(ROOT).as_posix(), anchor)
        for path in sorted((ROOT / "companion").rglob("*.py"))
        for anchor in mentions(path.read_text(encoding="utf-8"))
    ]
    assert len(linked) > 10, "no module says where its lemmas are proved, or not in a way that is read here"
    assert [(path, anchor) for path, anchor in linked if anchor not in there] == []


def test_every_module_that_searches_says_where_on_the_page_its_reasons_stand():
    remap = ROOT / "companion" / "remap"
    modules = [path for room in ("search", "feet", "stages") for path in sorted((remap / room).glob("[!_]*.py"))]
    silent = [
        path.relative_to(ROOT).as_posix()
        for path in modules
        if not any(mentions(ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""))
    ]
    assert modules
    assert silent == []


def test_lemmas_are_numbered_once_and_those_referred_to_are_there():
    page = PAGE.read_text(encoding="utf-8")
    stated = [int(number) for number in re.findall(r"\*\*Lemma (\d+)", page)]
    # A lemma that is gone leaves its number behind, so that the others keep theirs.
    assert stated
    assert sorted(set(stated)) == sorted(stated)
    referred = " ".join(re.findall(r"Lemmas? ([\d, andto]*\d)", page))
    assert {int(number) for number in re.findall(r"\d+", referred)} <= set(stated)


def test_no_two_sections_share_an_anchor():
    anchors = [anchor_of(title) for title in sections(PAGE.read_text(encoding="utf-8"))]
    assert sorted(set(anchors)) == sorted(anchors)


def test_links_within_the_page_lead_to_its_sections():
    page = PAGE.read_text(encoding="utf-8")
    anchors = {anchor_of(title) for title in sections(page)}
    within = re.findall(r"\]\(#([^)]+)\)", page)
    assert within, "the page has no list of its sections"
    assert set(within) <= anchors


def test_a_mention_is_read_in_both_ways_of_writing_and_across_lines():
    page = "assets/mathematics.md"
    text = f'{page}#from-below-pairs; {page},\n    "Standing alone, and groups"; {page}'
    assert list(mentions(text)) == ["from-below-pairs", "standing-alone-and-groups", ""]
