"""Face down: the sheds are the complements, the cloth is the draft's turned over, and what is dressed opens just these.

The oracle weaves by hand: for each end, the cords of the pressed treadles, and nothing else of the product.
"""

from __future__ import annotations

import random

import pytest

from companion.draft.masks import shafts_of
from companion.remap.errors import RemapError
from companion.remap.loom.loom import Action, Loom
from companion.remap.proof import ProofFailedError
from companion.remap.remapped import Verdict
from companion.remap.remapping import remap
from companion.remap.turned_over import can_turn_over, told_of_the_back
from companion.weaving.warp import LoomProfile
from companion.workshop.dressing import dress
from tests.draft.drafts import draft_of


def random_draft(seed):
    rng = random.Random(f"face down {seed}")
    shafts = rng.randint(2, 4)
    plan = [[s for s in range(1, shafts + 1) if rng.random() < 0.5] for _ in range(8)]
    return draft_of(threading=list(range(1, shafts + 1)), plan=plan, shafts=shafts)


def face_of(draft):
    """Which ends (by place) lie on the face at each pick."""
    return [
        {end for end, shaft in enumerate(draft.threading) if shaft + 1 in shafts_of(shed)} for shed in draft.sheds()
    ]


def up_on_loom(draft, loom, answer):
    """Which ends stand up at each pick with these feet on these cords."""
    for stage in answer.stages:
        for footing in stage.footings:
            pressed = [stage.tieup[treadle] for treadle in (*footing.left, *footing.right)]
            up = {shaft for tie in pressed for shaft in shafts_of(tie.up)}
            down = {shaft for tie in pressed for shaft in shafts_of(tie.down)}
            if loom.action is Action.SINKING:
                up = set(range(1, draft.shafts + 1)) - down
            yield {end for end, shaft in enumerate(draft.threading) if shaft + 1 in up}


@pytest.mark.parametrize("action", [Action.RISING, Action.SINKING, Action.COUNTERMARCHE])
@pytest.mark.parametrize("treadles", [2, 8])
def test_the_ends_that_stand_up_are_those_off_the_face(action, treadles):
    verdicts = set()
    for seed in range(6):
        draft = random_draft(seed)
        loom = Loom(draft.shafts, treadles, action)
        answer = remap(draft, loom, face_down=True)
        verdicts.add(answer.verdict)
        everywhere = set(range(draft.ends))
        assert answer.face_down
        assert list(up_on_loom(draft, loom, answer)) == [everywhere - face for face in face_of(draft)]
    assert verdicts <= {Verdict.FITS, Verdict.RE_TIE}


def test_the_piece_that_is_dressed_opens_the_sheds_of_the_answer():
    draft = random_draft(1)
    profile = LoomProfile("loom", Loom(draft.shafts, 8))
    face_up = dress("cloth", [draft], profile, [remap(draft, profile.loom)]).pieces[0]
    piece = dress("cloth", [draft], profile, [remap(draft, profile.loom, face_down=True)]).pieces[0]
    assert (face_up.face_down, piece.face_down) == (False, True)
    assert piece.draft == face_up.draft
    every = set(range(1, draft.shafts + 1))
    assert [set(shafts_of(s)) for s in piece.sheds] == [every - set(shafts_of(s)) for s in face_up.sheds]


def test_levers_weave_face_down_too():
    draft = random_draft(2)
    answer = remap(draft, Loom(draft.shafts, 0, Action.LEVERS), face_down=True)
    assert answer.proven_cloth
    assert answer.face_down


def test_an_end_on_no_shaft_keeps_the_cloth_face_up():
    draft = draft_of(threading=[1, 2, None], plan=[[1], [2]], shafts=2)
    assert not can_turn_over(draft)
    with pytest.raises(RemapError, match="weave it face up"):
        remap(draft, Loom(2, 2), face_down=True)


def test_an_answer_for_the_face_is_never_taken_for_one_of_the_back():
    draft = draft_of(threading=[1, 2], plan=[[1], []], shafts=2)
    with pytest.raises(ProofFailedError):
        told_of_the_back(draft, remap(draft, Loom(2, 2)))


def test_the_other_ways_of_a_cloth_face_down_are_face_down_and_turning_it_is_face_up():
    draft = draft_of(threading=[1, 2, 3], plan=[[1], [2, 3], [1, 2], [3]], shafts=3)
    answer = remap(draft, Loom(3, 1), face_down=True)
    assert {other.what: other.face_down for other in answer.alternatives} == {
        "face up": False,
        "reach 2": True,
        "sinking": True,
        "countermarche": True,
    }
