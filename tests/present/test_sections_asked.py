"""The sections of a draft by touch: one fact at a touch, in the weaver's units, and undone on the desk as one edit."""

from __future__ import annotations

import pytest

from companion.draft.model import LaidIn, Section
from companion.draft.units import Units
from companion.present.asking import AskedToWrite
from companion.present.sections_asked import SectionsTold, ask_section, ask_sections
from tests.weaving.world import lever_draft

DRAFT = lever_draft([0, 1, 0, 1], [Section("Hem", 2), Section("Mat", 2)])


def follow(asked, *words):
    for word in words:
        (answer,) = (answer for answer in (*asked.answers, *asked.pad, *asked.foot) if answer.words == word)
        asked = answer.leads_to()
    return asked


def rows(asked):
    return {answer.words: answer.detail for answer in asked.answers}


@pytest.mark.parametrize(("units", "typed", "each"), [(Units.INCH, "14", 35.56), (Units.METRIC, "35.5", 35.5)])
def test_a_weft_is_laid_in_in_one_section_only_and_its_length_asked_at_once(units, typed, each):
    told = follow(ask_sections(SectionsTold(DRAFT, units)), "Mat", "sea", *typed, "Done")
    assert rows(told)["sea"] == f"{typed} {'in' if units is Units.INCH else 'cm'} each"
    listed = follow(told, "Done")
    assert rows(listed) == {"Hem": "2 picks", "Mat": "2 picks; sea laid in"}
    draft = follow(listed, "Done").result
    assert [section.laid_in for section in draft.sections] == [(), (LaidIn(1, pytest.approx(each)),)]
    assert (
        follow(ask_section(SectionsTold(draft, units), 1), "sea", "Thrown by a shuttle", "Done", "Done").result == DRAFT
    )


def test_a_section_is_woven_until_a_length_and_once_again():
    told = follow(ask_section(SectionsTold(DRAFT, Units.INCH), 1), "Woven", *"12", "Done")
    assert rows(told)["Woven"] == "2 picks until 12 in"
    assert follow(told, "Done", "Done").result.sections[1].until_cm == 30.48
    assert follow(told, "Woven", "Once, as drafted", "Done", "Done").result == DRAFT


def test_a_section_gets_another_name_in_the_weavers_own_words():
    asked = follow(ask_section(SectionsTold(DRAFT, Units.METRIC), 0), "Another name")
    assert isinstance(asked, AskedToWrite)
    assert asked.written == "Hem"
    named = asked.leads_to("First hem")
    assert named.words == "First hem"
    assert "First hem" in named.own
    assert follow(named, "Done", "Done").result.sections[0] == Section("First hem", 2)
