"""The treadling read section by section, and where each pick lies."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.masks import shed_of, treadle_set
from companion.draft.model import Section
from companion.draft.repeats import Repeat, RepeatStep, SymbolRun
from companion.draft.throws import Throw, throws_of
from companion.draft.treadling import PlaceInReading, read_treadling
from tests.draft.drafts import draft_of
from tests.oracles.reading_expanded import expand

EIGHT = list(range(1, 9))


def three_sections():
    """A hem of 4 picks, a body of 6 picks, and 12 repeats of 8 treadles."""
    return draft_of(
        threading=EIGHT,
        tieup=[[shaft] for shaft in EIGHT],
        treadling=[1, 2, 1, 2] + [1, 2, 3, 4, 5, 6] + EIGHT * 12,
        sections=(Section("hem", 4), Section("body", 6), Section("border", 96)),
    )


def test_each_section_is_read_by_itself():
    """Read as one, the last two picks of the hem would join the body."""
    hem, body, border = read_treadling(three_sections()).sections
    assert hem.reading.part == Repeat(SymbolRun((0, 1)), 2)
    assert body.reading.part == SymbolRun((0, 1, 2, 3, 4, 5))
    assert border.reading.part == Repeat(SymbolRun(tuple(range(8))), 12)
    assert [one.section.name for one in (hem, body, border)] == ["hem", "body", "border"]


def test_section_3_repeat_4_of_12_pick_5_of_8():
    place = read_treadling(three_sections()).place(10 + 3 * 8 + 4)
    assert place == PlaceInReading(section=2, pick=28, steps=(RepeatStep(repeat=3, times=12, pick=4, picks=8),))


def test_a_draft_without_sections_is_one():
    reading = read_treadling(draft_of(threading=[1, 2], plan=[[1], [2]] * 4))
    assert [one.section for one in reading.sections] == [Section("", 8)]
    assert reading.place(7).steps == (RepeatStep(3, 4, 1, 2),)


def test_a_pick_differs_by_its_treadles_and_by_its_shuttle():
    draft = draft_of(threading=[1, 2], tieup=[[1], [2]], treadling=[1, 2, [1, 2]], weft=[1, 2, 1])
    assert throws_of(draft) == (
        Throw(treadle_set([1]), 0),
        Throw(treadle_set([2]), 1),
        Throw(treadle_set([1, 2]), 0),
    )
    lifted = draft_of(threading=[1, 2], plan=[[2], []], weft=[2, 1])
    assert throws_of(lifted) == (Throw(shed_of([2]), 1), Throw(shed_of([]), 0))


@pytest.mark.parametrize("pick", [-1, 106])
def test_there_is_no_place_beyond_the_picks(pick):
    with pytest.raises(IndexError):
        read_treadling(three_sections()).place(pick)


@settings(max_examples=50, deadline=None)
@given(st.lists(st.lists(st.integers(1, 3), min_size=1, max_size=12), max_size=4))
def test_the_sections_expand_to_the_treadling_and_every_place_counts_up(parts):
    draft = draft_of(
        threading=[1, 2, 3],
        tieup=[[1], [2], [3]],
        treadling=[treadle for part in parts for treadle in part],
        sections=tuple(Section(f"part {number}", len(part)) for number, part in enumerate(parts)),
    )
    reading = read_treadling(draft)
    woven = [one.reading.items[symbol] for one in reading.sections for symbol in expand(one.reading.part)]
    assert tuple(woven) == throws_of(draft)
    places = [reading.place(pick) for pick in range(draft.picks)]
    assert [(place.section, place.pick) for place in places] == [
        (section, pick) for section, part in enumerate(parts) for pick in range(len(part))
    ]


TABBY = {"tieup": [[1, 2], [2, 3], [1, 3], [2, 4]], "threading": [1, 2, 3, 4]}


def with_tabby(pattern, tabby=(3, 4)):
    """Pattern picks with the second yarn, each followed by the tabby treadles in turn with the first."""
    treadling, weft = [], []
    for number, treadle in enumerate(pattern):
        treadling += [treadle, tabby[number % 2]]
        weft += [2, 1]
    return draft_of(**TABBY, treadling=treadling, weft=weft)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(1, 2), min_size=1, max_size=24))
def test_pattern_and_tabby_together_are_the_very_picks_and_every_place_counts_them_all(pattern):
    draft = with_tabby(pattern)
    reading = read_treadling(draft)
    (section,) = reading.sections
    alone = [section.reading.items[symbol] for symbol in expand(section.reading.part)]
    if section.tabby is None:
        assert tuple(alone) == throws_of(draft)
    else:
        both = [throw for number, one in enumerate(alone) for throw in (one, section.tabby[number % 2])]
        assert tuple(both) == throws_of(draft)
    for pick in range(draft.picks):
        for step in reading.place(pick).steps:
            assert 0 <= step.pick < step.picks <= draft.picks


def test_the_pattern_is_read_without_the_tabby_between_its_picks():
    reading = read_treadling(with_tabby([1, 1, 2] * 5))
    (section,) = reading.sections
    assert section.reading.part == Repeat(SymbolRun((0, 0, 1)), 5)
    (step,) = reading.place(2 * 7 + 1).steps
    assert (step.repeat, step.times, step.pick, step.picks) == (2, 5, 3, 6)


def test_two_sheds_that_are_no_plain_weave_are_no_tabby():
    reading = read_treadling(with_tabby([1, 1, 2] * 5, tabby=(2, 3)))
    assert reading.sections[0].tabby is None
