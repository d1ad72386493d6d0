"""The draft woven with its face below: every shed is the complement, and the cloth lies turned over on the loom."""

from __future__ import annotations

from dataclasses import replace

from companion.draft.model import Draft
from companion.remap.errors import RemapError
from companion.remap.loom.loom import Action, Loom, TieUp
from companion.remap.proof import ProofFailedError, same_cloth, shafts_up, weaves_the_draft
from companion.remap.remapped import Alternative, Remapping
from companion.remap.remapping import remap
from companion.remap.search.answers import OnProgress, ShouldStop, never_stop, tell_nobody


def can_turn_over(draft: Draft) -> bool:
    """Tell whether the draft can be woven face down: an end on no shaft lies below every pick, whichever way."""
    return None not in draft.threading


def remap_face_down(
    draft: Draft,
    loom: Loom,
    *,
    present: TieUp | None = None,
    thorough: bool = False,
    should_stop: ShouldStop = never_stop,
    progress: OnProgress = tell_nobody,
) -> Remapping:
    """Find how this loom weaves the draft with its face below; sheds, tie-up and feet are those on the loom.

    The cloth is compared with the draft's own, every crossing turned over. Raises RemapError as `remap` does, and where
    the draft has an end on no shaft.
    """
    if not can_turn_over(draft):
        raise RemapError("an end on no shaft lies below every pick, face up or face down", mend="weave it face up")
    # A tie that raises becomes one that sinks: so each shed becomes its complement, and nothing else changes.
    turned = replace(draft, rising=not draft.rising)
    answer = remap(turned, loom, present=present, thorough=thorough, should_stop=should_stop, progress=progress)
    if answer.proven_cloth and not _is_the_back(draft, turned, answer):
        raise ProofFailedError("the cloth is not the draft's, face down")
    return replace(answer, face_down=True, alternatives=tuple(map(_turned_back, answer.alternatives)))


def _is_the_back(draft: Draft, turned: Draft, answer: Remapping) -> bool:
    if answer.loom.action is Action.LEVERS or not answer.stages:
        return same_cloth(draft, shafts_up(turned.sheds(), draft.shafts), face_down=True)
    return all(
        weaves_the_draft(draft, answer.loom, stage.tieup, stage.footings, first=stage.first, face_down=True)
        for stage in answer.stages
    )


def _turned_back(other: Alternative) -> Alternative:
    return replace(other, what="face up" if other.face_down else other.what, face_down=not other.face_down)
