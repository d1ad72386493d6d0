"""What else would do when a draft does not fit: face down, a foot on two treadles, another action. Each worked out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from companion.draft.masks import Shed, complement
from companion.draft.model import Draft, distinct
from companion.remap.answers import Answer, OutOfBudget, ShouldStop, Solved
from companion.remap.fewest import fewest_treadles
from companion.remap.loom import Action, Loom
from companion.remap.proof import ProofFailedError, weaves_the_draft
from companion.remap.remapped import Alternative, Fewest


def other_ways(
    draft: Draft, loom: Loom, shafts: int, shed_of_pick: Sequence[Shed], should_stop: ShouldStop
) -> tuple[Alternative, ...]:
    """Return the other ways to weave this cloth, those that fit first and fewer treadles before more.

    `shed_of_pick` are the draft's sheds on the `shafts` of the loom in use. Face down is left out where an end is on
    no shaft: such an end lies below every pick on any loom, so that the cloth turned over would be another. Ways that
    there was no time for are left out.
    """
    found = []
    for what, other, face_down in _ways(loom):
        if should_stop():
            break
        if face_down and None in draft.threading:
            continue
        sheds = tuple(complement(shed, shafts) if face_down else shed for shed in shed_of_pick)
        found.append(_work_out(draft, what, other, face_down, shafts, sheds, should_stop))
    return tuple(sorted(found, key=lambda way: (not way.fits, way.fewest.at_least)))


def _ways(loom: Loom) -> Iterator[tuple[str, Loom, bool]]:
    yield "face down", loom, True
    if loom.reach == 1:
        yield "reach 2", replace(loom, reach=2), False
    for action in (Action.RISING, Action.SINKING, Action.COUNTERMARCHE):
        if action is not loom.action:
            yield action.value, replace(loom, action=action), False


def _work_out(
    draft: Draft,
    what: str,
    loom: Loom,
    face_down: bool,
    shafts: int,
    shed_of_pick: tuple[Shed, ...],
    should_stop: ShouldStop,
) -> Alternative:
    found = fewest_treadles(distinct(shed_of_pick), shafts, loom.action, loom.reach, should_stop=should_stop)
    answer = found.answer if isinstance(found, Solved) else found.best if isinstance(found, OutOfBudget) else None
    fewest = Fewest(answer.treadles if answer else None, found.at_least)
    if answer is not None:
        _prove(draft, answer, loom, shed_of_pick, face_down)
    fits: bool | None = None
    if fewest.treadles is not None and fewest.treadles <= loom.treadles:
        fits = True
    elif fewest.at_least > loom.treadles:
        fits = False
    return Alternative(what, loom, fewest, fits, face_down)


def _prove(draft: Draft, answer: Answer, loom: Loom, shed_of_pick: tuple[Shed, ...], face_down: bool) -> None:
    feet = {shed: answer.footing_of(shed) for shed in set(shed_of_pick)}
    footings = [feet[shed] for shed in shed_of_pick]
    wide = replace(loom, treadles=answer.treadles)
    if not weaves_the_draft(draft, wide, answer.tieup, footings, face_down=face_down):
        raise ProofFailedError("another way weaves other cloth")
