"""What a plan says of the warp that is made from its draft: measures, dents, and how many pieces."""

from __future__ import annotations

from dataclasses import replace
from itertools import cycle, islice

from companion.draft.model import Draft
from companion.draft.sley import Sley
from companion.present.new_warp import Fact, KnownFacts, NewWarp
from companion.present.pieces_kept import in_this_order
from companion.weaving.cloth_plan import ClothPlanned, PlanFact
from companion.weaving.mixed_dents import dents_for


def planned_warp(warp: NewWarp, planned: ClothPlanned) -> NewWarp:
    """Return a warp of one piece with all that is planned of it.

    The width is that of the ends which the draft has. Each piece is woven as the first, and tied for it again where
    that ends on another tie-up.
    """
    (piece,) = warp.pieces
    first = replace(piece, draft=_sleyed(planned, piece.draft))
    one = replace(warp, pieces=(first,), told={**_facts(planned, piece.draft), **warp.told})
    return in_this_order(one, (first,) * planned.wish.pieces)


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
