"""What a plan says of the warp that is made from its draft: measures, dents, and how many pieces."""

from __future__ import annotations

from dataclasses import replace
from itertools import cycle, islice

from companion.draft.model import Draft
from companion.draft.sley import Sley
from companion.present.new_warp import Fact, KnownFacts, NewPiece, NewWarp
from companion.remap.remapped import Remapping
from companion.weaving.cloth_plan import ClothPlanned, PlanFact
from companion.weaving.mixed_dents import dents_for


def planned_warp(warp: NewWarp, planned: ClothPlanned) -> NewWarp:
    """Return a warp of one piece with all that is planned of it.

    The width is that of the ends which the draft has. Pieces alike follow where nothing is tied anew between them.
    """
    (piece,) = warp.pieces
    first = replace(piece, draft=_sleyed(planned, piece.draft))
    further = planned.wish.pieces - 1 if _goes_on(piece.answer) else 0
    return replace(warp, pieces=(first, *[_again(first)] * further), told={**_facts(planned, piece.draft), **warp.told})


def _facts(planned: ClothPlanned, draft: Draft) -> KnownFacts:
    wish, answer = planned.wish, planned.plan
    facts = {
        Fact.LENGTH: answer.warp_cm,
        Fact.PICKS_PER_CM: answer.picks_per_cm,
        Fact.PIECE: answer.woven_cm,
        Fact.TAKE_UP: 100 * wish.shares.take_up,
        Fact.SHRINKAGE: 100 * wish.shares.shrinkage_length,
        Fact.WIDTH: draft.ends / answer.sett,
        Fact.WASTE: wish.waste_cm,
    }
    return facts | ({Fact.FRINGE: wish.fringe_cm} if wish.fringe_cm else {})


def _sleyed(planned: ClothPlanned, draft: Draft) -> Draft:
    """Return the draft with the planned dents for its ends; as it is where no reed is told."""
    repeat, reed = planned.plan.dent_ends, planned.wished.told.get(PlanFact.REED)
    if not repeat or reed is None:
        return draft
    dents = list(islice(cycle(repeat), dents_for(draft.ends, repeat)))
    if dents:
        dents[-1] -= sum(dents) - draft.ends
    return replace(draft, sley=Sley(tuple(dents), reed))


def _goes_on(answer: Remapping) -> bool:
    return not answer.face_down and len(answer.stages) <= 1


def _again(piece: NewPiece) -> NewPiece:
    stages = tuple(replace(stage, changes=()) for stage in piece.answer.stages)
    return replace(piece, answer=replace(piece.answer, stages=stages))
