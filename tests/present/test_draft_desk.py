"""The draft desk: what touches and buttons lead to, found by their words, without a window."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.draft.floats import Threads
from companion.draft.model import MOST_THREADS, Colour, Lifted, Yarn
from companion.draft.stretches import Stretch
from companion.present.draft_desk import begun, touched
from companion.present.draft_keys import Way, keys
from companion.present.draft_sheet import DraftPart, Quarter, Square
from tests.screens.warps import twill_draft

DRAFT = twill_draft()


def pressed(desk, *names):
    for name in names:
        key = {key.words: key for key in keys(desk)}[name]
        assert key.possible, name
        desk = key.leads_to()
    return desk


def marked(*picks, draft=DRAFT):
    desk = pressed(begun(draft), "Edit", "Treadling")
    for pick in picks:
        desk = touched(desk, Square(Quarter.PICK_NUMBERS, 0, pick))
    return desk


def words(desk):
    return [key.words for key in keys(desk)]


def test_what_is_only_looked_at_can_be_left_or_woven():
    assert pressed(begun(DRAFT), "Back") is Way.LEAVE
    assert pressed(begun(DRAFT), "Weave it") is Way.WEAVE
    assert pressed(begun(DRAFT), "Edit", "Threading").part is DraftPart.THREADING
    assert pressed(begun(DRAFT), "Edit", "Threading", "Done").part is None


def test_two_numbers_mark_all_between_them_whichever_is_touched_first():
    assert marked(5).stretch == Stretch(Threads.WEFT, 5, 6)
    assert marked(5).standing_line == "pick 6 · now touch the last one"
    assert marked(5, 2).stretch == marked(2, 5).stretch == Stretch(Threads.WEFT, 2, 6)
    assert marked(5, 2).standing_line == "picks 3 to 6 marked"
    assert marked(5, 2, 8).stretch == Stretch(Threads.WEFT, 8, 9)
    assert marked(5, 5).stretch is None
    assert pressed(marked(5, 2), "Back").stretch is None


def test_what_is_repeated_stays_marked_so_that_eight_times_is_two_times_four():
    desk = pressed(marked(4, 5), "Repeat", "2 times", "Repeat", "4 times")
    assert desk.draft.picks == DRAFT.picks + 14
    assert desk.stretch == Stretch(Threads.WEFT, 4, 20)
    once = pressed(desk, "Undo")
    assert (once.draft.picks, once.stretch) == (DRAFT.picks + 2, Stretch(Threads.WEFT, 4, 8))


def test_a_deleted_stretch_is_no_longer_marked_and_is_again_when_that_is_undone():
    desk = pressed(marked(0, 3), "Delete")
    assert desk.stretch is None
    assert [section.name for section in desk.draft.sections] == ["Body"]
    again = pressed(desk, "Undo")
    assert (again.draft, again.stretch) == (DRAFT, Stretch(Threads.WEFT, 0, 4))
    assert pressed(pressed(desk, "Done"), "Undo").stretch is None


@pytest.mark.parametrize(("name", "at", "hem"), [("Empty before", 4, 4), ("Empty after", 5, 4)])
def test_an_empty_pick_goes_beside_the_marked_one_into_its_section(name, at, hem):
    desk = pressed(marked(4), "Put in", name)
    assert desk.stretch == Stretch(Threads.WEFT, at, at + 1)
    assert desk.draft.lifting.treadling[at] == 0
    assert desk.draft.sections[0].picks == hem


def test_a_copy_goes_before_the_number_touched_or_to_the_end_and_is_marked():
    asked = pressed(marked(1, 2), "Put in", "A copy")
    assert asked.standing_line == "Touch the pick it goes before"
    there = touched(asked, Square(Quarter.PICK_NUMBERS, 0, 8))
    treadling = DRAFT.lifting.treadling
    assert there.draft.lifting.treadling == (*treadling[:8], *treadling[1:3], *treadling[8:])
    assert there.stretch == Stretch(Threads.WEFT, 8, 10)
    assert pressed(asked, "At the end").draft.lifting.treadling == (*treadling, *treadling[1:3])
    assert pressed(asked, "Back").draft == DRAFT


def test_every_yarn_of_many_can_be_chosen():
    many = replace(DRAFT, yarns=tuple(Yarn(f"no {number}", Colour(number, 0, 0)) for number in range(13)))
    desk = pressed(marked(0, 2, draft=many), "Yarn")
    seen = []
    for _ in range(3):
        assert len(keys(desk)) <= 7
        seen += [key.words for key in keys(desk) if key.yarn is not None]
        desk = pressed(desk, "More")
    assert seen == [f"no {number}" for number in range(13)]
    assert pressed(desk, "More", "no 7").draft.weft[:4] == (7, 7, 7, DRAFT.weft[3])


def test_more_threads_than_can_be_woven_are_refused_in_one_line_and_the_marking_stays():
    desk = marked(0, 11)
    for _ in range(3):
        desk = pressed(desk, "Repeat", "10 times")
    refused = pressed(desk, "Repeat", "10 times")
    assert refused.draft.picks == 12_000 < MOST_THREADS
    assert "at most 100,000 are woven" in refused.line
    assert refused.stretch == desk.stretch


def test_a_lift_plan_has_no_tie_up_to_change():
    desk = pressed(begun(replace(DRAFT, lifting=Lifted(DRAFT.sheds()))), "Edit")
    assert desk.part is DraftPart.TREADLING
    assert words(desk)[3:6] == ["Threading", "Tie-up", "Lift plan"]
    assert [key.possible for key in keys(desk)[3:6]] == [True, False, True]


def test_the_way_back_is_first_undo_second_and_what_ends_the_work_last():
    assert [words(desk)[1] for desk in (begun(DRAFT), marked(), marked(1))] == ["Undo"] * 3
    asked = [pressed(marked(1), name) for name in ("Repeat", "Put in", "Yarn")]
    assert {words(desk)[0] for desk in (begun(DRAFT), marked(1), *asked)} == {"Back"}
    assert [words(desk)[-1] for desk in (begun(DRAFT), marked())] == ["Weave it", "Done"]
