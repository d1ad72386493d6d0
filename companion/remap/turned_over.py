"""The draft woven with its face below: every shed is the complement, and the cloth lies turned over on the loom."""

from __future__ import annotations

from dataclasses import replace

from companion.draft.model import Draft
from companion.remap.errors import RemapError
from companion.remap.loom.loom import Action
from companion.remap.proof import ProofFailedError, same_cloth, shafts_up, weaves_the_draft
from companion.remap.remapped import Alternative, Remapping


def can_turn_over(draft: Draft) -> bool:
    """Tell whether the draft can be woven face down: an end on no shaft lies below every pick, whichever way."""
    return None not in draft.threading


def turned_over(draft: Draft) -> Draft:
    """Return the draft whose cloth is the back of this one's. Raises RemapError where an end is on no shaft."""
    if not can_turn_over(draft):
        raise RemapError("an end on no shaft lies below every pick, face up or face down", mend="weave it face up")
    # A tie that raises becomes one that sinks: so each shed becomes its complement, and nothing else changes.
    return replace(draft, rising=not draft.rising)


def told_of_the_back(draft: Draft, answer: Remapping) -> Remapping:
    """Return the answer for the draft turned over as one for the draft itself, its face below.

    The cloth is compared with the draft's own, every crossing turned over. Raises ProofFailedError where it differs.
    """
    if answer.proven_cloth and not _is_the_back(draft, answer):
        raise ProofFailedError("the cloth is not the draft's, face down")
    return replace(answer, face_down=True, alternatives=tuple(map(_turned_back, answer.alternatives)))


def _is_the_back(draft: Draft, answer: Remapping) -> bool:
    if answer.loom.action is Action.LEVERS or not answer.stages:
        return same_cloth(draft, shafts_up(turned_over(draft).sheds(), draft.shafts), face_down=True)
    return all(
        weaves_the_draft(draft, answer.loom, stage.tieup, stage.footings, first=stage.first, face_down=True)
        for stage in answer.stages
    )


def _turned_back(other: Alternative) -> Alternative:
    return replace(other, what="face up" if other.face_down else other.what, face_down=not other.face_down)
