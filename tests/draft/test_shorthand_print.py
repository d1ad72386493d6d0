"""Shorthand printed and parsed again is the same draft, and it reads as a weaver would write it."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings

from companion.draft.model import Colour, ForeignSection, Section, Yarn
from companion.draft.shorthand import parse_shorthand
from companion.draft.shorthand_print import WIDTH, print_shorthand
from tests.draft.drafts import draft_of
from tests.draft.random_drafts import drafts, words


def with_names_told_apart(draft):
    return replace(draft, yarns=tuple(replace(yarn, name=f"{yarn.name}{n}") for n, yarn in enumerate(draft.yarns)))


@given(drafts())
def test_parsing_what_was_printed_gives_the_same_draft_but_for_foreign_sections(draft):
    draft = with_names_told_apart(draft)
    assert parse_shorthand(print_shorthand(draft)) == replace(draft, foreign=())


@given(drafts(texts=words))
@settings(max_examples=40)
def test_what_is_printed_is_normal_printing_it_again_changes_nothing(draft):
    once = print_shorthand(draft)
    assert print_shorthand(parse_shorthand(once)) == once


def test_a_treadling_is_printed_as_a_weaver_would_chant_it():
    draft = draft_of(
        threading=[1, 2, 3, 4] * 10,
        tieup=[[1, 2], [2, 3], [3, 4], [1, 4]],
        treadling=[1, 2, 3, 4] * 12 + [1, 2] * 4,
        weft=[2] * 48 + [1, 2] * 4,
        sections=(Section("Body", 48, 40.0), Section("until 3 cm", 8)),
    )
    assert print_shorthand(draft) == (
        "shafts: 4\n"
        "yarn: white #ffffff\n"
        "yarn: indigo #26326e\n"
        "threading: (1-4)x10\n"
        "tie-up: 1 2, 2 3, 3 4, 1 4\n"
        "treadling:\n"
        "section: Body until 40.0 cm\n"
        "  indigo (1-4)x12\n"
        'section: "until 3 cm"\n'
        "  white/indigo (1 2)x4\n"
    )


def test_yarns_of_one_name_are_told_apart():
    draft = draft_of(threading=[1], tieup=[[1]], treadling=[1], yarns=(Yarn("a", Colour(0, 0, 0)),) * 3)
    assert [yarn.name for yarn in parse_shorthand(print_shorthand(draft)).yarns] == ["a", "a 2", "a 3"]


def test_lines_stay_short_and_foreign_sections_are_left_out():
    scattered = [pick * pick % 97 % 4 + 1 for pick in range(200)]
    draft = draft_of(
        threading=scattered,
        tieup=[[1], [2], [3], [4]],
        treadling=scattered,
        foreign=(ForeignSection("PRIVATE X", ("1=1",)),),
    )
    text = print_shorthand(draft)
    assert max(map(len, text.splitlines())) <= WIDTH
    assert "PRIVATE" not in text
    assert parse_shorthand(text) == replace(draft, foreign=())
