from __future__ import annotations

from functools import partial

import pytest

from companion.draft.units import Units
from companion.record.wording import event_kind, event_words
from companion.weaving import decide
from companion.weaving.errors import WeavingError
from companion.weaving.events import NearMiss
from tests.weaving.world import AtLoom, lever_draft, lever_warp


def begun(picks):
    loom = AtLoom(lever_warp(lever_draft([0] * 4)))
    loom.weave(picks)
    return loom


def test_a_near_miss_moves_nothing_and_undo_reaches_past_it_to_the_pick():
    loom = begun(2)
    loom.do(partial(decide.note_near_miss, wrong=(2,), missing=(0, 3)))
    assert loom.progress.now.next_pick == 2
    loom.do(decide.undo)
    assert loom.progress.now.next_pick == 1
    loom.weave(1)
    assert loom.progress.now.next_pick == 2


def test_a_near_miss_is_about_the_pick_that_is_next():
    loom = begun(3)
    assert decide.note_near_miss(loom.warp, loom.progress, (1,), ()) == NearMiss(3, (1,), ())


@pytest.mark.parametrize(("picks", "wrong"), [(4, (1,)), (1, ())])
def test_there_is_no_near_miss_without_a_treadle_or_after_the_last_pick(picks, wrong):
    loom = begun(picks)
    with pytest.raises(WeavingError):
        decide.note_near_miss(loom.warp, loom.progress, wrong)


def test_the_record_names_the_treadles():
    piece = begun(0).warp.pieces[0]
    event = NearMiss(11, (2,), (0, 3))
    assert (event_kind(event), event_words(event, piece, Units.METRIC)) == (
        "near miss",
        "before pick 12: wrong treadle 3; missing treadle 1 4",
    )
