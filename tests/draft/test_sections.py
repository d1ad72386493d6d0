"""Sections set apart and changed: the picks stay what they are, and so does what is laid in."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.errors import DraftError
from companion.draft.laying_in import laid_in_at
from companion.draft.model import LaidIn, Section
from companion.draft.sections import ALL_OF_IT, laid_in_as, sections_of, set_apart, wefts_of, with_section
from tests.weaving.world import lever_draft

SEA = LaidIn(1, 30.0)


def test_a_draft_without_sections_is_one_of_all_its_picks():
    draft = lever_draft([0, 1, 0])
    assert sections_of(replace(draft, title="Mat")) == (Section("Mat", 3),)
    assert sections_of(replace(draft, title="")) == (Section(ALL_OF_IT, 3),)


def test_a_stretch_set_apart_leaves_what_is_before_and_behind_it():
    draft = lever_draft([0] * 8, [Section("Hem", 2), Section("Body", 6)])
    apart, index = set_apart(draft, 4, 6)
    assert index == 2
    assert [(one.name, one.picks) for one in apart.sections] == [
        ("Hem", 2),
        ("Body", 2),
        ("Section 3", 2),
        ("Body", 2),
    ]
    assert set_apart(draft, 0, 2) == (draft, 0)


@given(st.lists(st.integers(0, 2), min_size=1, max_size=9), st.data())
def test_setting_apart_changes_no_pick_and_nothing_that_is_laid_in(weft, data):
    laid_in = tuple(LaidIn(yarn, 20.0 + yarn) for yarn in sorted(data.draw(st.sets(st.sampled_from(weft)))))
    draft = lever_draft(
        [0, *weft, 0], [Section("hem", 1), Section("mat", len(weft), laid_in=laid_in), Section("end", 1)]
    )
    first = data.draw(st.integers(1, len(weft)))
    last = data.draw(st.integers(first + 1, len(weft) + 1))
    apart, index = set_apart(draft, first, last)
    assert replace(apart, sections=draft.sections) == draft
    assert laid_in_at(apart) == laid_in_at(draft)
    assert sum(section.picks for section in apart.sections[:index]) == first
    assert apart.sections[index].picks == last - first
    assert set(wefts_of(apart, index)) == set(draft.weft[first:last])


@pytest.mark.parametrize(
    ("stretch", "line"),
    [
        ((1, 3), "picks 2 to 3 are not of one section; mark some of one"),
        ((2, 3), "section 'Body' is woven to a length, so its picks stay together; weave it once, then part it"),
        ((6, 7), "there is no pick 7; there are 6"),
    ],
)
def test_what_cannot_be_set_apart_is_told(stretch, line):
    draft = lever_draft([0] * 6, [Section("Hem", 2), Section("Body", 4, until_cm=30.0)])
    with pytest.raises(DraftError) as refused:
        set_apart(draft, *stretch)
    assert line in str(refused.value)


def test_a_weft_is_laid_in_in_one_section_and_thrown_again():
    draft = lever_draft([0, 1, 0, 1], [Section("A", 2), Section("B", 2)])
    laid = with_section(draft, 1, laid_in_as(draft.sections[1], 1, SEA))
    assert [section.laid_in for section in laid.sections] == [(), (SEA,)]
    assert list(laid_in_at(laid)) == [3]
    assert with_section(laid, 1, laid_in_as(laid.sections[1], 1, None)) == draft
