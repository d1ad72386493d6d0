"""Treadles that an answer leaves free, and plain weave on two of them, for headings and hems."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from companion.draft.masks import Shed, common, treadles_of, union, without
from companion.draft.model import Draft, Treadled
from companion.remap.loom.cords import cord_changes
from companion.remap.loom.loom import Action, Tie, TieUp
from companion.remap.loom.pressing import feet_for
from companion.remap.loom.question import as_counted
from companion.remap.loom.targets import columns_of, targets_of
from companion.remap.proof import ProofFailedError, weaves_the_draft
from companion.remap.remapped import Remapping, Verdict


def free_treadles(answer: Remapping) -> tuple[int, ...]:
    """Return the treadles (indices) that nobody presses in an answer that fits; none on levers."""
    if answer.verdict is not Verdict.FITS or len(answer.stages) != 1:
        return ()
    (stage,) = answer.stages
    pressed = {treadle for footing in set(stage.footings) for treadle in (*footing.left, *footing.right)}
    return tuple(treadle for treadle in range(len(stage.tieup)) if treadle not in pressed)


def plain_weave_held(answer: Remapping) -> tuple[int, ...]:
    """Return the treadles (indices) that nobody presses and that are tied for plain weave; none for one shed alone."""
    if answer.tabby is None:
        return ()
    both = {_tie(shed, union(answer.tabby), answer.loom.action) for shed in answer.tabby}
    free = free_treadles(answer)
    held = tuple(treadle for treadle in free if answer.stages[0].tieup[treadle] in both)
    return held if {answer.stages[0].tieup[treadle] for treadle in held} == both else ()


def ties_plain_weave_besides(draft: Draft, tabby: tuple[Shed, Shed] | None) -> bool:
    """Tell whether the draft itself ties both sheds of plain weave on treadles that no pick presses."""
    if tabby is None or not isinstance(draft.lifting, Treadled):
        return False
    pressed = {treadle for treadles in set(draft.lifting.treadling) for treadle in treadles_of(treadles)}
    threaded = union(tabby)
    besides = {common(tie, threaded) for treadle, tie in enumerate(draft.lifting.tieup) if treadle + 1 not in pressed}
    return besides >= set(tabby)


def leaves_plain_weave_out(draft: Draft, answer: Remapping) -> bool:
    """Tell whether the draft ties plain weave besides, and no tie-up of the answer weaves it nor has room for it."""
    if not answer.stages or room_for_plain_weave(answer) or not ties_plain_weave_besides(draft, answer.tabby):
        return False
    return not any(_weaves_plain(stage.tieup, answer) for stage in answer.stages)


def _weaves_plain(tieup: TieUp, answer: Remapping) -> bool:
    """Tell whether two feet open both sheds of plain weave on a tie-up."""
    if answer.tabby is None:
        return False
    threaded, loom = union(answer.tabby), answer.loom
    ties = tuple(Tie(common(tie.up, threaded), common(tie.down, threaded)) for tie in tieup)
    columns = columns_of(ties, loom.shafts, loom.action)
    sheds = targets_of(answer.tabby, loom.shafts, loom.action, carrying=threaded)
    return all(feet_for(shed, columns, loom.reach) is not None for shed in sheds)


def room_for_plain_weave(answer: Remapping) -> tuple[tuple[int, Tie], ...]:
    """Return two free treadles (indices) and their ties for plain weave, neighbours where there are such.

    None where the threading has no plain weave, fewer than two treadles are free, or two treadles open it already.
    """
    free = free_treadles(answer)
    if answer.tabby is None or len(free) < 2:
        return ()
    one, other = (_tie(shed, union(answer.tabby), answer.loom.action) for shed in answer.tabby)
    if {one, other} <= set(answer.stages[0].tieup):
        return ()
    pairs = [(left, right) for left, right in pairwise(free) if right == left + 1]
    left, right = pairs[0] if pairs else free[:2]
    return (left, one), (right, other)


def with_plain_weave(draft: Draft, answer: Remapping, present: TieUp | None) -> Remapping | None:
    """Return the answer with plain weave on two treadles that it leaves free; None where there is no room for it.

    `present` is the tie-up now on the loom, where known. Raises ProofFailedError where that would change the cloth.
    """
    room = dict(room_for_plain_weave(answer))
    if not room:
        return None
    (stage,) = answer.stages
    tieup = tuple(room.get(treadle, tie) for treadle, tie in enumerate(stage.tieup))
    if not weaves_the_draft(draft, answer.loom, tieup, stage.footings, face_down=answer.face_down):
        raise ProofFailedError("plain weave on free treadles changes the cloth")
    counted = as_counted(present, draft, answer.loom)
    changes = None if counted is None else cord_changes(counted, tieup)
    return replace(answer, stages=(replace(stage, tieup=tieup, changes=changes, fewest_cords=False),))


def _tie(shed: Shed, threaded: Shed, action: Action) -> Tie:
    rest = without(threaded, shed)
    match action:
        case Action.SINKING:
            return Tie(down=rest)
        case Action.COUNTERMARCHE:
            return Tie(up=shed, down=rest)
        case _:
            return Tie(up=shed)
