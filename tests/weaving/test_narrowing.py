"""Which question comes next: what saves most for what it costs, and never a row that cannot be counted."""

from __future__ import annotations

import numpy as np
import pytest

from companion.draft.model import Section
from companion.weaving.narrowing import COSTS, clues_of, easiest_question
from companion.weaving.pick_table import pick_table
from companion.weaving.questions import Ask
from tests.weaving.world import TWILL, lever_draft, lever_warp


def asked_of(weft, sections=(), sheds=TWILL, among=None, unsure=()):
    piece = lever_warp(lever_draft(weft, sections, sheds)).pieces[0]
    table = pick_table(piece)
    clues = clues_of(piece, table)
    found = np.arange(table.places) if among is None else np.array(among)
    return easiest_question(table, clues, found, unsure=unsure), clues


def test_repeats_are_counted_within_each_section():
    _, clues = asked_of([0] * 4 + [1] * 12, [Section("hem", 4), Section("body", 12)])
    assert clues.section.tolist() == [0] * 4 + [1] * 12
    # Four sheds in turn: a repeat of the twill is four picks.
    assert clues.repeat.tolist() == [0] * 4 + [0] * 4 + [1] * 4 + [2] * 4


def test_what_does_not_repeat_is_one_repeat():
    _, clues = asked_of([0, 1, 1, 0, 2, 0, 1])
    assert set(clues.repeat.tolist()) == {0}


@pytest.mark.parametrize(("weft", "ask"), [([0, 1] * 2, Ask.WEFT), ([0] * 6, Ask.SINCE_CHANGE), ([0] * 40, Ask.REPEAT)])
def test_a_colour_is_asked_for_first_then_few_picks_are_counted_and_many_in_repeats(weft, ask):
    question, _ = asked_of(weft)
    assert (question.ask, question.row) == (ask, 0)


def test_the_section_is_asked_for_where_it_tells_most_and_the_repeat_only_within_one():
    sections = [Section("hem", 8), Section("body", 8), Section("end", 8)]
    question, clues = asked_of([0, 1] * 12, sections)
    assert question.ask is Ask.SECTION
    within = np.flatnonzero(clues.section == 1)
    alike = [pick for pick in within.tolist() if pick % 4 == 0]
    question, _ = asked_of([0, 1] * 12, sections, among=alike)
    assert question.ask is Ask.REPEAT
    assert COSTS[Ask.REPEAT] > COSTS[Ask.SECTION]


def test_no_row_is_asked_for_that_cannot_be_counted_at_the_floats_of_the_draft():
    long_floats = tuple(shed for shed in TWILL[:2] for _ in range(10))
    unsure, rows = set(), set()
    while (found := asked_of([0, 0, 0, 1] * 10, sheds=long_floats, unsure=unsure)[0]) is not None:
        rows.add(found.row)
        unsure.add(found.about)
    assert asked_of([0, 0, 0, 1] * 10, sheds=long_floats)[1].countable == 1
    assert rows == {0}


def test_what_the_weaver_was_not_sure_of_is_not_asked_again():
    first, _ = asked_of([0, 1] * 6)
    second, _ = asked_of([0, 1] * 6, unsure={first.about})
    assert second.about != first.about
