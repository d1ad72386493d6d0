"""What an edit of a draft is called: by what it changed, and by nothing else."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.draft.floats import Threads
from companion.draft.masks import shed_of, treadle_set
from companion.draft.model import Colour, Draft, Lifted, Section, Treadled, Yarn
from companion.draft.stretches import Stretch, of_yarn, repeated, taken_out, turned
from companion.present.draft_desk import Desk, begun, edited, redone, undone
from companion.present.edit_words import edit_words

DRAFT = Draft(
    shafts=4,
    threading=(0, 1, 2, 3) * 2,
    lifting=Treadled((shed_of([1, 2]), shed_of([3, 4])), tuple(treadle_set([pick % 2 + 1]) for pick in range(6))),
    yarns=(Yarn("oat", Colour(230, 220, 190)), Yarn("", Colour(60, 70, 120))),
    warp=(0,) * 8,
    weft=(1,) * 6,
)
LIFTED = replace(DRAFT, lifting=Lifted((shed_of([1, 2]),) * 6))
PICKS_2_TO_4 = Stretch(Threads.WEFT, 1, 4)


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        (DRAFT, replace(DRAFT, threading=(0, 1, 2, 3, 0, 1, 3, 3)), "end 7 on shaft 4"),
        (DRAFT, replace(DRAFT, threading=(0, 1, None, 3, 0, 1, 2, 3)), "end 3 on no shaft"),
        (DRAFT, turned(DRAFT, Stretch(Threads.WARP, 0, 4)), "threading of ends 1 to 4"),
        (
            DRAFT,
            replace(DRAFT, lifting=replace(DRAFT.lifting, tieup=(shed_of([1]), shed_of([3, 4])))),
            "treadle 1 tied to 1",
        ),
        (
            DRAFT,
            replace(DRAFT, lifting=replace(DRAFT.lifting, treadling=(treadle_set([2]), *DRAFT.lifting.treadling[1:]))),
            "pick 1 on treadle 2",
        ),
        (DRAFT, turned(DRAFT, Stretch(Threads.WEFT, 0, 6)), "treadling of picks 1 to 6"),
        (DRAFT, of_yarn(DRAFT, PICKS_2_TO_4, 0), "picks 2 to 4 with oat"),
        (DRAFT, replace(DRAFT, warp=(0,) * 7 + (1,)), "end 8 of yarn 2"),
        (DRAFT, repeated(DRAFT, PICKS_2_TO_4, 3), "6 picks put in"),
        (DRAFT, taken_out(DRAFT, PICKS_2_TO_4), "3 picks taken out"),
        (DRAFT, taken_out(DRAFT, Stretch(Threads.WARP, 0, 1)), "1 end taken out"),
        (LIFTED, replace(LIFTED, lifting=Lifted((shed_of([1, 2]),) * 5 + (shed_of([4]),))), "pick 6: shafts 4"),
        (DRAFT, replace(DRAFT, sections=(Section("Hem", 6),)), "its sections"),
        (DRAFT, replace(DRAFT, title="Towel"), "what was told of it"),
    ],
)
def test_an_edit_is_called_by_what_it_changed(before, after, words):
    assert edit_words(before, after) == words


def test_undo_says_beforehand_what_it_takes_back_step_by_step_and_nothing_where_there_is_nothing():
    desk: Desk = begun(DRAFT)
    assert desk.undo_words == ""
    for edit in (lambda draft: of_yarn(draft, PICKS_2_TO_4, 0), lambda draft: taken_out(draft, PICKS_2_TO_4)):
        desk = edited(desk, edit, None)
    assert desk.undo_words == "Undo: 3 picks taken out"
    desk = undone(desk)
    assert desk.undo_words == "Undo: picks 2 to 4 with oat"
    assert undone(desk).undo_words == ""
    assert redone(desk).undo_words == "Undo: 3 picks taken out"
