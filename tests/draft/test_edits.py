"""Edits by touch: each does what it says to one list of threads, and everything that belongs to them follows."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft import edits
from companion.draft.edits import EditHistory
from companion.draft.errors import DraftError
from companion.draft.masks import shed_of, treadle_set
from companion.draft.model import MOST_THREADS, Layout, Lifted, Section, Treadled
from tests.draft.drafts import draft_of
from tests.draft.random_drafts import drafts, words

HEM, BODY = Section("Hem", 2), Section("Body", 3, 40.0)


def cloth():
    """Five picks in two sections, every pick and every end unlike its neighbours."""
    return draft_of(
        threading=[1, 2, 3, 4],
        tieup=[[1], [2], [3], [4]],
        treadling=[1, 2, 3, 4, 1],
        weft=[1, 2, 1, 1, 2],
        sections=(HEM, BODY),
        weft_layout=Layout(spacing_cm=(0.1, 0.2, 0.3, 0.4, 0.5)),
        warp_layout=Layout(thickness_cm=(0.1, 0.2, 0.3, 0.4)),
    )


def pressed(draft):
    return [mask.bit_length() for mask in draft.lifting.treadling]


def test_a_thread_goes_to_another_shaft_or_to_none():
    assert edits.set_thread(cloth(), 1, 3).threading == (0, 3, 2, 3)
    assert edits.set_thread(cloth(), 3, None).threading == (0, 1, 2, None)


def test_a_tie_is_made_and_unmade():
    tied = edits.set_tie(cloth(), 0, 2, tied=True)
    assert tied.lifting.tieup[0] == shed_of([1, 3])
    assert edits.set_tie(tied, 0, 2, tied=False) == cloth()


def test_a_pick_gets_other_treadles_or_another_shuttle():
    assert edits.set_treadles(cloth(), 4, treadle_set([1, 2])).lifting.treadling[4] == treadle_set([1, 2])
    assert edits.set_weft(cloth(), 0, 1).weft == (1, 1, 0, 0, 1)
    assert edits.set_warp(cloth(), 2, 1).warp == (0, 0, 1, 0)


def test_a_pick_of_a_lift_plan_gets_other_shafts():
    plan = draft_of(threading=[1, 2], plan=[[1], [2]])
    assert edits.set_lift(plan, 1, shed_of([1, 2])).lifting == Lifted((shed_of([1]), shed_of([1, 2])))


def test_a_pick_put_in_belongs_to_the_section_of_the_pick_before_it():
    grown = edits.insert_pick(cloth(), 2, treadle_set([4]), 0)
    assert pressed(grown) == [1, 2, 4, 3, 4, 1]
    assert grown.weft == (0, 1, 0, 0, 0, 1)
    assert grown.sections == (Section("Hem", 3), BODY)
    assert grown.weft_layout.spacing_cm == (0.1, 0.2, 0.2, 0.3, 0.4, 0.5)
    assert edits.insert_pick(cloth(), 0, treadle_set([4]), 0).sections == (Section("Hem", 3), BODY)
    assert edits.insert_pick(cloth(), 5, treadle_set([4]), 0).sections == (HEM, Section("Body", 4, 40.0))


def test_a_pick_put_in_belongs_to_the_section_of_the_pick_it_is_to_be_like():
    grown = edits.insert_pick(cloth(), 2, treadle_set([4]), 0, like=2)
    assert pressed(grown) == [1, 2, 4, 3, 4, 1]
    assert grown.sections == (HEM, Section("Body", 4, 40.0))
    assert grown.weft_layout.spacing_cm == (0.1, 0.2, 0.3, 0.3, 0.4, 0.5)


def test_a_copied_stretch_of_picks_belongs_to_the_section_it_stands_before():
    copied = edits.copy_picks(cloth(), 3, 5, 0)
    assert pressed(copied) == [4, 1, 1, 2, 3, 4, 1]
    assert copied.weft == (0, 1, 0, 1, 0, 0, 1)
    assert copied.sections == (Section("Hem", 4), BODY)
    assert copied.weft_layout.spacing_cm == (0.4, 0.5, 0.1, 0.2, 0.3, 0.4, 0.5)
    assert edits.copy_picks(cloth(), 0, 1, 2).sections == (HEM, Section("Body", 4, 40.0))
    behind = edits.copy_picks(cloth(), 0, 2, 5)
    assert pressed(behind) == [1, 2, 3, 4, 1, 1, 2]
    assert behind.sections == (HEM, Section("Body", 5, 40.0))


def test_a_copied_stretch_of_ends_takes_its_yarns_and_sizes_along():
    copied = edits.copy_ends(edits.set_warp(cloth(), 3, 1), 2, 4, 1)
    assert copied.threading == (0, 2, 3, 1, 2, 3)
    assert copied.warp == (0, 0, 1, 0, 0, 1)
    assert copied.warp_layout.thickness_cm == (0.1, 0.3, 0.4, 0.2, 0.3, 0.4)
    assert edits.copy_ends(cloth(), 0, 2, 4).threading == (0, 1, 2, 3, 0, 1)


def test_a_stretch_gets_one_yarn_and_its_neighbours_keep_theirs():
    assert edits.set_wefts(cloth(), 1, 4, 0).weft == (0, 0, 0, 0, 1)
    assert edits.set_warps(cloth(), 1, 3, 1).warp == (0, 1, 1, 0)


def test_deleted_picks_leave_their_sections_and_an_empty_section_goes():
    assert pressed(edits.delete_picks(cloth(), 1, 3)) == [1, 4, 1]
    assert edits.delete_picks(cloth(), 1, 3).sections == (Section("Hem", 1), Section("Body", 2, 40.0))
    assert edits.delete_picks(cloth(), 0, 2).sections == (BODY,)
    assert edits.delete_picks(cloth(), 0, 5).sections == ()


def test_a_stretch_of_picks_is_reversed_with_its_shuttles():
    turned = edits.reverse_picks(cloth(), 1, 4)
    assert pressed(turned) == [1, 4, 3, 2, 1]
    assert turned.weft == (0, 0, 0, 1, 1)
    assert turned.weft_layout.spacing_cm == (0.1, 0.4, 0.3, 0.2, 0.5)


def test_a_stretch_of_picks_is_repeated_behind_itself():
    longer = edits.repeat_picks(cloth(), 1, 3, 3)
    assert pressed(longer) == [1, 2, 3, 2, 3, 2, 3, 4, 1]
    assert longer.sections == (HEM, Section("Body", 7, 40.0))


def test_ends_are_put_in_deleted_reversed_and_repeated_with_their_sizes():
    assert edits.insert_end(cloth(), 1, None, 1).threading == (0, None, 1, 2, 3)
    assert edits.insert_end(cloth(), 1, None, 1).warp == (0, 1, 0, 0, 0)
    assert edits.delete_ends(cloth(), 1, 3).warp_layout.thickness_cm == (0.1, 0.4)
    assert edits.reverse_ends(cloth(), 0, 3).threading == (2, 1, 0, 3)
    assert edits.repeat_ends(cloth(), 2, 4, 2).threading == (0, 1, 2, 3, 2, 3)


@pytest.mark.parametrize(
    ("edit", "complaint"),
    [
        (lambda draft: edits.set_thread(draft, 4, 0), "there is no end 5; there are 4"),
        (lambda draft: edits.set_thread(draft, -1, 0), "there is no end 0"),
        (lambda draft: edits.set_thread(draft, 0, 4), "end 1 is on shaft 5 of 4"),
        (lambda draft: edits.set_weft(draft, 0, 9), "pick 1 names yarn 10 of 2"),
        (lambda draft: edits.set_tie(draft, 4, 0, tied=True), "there is no treadle 5"),
        (lambda draft: edits.set_tie(draft, 0, 4, tied=True), "there is no shaft 5"),
        (lambda draft: edits.set_treadles(draft, 0, treadle_set([5])), "uses a treadle that the tie-up does not have"),
        (lambda draft: edits.set_lift(draft, 0, shed_of([1])), "has no lift plan; set the treadles"),
        (lambda draft: edits.delete_picks(draft, 3, 3), "picks 4 to 3 are no stretch"),
        (lambda draft: edits.reverse_picks(draft, 3, 6), "picks 4 to 6 are no stretch"),
        (lambda draft: edits.repeat_picks(draft, 0, 1, 0), "0 times; repeat a stretch at least once"),
        (lambda draft: edits.repeat_picks(draft, 0, 1, MOST_THREADS), "100,004 picks; at most 100,000"),
        (lambda draft: edits.repeat_ends(draft, 0, 4, 10**12), "ends; at most 100,000"),
        (lambda draft: edits.copy_picks(draft, 0, 2, 6), "there is no pick 7"),
        (lambda draft: edits.copy_ends(draft, 0, 5, 0), "ends 1 to 5 are no stretch; choose some of the 4"),
        (lambda draft: edits.set_wefts(draft, 0, 2, 2), "pick 1 names yarn 3 of 2"),
        (lambda draft: edits.insert_pick(draft, 5, treadle_set([1]), 0, like=5), "there is no pick 6"),
        (lambda draft: edits.insert_pick(draft, 6, treadle_set([1]), 0), "there is no pick 7"),
    ],
)
def test_what_cannot_be_edited_is_said_in_one_line_and_the_draft_stays(edit, complaint):
    with pytest.raises(DraftError) as caught:
        edit(cloth())
    assert complaint in str(caught.value)


def test_a_lift_plan_refuses_treadles_and_ties():
    plan = draft_of(threading=[1, 2], plan=[[1], [2]])
    for edit in (lambda: edits.set_tie(plan, 0, 0, tied=True), lambda: edits.set_treadles(plan, 0, treadle_set([1]))):
        with pytest.raises(DraftError, match="a lift plan has no"):
            edit()


EDITS = [
    # Each edit with the kinds of its numbers.
    (edits.set_thread, ("end", "shaft")),
    (edits.set_warp, ("end", "yarn")),
    (edits.set_weft, ("pick", "yarn")),
    (edits.set_tie, ("treadle", "shaft", "yes")),
    (edits.set_treadles, ("pick", "moved")),
    (edits.set_lift, ("pick", "moved")),
    (edits.insert_pick, ("pick", "moved", "yarn")),
    (edits.insert_end, ("end", "shaft", "yarn")),
    (edits.delete_picks, ("pick", "pick")),
    (edits.reverse_picks, ("pick", "pick")),
    (edits.repeat_picks, ("pick", "pick", "times")),
    (edits.copy_picks, ("pick", "pick", "pick")),
    (edits.set_wefts, ("pick", "pick", "yarn")),
    (edits.copy_ends, ("end", "end", "end")),
    (edits.set_warps, ("end", "end", "yarn")),
    (edits.delete_ends, ("end", "end")),
    (edits.reverse_ends, ("end", "end")),
    (edits.repeat_ends, ("end", "end", "times")),
]


def chosen_edit(draft, choice):
    """An edit with its numbers, some of them beyond the draft, as a number from 0 to 10**12 chooses them."""
    choice, kind = divmod(choice, len(EDITS))
    edit, kinds = EDITS[kind]
    sizes = {"end": draft.ends + 1, "pick": draft.picks + 1, "shaft": draft.shafts, "yarn": len(draft.yarns)}
    sizes |= {"treadle": 5, "moved": 4, "times": 4, "yes": 2}
    numbers = []
    for name in kinds:
        choice, number = divmod(choice, sizes[name])
        numbers.append(number)
    return edit(draft, *numbers)


@given(drafts(most_threads=6, texts=words), st.lists(st.integers(0, 10**12), min_size=4, max_size=8))
def test_undoing_everything_gives_back_the_very_draft_and_redoing_the_last(draft, choices):
    history = EditHistory(draft)
    made = 0
    for choice in choices:
        try:
            after = history.edited(chosen_edit(history.now, choice))
        except DraftError:
            continue
        made += after is not history
        history = after
        sections = history.now.sections
        assert not sections or sum(section.picks for section in sections) == history.now.picks
    last = history.now
    for _ in range(made):
        history = history.undo()
    assert history.now == draft
    assert history.undo() is history
    for _ in range(made):
        history = history.redo()
    assert history.now == last
    assert history.redo() is history


@given(drafts(most_threads=6, texts=words), st.data())
def test_reversing_twice_changes_nothing_and_deleting_undoes_repeating(draft, data):
    first, last = sorted((data.draw(st.integers(0, draft.picks)), data.draw(st.integers(0, draft.picks))))
    if first == last:
        return
    assert edits.reverse_picks(edits.reverse_picks(draft, first, last), first, last) == draft
    longer = edits.repeat_picks(draft, first, last, 3)
    assert replace(edits.delete_picks(longer, last, last + 2 * (last - first)), sections=()) == replace(
        draft, sections=()
    )


def test_an_edit_after_an_undo_takes_the_place_of_what_was_undone():
    history = EditHistory(cloth()).edited(edits.set_weft(cloth(), 0, 1)).undo().edited(edits.set_weft(cloth(), 1, 0))
    assert history.redo() is history
    assert history.now.weft == (0, 0, 0, 0, 1)
    assert history.undo().now == cloth()


def test_an_edit_that_changes_nothing_is_no_step():
    history = EditHistory(cloth())
    assert history.edited(edits.set_weft(cloth(), 0, 0)) is history


def test_the_history_is_bounded():
    history = EditHistory(cloth())
    for step in range(edits.MOST_STEPS + 10):
        history = history.edited(edits.set_weft(history.now, 0, (step + 1) % 2))
    assert len(history.past) == edits.MOST_STEPS


def test_a_draft_without_threads_can_be_begun():
    empty = draft_of(threading=[], tieup=[[1], [2]], treadling=[])
    begun = edits.insert_pick(edits.insert_end(empty, 0, 1, 0), 0, treadle_set([2]), 1)
    assert begun.threading == (1,)
    assert begun.sheds() == (shed_of([2]),)
    assert isinstance(begun.lifting, Treadled)
