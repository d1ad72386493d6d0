"""The page that teaches shorthand tells the truth: its examples are read as it says, and it leaves no word out."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from companion.draft.masks import treadles_of
from companion.draft.model import MOST_THREADS
from companion.draft.shorthand import WORDS, parse_shorthand
from companion.draft.shorthand_sequences import MOST_DEPTH

PAGE = (Path(__file__).resolve().parents[2] / "assets" / "help" / "shorthand.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"^\| `([0-9(pr][^`]*)` \| ([0-9 ]+) \|$", PAGE, re.MULTILINE)


def test_the_example_is_a_draft_with_two_sections():
    block = re.search(r"(?:^    .*\n)+", PAGE, re.MULTILINE)[0]
    draft = parse_shorthand(re.sub("^    ", "", block, flags=re.MULTILINE))
    assert [(section.name, section.picks, section.until_cm) for section in draft.sections] == [
        ("Border", 96, None),
        ("Field", 108, 40.0),
    ]


def test_there_are_examples_to_try():
    assert len(EXAMPLES) >= 5


@pytest.mark.parametrize(("written", "means"), EXAMPLES)
def test_each_example_means_what_the_page_says(written, means):
    draft = parse_shorthand(f"threading: 1-4\ntie-up: 1, 2, 3, 4\ntreadling: {written}")
    assert [treadles_of(pick) for pick in draft.lifting.treadling] == [(int(number),) for number in means.split()]


@pytest.mark.parametrize("word", WORDS)
def test_every_word_is_on_the_page(word):
    assert f"`{word}`" in PAGE


def test_the_bounds_are_those_of_the_reader():
    assert f"{MOST_THREADS:,} ends" in PAGE
    assert f"at most {MOST_DEPTH} deep" in PAGE
