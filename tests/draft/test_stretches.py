"""Stretches of ends or of picks, against plain lists that are cut and put together anew."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft import stretches
from companion.draft.floats import Threads
from companion.draft.masks import NO_TREADLE
from companion.draft.model import Lifted
from companion.draft.stretches import Stretch, between
from tests.draft.random_drafts import drafts, words


def threads_of(draft, threads):
    """All that belongs to each thread of one direction, as a plain list."""
    if threads is Threads.WARP:
        each, layout = list(zip(draft.threading, draft.warp, strict=True)), draft.warp_layout
    else:
        moved = draft.lifting.plan if isinstance(draft.lifting, Lifted) else draft.lifting.treadling
        each, layout = list(zip(moved, draft.weft, strict=True)), draft.weft_layout
    nothing = [None] * len(each)
    spacing, thickness = (list(sizes) or nothing for sizes in (layout.spacing_cm, layout.thickness_cm))
    return list(zip(each, spacing, thickness, strict=True))


def section_of_each_pick(draft):
    return [index for index, section in enumerate(draft.sections) for _ in range(section.picks)]


@st.composite
def marked(draw):
    draft = draw(drafts(most_threads=7, texts=words))
    threads = draw(st.sampled_from(Threads))
    number = stretches.number_of(threads, draft)
    if not number:
        return draft, None
    one, other = draw(st.integers(0, number - 1)), draw(st.integers(0, number - 1))
    return draft, between(threads, one, other)


@settings(max_examples=60)
@given(marked(), st.integers(1, 4), st.data())
def test_every_deed_with_a_stretch_does_to_the_threads_what_it_does_to_a_list(drawn, times, data):
    draft, stretch = drawn
    if stretch is None:
        return
    way, first, last = stretch.threads, stretch.first, stretch.last
    before = threads_of(draft, way)
    part, after = before[first:last], before[last:]
    place = data.draw(st.integers(0, len(before)))
    assert threads_of(stretches.repeated(draft, stretch, times), way) == before[:first] + part * times + after
    assert threads_of(stretches.turned(draft, stretch), way) == before[:first] + part[::-1] + after
    assert threads_of(stretches.taken_out(draft, stretch), way) == before[:first] + after
    assert threads_of(stretches.copied(draft, stretch, place), way) == before[:place] + part + before[place:]
    yarn = data.draw(st.integers(0, len(draft.yarns) - 1))
    painted = [((moved, yarn), spacing, thickness) for (moved, _yarn), spacing, thickness in part]
    assert threads_of(stretches.of_yarn(draft, stretch, yarn), way) == before[:first] + painted + after
    other_way = Threads.WEFT if way is Threads.WARP else Threads.WARP
    for changed in (stretches.repeated(draft, stretch, times), stretches.turned(draft, stretch)):
        assert threads_of(changed, other_way) == threads_of(draft, other_way)


@settings(max_examples=60)
@given(marked(), st.integers(1, 3))
def test_every_pick_that_stays_keeps_its_section(drawn, times):
    draft, stretch = drawn
    if stretch is None or stretch.threads is Threads.WARP or not draft.sections:
        return
    names = [draft.sections[index] for index in section_of_each_pick(draft)]
    first, last = stretch.first, stretch.last

    def sections_after(changed):
        return [changed.sections[index].name for index in section_of_each_pick(changed)]

    last_name = names[last - 1].name
    longer = [one.name for one in names[:last]] + [last_name] * (times - 1) * stretch.number
    assert sections_after(stretches.repeated(draft, stretch, times)) == longer + [one.name for one in names[last:]]
    assert sections_after(stretches.taken_out(draft, stretch)) == [one.name for one in names[:first] + names[last:]]
    assert sections_after(stretches.copied(draft, stretch, first)) == (
        [one.name for one in names[:first]] + [names[first].name] * stretch.number + [one.name for one in names[first:]]
    )
    for at in (first, first + 1):
        empty = stretches.with_empty(draft, Threads.WEFT, at, like=first)
        assert sections_after(empty) == [one.name for one in names[: first + 1] + names[first:]]


@settings(max_examples=60)
@given(marked())
def test_an_empty_thread_moves_no_shaft_and_is_of_the_yarn_it_is_put_beside(drawn):
    draft, stretch = drawn
    if stretch is None:
        return
    way, first = stretch.threads, stretch.first
    for at in (first, first + 1):
        changed = threads_of(stretches.with_empty(draft, way, at, like=first), way)
        (moved, yarn), _spacing, _thickness = changed.pop(at)
        assert moved == (None if way is Threads.WARP else NO_TREADLE)
        assert yarn == threads_of(draft, way)[first][0][1]
        assert changed == threads_of(draft, way)


@pytest.mark.parametrize(("one", "other"), [(4, 7), (7, 4)])
def test_a_stretch_runs_between_two_threads_whichever_is_named_first(one, other):
    assert between(Threads.WEFT, one, other) == Stretch(Threads.WEFT, 4, 8)
    assert between(Threads.WEFT, one, other).number == 4
