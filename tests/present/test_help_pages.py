"""The help of every page: each thing on it is told of, and nothing is told of that is not there."""

from __future__ import annotations

import re
from functools import cache

import pytest

from companion.present.help_pages import EVERY_PAGE, help_page, italics_in, line_for, read_sections
from companion.present.preferences import Preferences
from companion.present.press_words import following
from companion.workshop.help_files import help_sections
from companion.workshop.places import asset
from drivers.events import Press
from drivers.keys import USUAL_KEYS, key_names
from tests.present.every_page import every_page

DIGITS = set("0123456789.")


@pytest.fixture(scope="module")
def met():
    return list(every_page())


@cache
def told(topics, thing):
    sections = help_sections()
    return line_for(thing, [*(sections[topic] for topic in topics), sections[EVERY_PAGE]])


def test_every_page_has_its_help_and_every_thing_on_it_is_told_of(met):
    untold = {}
    for page in met:
        assert page.topics, page.words
        for thing in page.things:
            if not DIGITS.issuperset(thing) and told(page.topics, thing) is None:
                untold.setdefault((page.topics[0], page.words), set()).add(thing)
    assert not untold, "\n".join(f"{page}: {sorted(things)}" for page, things in untold.items())


def test_nothing_is_told_of_that_is_on_no_page(met):
    used = set()
    for page in met:
        for thing in (*page.things, *page.own):
            line = told(page.topics, thing)
            if line is not None:
                used.add((id(line), line.name_of(thing)))
    stale = [
        f"{section.name}: {name}"
        for section in help_sections().values()
        for line in section.lines
        for name in line.names
        if not line.always and (id(line), name) not in used
    ]
    assert not stale, "\n".join(stale)


def test_words_in_italics_are_those_that_follow_a_setting_and_every_such_word_is_used():
    used = {word for section in help_sections().values() for word in italics_in(section)}
    assert used == set(following(Preferences(), ("space",), ("up",)))


def test_the_page_on_pedals_names_the_keys_that_the_drivers_hear_and_no_other():
    page = " ".join(asset("help/pedals.md").read_text(encoding="utf-8").split())
    said = re.search(r"([^.;]+) mean next; ([^(]+) and escape \(", page)
    assert said is not None
    for words, press in zip(said.groups(), (Press.ADVANCE, Press.BACK), strict=True):
        named = re.split(r", | and ", words.strip().lower())
        assert tuple(named) == key_names(USUAL_KEYS, press)


def test_a_taught_key_is_named_by_what_is_printed_on_it():
    meanings = {97: Press.ADVANCE, 281: Press.ADVANCE, 1073741824: Press.ADVANCE, 8: Press.BACK}
    assert key_names(meanings, Press.ADVANCE) == ("A", "page down", "the key 1073741824")


PAGE = """# Weaving

Long words that are no help of a page.

## On the screen: Loom

What it is
for.

- **Turn**, **Turn …**: the other side; so do *next*.
- **the cloth**: what was woven.
- **Turn it all**: everything.

## Something else

- no line of help
"""
COMMON = "## On the screen: every page\n\nAnywhere.\n\n- **Back**: one step *left*.\n"


def test_a_section_is_read_with_its_lines_and_ends_where_the_next_heading_begins():
    (section,) = read_sections(PAGE)
    assert (section.name, section.about) == ("Loom", "What it is for.")
    assert [line.names for line in section.lines] == [("Turn", "Turn …"), ("the cloth",), ("Turn it all",)]
    assert [line.always for line in section.lines] == [False, True, False]


def test_the_page_shows_what_is_there_by_its_very_words_first_and_what_has_no_words_always():
    sections = {one.name: one for one in (*read_sections(PAGE), *read_sections(COMMON))}
    put = {"next": "space", "left": "right"}
    shown = help_page(sections, ("Loom",), ("Turn it all", "Back", "Turn", "unknown"), put)
    assert shown.rows == (
        ("The cloth", "What was woven."),
        ("Turn", "The other side; so do space."),
        ("Turn it all", "Everything."),
        ("Back", "One step right."),
    )
    assert help_page(sections, ("Loom",), ("Turn 3",), put).rows[1][0] == "Turn …"


@pytest.mark.parametrize("line", ["- Turn: no name", "- **Turn** the other side", "- **Turn**:"])
def test_a_line_that_names_no_thing_is_refused_with_its_page(line):
    with pytest.raises(ValueError, match=r"On the screen: Loom.*names no thing"):
        read_sections(f"## On the screen: Loom\n\nWords.\n\n{line}\n")
