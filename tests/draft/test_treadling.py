"""The treadling read section by section, and where each pick lies."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.masks import shed_of, treadle_set
from companion.draft.model import Section
from companion.draft.reading import read_draft
from companion.draft.repeats import Repeat, RepeatStep, SymbolRun
from companion.draft.throws import Throw, throws_of
from companion.draft.treadling import PlaceInReading, read_treadling
from tests.draft.drafts import draft_of
from tests.oracles.chanting_with_tabby import cheapest_with_tabby
from tests.oracles.reading_expanded import expand

EIGHT = list(range(1, 9))


def only_stretch(section):
    (stretch,) = section.stretches
    return stretch.reading


def written_out(section):
    """The throws that a section's reading says, its tabby by turns over the section."""
    turn = 0
    for stretch in section.stretches:
        for symbol in expand(stretch.reading.part):
            yield stretch.reading.items[symbol]
            if stretch.with_tabby:
                yield section.tabby[turn % 2]
                turn += 1


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
    hem_part, body_part, border_part = (only_stretch(one).part for one in (hem, body, border))
    assert hem_part == Repeat(SymbolRun((0, 1)), 2)
    assert body_part == SymbolRun((0, 1, 2, 3, 4, 5))
    assert border_part == Repeat(SymbolRun(tuple(range(8))), 12)
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
    woven = [throw for one in reading.sections for throw in written_out(one)]
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
    assert tuple(written_out(section)) == throws_of(draft)
    for pick in range(draft.picks):
        for step in reading.place(pick).steps:
            assert 0 <= step.pick < step.picks <= draft.picks


def test_the_pattern_is_read_without_the_tabby_between_its_picks():
    reading = read_treadling(with_tabby([1, 1, 2] * 5))
    (section,) = reading.sections
    assert only_stretch(section).part == Repeat(SymbolRun((0, 0, 1)), 5)
    (step,) = reading.place(2 * 7 + 1).steps
    assert (step.repeat, step.times, step.pick, step.picks) == (2, 5, 3, 6)


def test_tabby_over_part_of_a_section_is_found_and_costs_30_instead_of_38():
    draft = read_draft(
        b"threading: 1-4\nyarn: linen\nyarn: wool red\ntabby: linen 5 6\ntie-up: 1 2, 2 3, 3 4, 1 4, 1 3, 2 4\n"
        b"treadling: linen (5 6)x4 (wool (1 1 2 2 3 4 1 3)) with tabby"
    )
    (section,) = read_treadling(draft).sections
    assert [(stretch.picks, stretch.with_tabby) for stretch in section.stretches] == [(8, False), (16, True)]
    assert section.cost == (2 * 2 + 3) + 2 * 2 + 3 + 8 * 2
    assert tuple(written_out(section)) == throws_of(draft)
    assert not section.exact
    assert [section.steps(pick) for pick in (5, 8, 23)] == [(RepeatStep(2, 4, 1, 2),), (), ()]
    with pytest.raises(IndexError):
        section.steps(24)


@settings(max_examples=250, deadline=None)
@given(st.text("abAB", min_size=1, max_size=10) | st.text("aAB", min_size=1, max_size=11), st.booleans())
def test_a_reading_is_called_exact_only_where_the_shorthand_has_no_cheaper_one(word, one_shuttle):
    """Every way to say it with repeats, turns and tabby, the pattern's shuttle apart or the tabby's own."""
    treadles = {"a": 1, "b": 2, "A": 3, "B": 4}
    draft = draft_of(
        threading=[1, 2, 3, 4],
        tieup=[[1], [2], [1, 3], [2, 4]],
        treadling=[treadles[letter] for letter in word],
        weft=[1 if one_shuttle or letter in "AB" else 2 for letter in word],
    )
    (section,) = read_treadling(draft).sections
    least = cheapest_with_tabby(word)
    assert section.cost >= least
    assert tuple(written_out(section)) == throws_of(draft)
    if section.exact:
        assert section.cost == least


def test_two_sheds_that_are_no_plain_weave_are_no_tabby():
    reading = read_treadling(with_tabby([1, 1, 2] * 5, tabby=(2, 3)))
    assert reading.sections[0].tabby is None
