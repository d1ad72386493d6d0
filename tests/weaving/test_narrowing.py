"""Which question comes next: what saves most for what it costs, and never a row that cannot be counted."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from companion.draft.model import Section
from companion.weaving.clues import clues_of
from companion.weaving.narrowing import (
    COSTS,
    MOST_UNSURE,
    SHOWN_AT_ONCE,
    as_seen,
    easiest_question,
    likelihood,
    newest_rows,
    pages,
    within_length,
)
from companion.weaving.pick_table import pick_table
from companion.weaving.questions import Ask
from companion.weaving.runs import NO_CLOTH
from companion.weaving.state import State
from tests.weaving.world import TWILL, lever_draft, lever_warp


def asked_of(weft, sections=(), sheds=TWILL, among=None, unsure=()):
    piece = lever_warp(lever_draft(weft, sections, sheds)).pieces[0]
    table = pick_table(piece)
    clues = clues_of(piece, table)
    found = np.arange(table.places) if among is None else np.array(among)
    return easiest_question(table, clues, found, unsure=unsure, however_few=True), clues


def test_repeats_are_counted_within_each_section():
    _, clues = asked_of([0] * 4 + [1] * 12, [Section("hem", 4), Section("body", 12)])
    assert clues.section.tolist() == [0] * 4 + [1] * 12
    # Four sheds in turn: a repeat of the twill is four picks.
    assert clues.repeat.tolist() == [0] * 4 + [0] * 4 + [1] * 4 + [2] * 4


def test_what_does_not_repeat_is_one_repeat():
    _, clues = asked_of([0, 1, 1, 0, 2, 0, 1])
    assert set(clues.repeat.tolist()) == {0}


@pytest.mark.parametrize(
    ("weft", "sheds", "ask"),
    [([0, 1] * 6, TWILL, Ask.ROW), ([0] * 6, TWILL[:1], Ask.SINCE_CHANGE), ([0] * 40, TWILL[:1], Ask.REPEAT)],
)
def test_the_newest_row_is_pointed_at_first_and_picks_or_repeats_are_counted_where_all_look_alike(weft, sheds, ask):
    question, _ = asked_of(weft, sheds=sheds)
    assert (question.ask, question.row) == (ask, 0)


def test_few_places_are_shown_rather_than_told_apart_and_many_are_not():
    piece = lever_warp(lever_draft([0, 1] * 20)).pieces[0]
    table = pick_table(piece)
    clues = clues_of(piece, table)
    for count in range(2, SHOWN_AT_ONCE + 1):
        assert easiest_question(table, clues, np.arange(count)) is None
        assert easiest_question(table, clues, np.arange(count), however_few=True) is not None
    assert easiest_question(table, clues, np.arange(40)) is not None


def test_pages_are_counted_with_the_likeliest_places_first():
    assert pages(np.full(3, 1 / 3)) == 1
    assert pages(np.full(6, 1 / 6)) == pytest.approx(1.5)
    assert pages(np.array([0.05, 0.05, 0.9, 0.0])) == pytest.approx(1.0)
    assert pages(np.array([0.1, 0.2, 0.3, 0.4])) == pytest.approx(0.9 + 2 * 0.1)


def test_places_are_likelier_the_nearer_the_journal_but_for_those_that_are_told_beside_the_picture():
    piece = lever_warp(lever_draft([0, 1] * 50)).pieces[0]
    cloth = NO_CLOTH
    for pick in range(50):
        cloth = cloth.woven(pick)
    table = pick_table(piece, State(next_pick=50, cloth=cloth))
    likely = likelihood(table, np.arange(100))
    assert likely.sum() == pytest.approx(1)
    away = np.abs(np.arange(100) - 49)
    # The journal has pick 50 newest (index 49): from four picks off on, each pick further is a little less likely.
    assert all(likely[away == near].min() > likely[away == near + 1].max() for near in range(4, 48))
    assert likely[away == 1].max() < likely[away == 1].max() / 0.15
    alone = likelihood(pick_table(piece), np.arange(100))
    assert alone.tolist() == pytest.approx([0.01] * 100)


def test_each_way_that_the_newest_row_may_look_stands_once_the_likeliest_first():
    piece = lever_warp(lever_draft([0, 0, 0, 1] * 3, sheds=TWILL[:1])).pieces[0]
    table = pick_table(piece)
    assert newest_rows(table, np.arange(12)) == (0, 3)
    seen = as_seen(table, 3, frozenset({1}))
    assert (seen.yarns, len(seen.up) + len(seen.down)) == ({1}, piece.draft.ends)


def test_a_length_keeps_what_is_within_the_error_of_a_tape_and_what_nobody_can_reckon():
    piece = lever_warp(lever_draft([0] * 300), picks_per_cm=10.0).pieces[0]
    clues = clues_of(piece, pick_table(piece))
    # 20.5 cm, within 4 % and a centimetre: 18.68 to 22.32 cm, picks 187 to 223.
    assert (np.flatnonzero(within_length(clues, 20.5)) + 1).tolist() == list(range(187, 224))
    loop = [Section("body", 100, until_cm=50.0), Section("end", 200)]
    piece = lever_warp(lever_draft([0] * 300, loop), picks_per_cm=10.0).pieces[0]
    assert within_length(clues_of(piece, pick_table(piece)), 20.5).all()


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


def test_who_was_not_sure_twice_of_a_kind_is_asked_for_none_of_it_any_more():
    """Rows in four wefts and four sheds: each of the eight newest could tell, and in each every end."""
    unsure, asked = set(), []
    while (found := asked_of([0, 1, 2, 1, 0, 2] * 10, unsure=unsure)[0]) is not None:
        asked.append(found.ask)
        unsure.add(found.about)
    assert {Ask.WEFT, Ask.END, Ask.SIDE} <= set(asked)
    assert max(Counter(asked).values()) == MOST_UNSURE
