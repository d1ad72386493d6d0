"""What a piece on the loom is woven by is the answer that it was made from."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.remap.loom.loom import Action, Loom
from companion.remap.remapping import remap
from companion.weaving.answer_woven import answer_woven
from companion.weaving.warp import LoomProfile
from companion.workshop.dressing import dress
from tests.screens.warps import twill_draft

LOOMS = {
    "it fits": (Loom(4, 4), False),
    "tied again": (Loom(4, 2), False),
    "face down": (Loom(4, 4, Action.SINKING), True),
    "countermarche": (Loom(4, 6, Action.COUNTERMARCHE), False),
    "levers": (Loom(4, 0, Action.LEVERS), False),
}


@pytest.mark.parametrize(("loom", "face_down"), LOOMS.values(), ids=LOOMS)
def test_a_piece_tells_the_answer_it_was_made_from(loom, face_down):
    draft = twill_draft()
    answer = remap(draft, loom, face_down=face_down)
    piece = dress("Towel", [draft], LoomProfile("loom", loom), [answer], re_tie=True).pieces[0]
    told = answer_woven(piece, loom)
    assert (told.verdict, told.tieup, told.footings) == (answer.verdict, answer.tieup, answer.footings)
    assert (told.face_down, told.proven_cloth) == (face_down, True)
    assert [stage.sheds for stage in told.stages] == [stage.sheds for stage in answer.stages]
    assert told.levers == answer.levers
    assert [stage.changes for stage in told.stages[1:]] == [stage.changes for stage in answer.stages[1:]]
    if len(told.stages) > 1:
        assert not told.fewest_stages


def test_feet_that_do_not_weave_the_draft_are_not_said_to():
    draft, loom = twill_draft(), Loom(4, 4)
    piece = dress("Towel", [draft], LoomProfile("loom", loom), [remap(draft, loom)]).pieces[0]
    assert answer_woven(replace(piece, footings=piece.footings[::-1]), loom).proven_cloth is False
