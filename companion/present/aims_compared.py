"""The same draft tied for each aim, side by side: treadles, cords, both feet, footwork."""

from __future__ import annotations

from collections.abc import Sequence

from companion.present.ties_said import TO_CHANGE, TO_MAKE
from companion.remap.aim import Aim
from companion.remap.remapped import Remapping, Verdict
from companion.remap.spare_treadles import plain_weave_held

AIM_NAMES = {
    Aim.FEET: "light feet",
    Aim.CORDS: "few ties",
    Aim.TREADLES: "few treadles",
    Aim.DRAFT: "the draft's own",
}
"""What an answer for each aim is called."""


def other_aims(answer: Remapping) -> tuple[Aim, ...]:
    """Return the aims that may be asked for instead: of a draft that fits, and where they can be."""
    if answer.verdict is not Verdict.FITS or not answer.stages:
        return ()
    (stage,) = answer.stages
    cannot_be = {answer.aim}
    if stage.changes is None:
        cannot_be.add(Aim.CORDS)
    if stage.footwork is None or stage.footwork.draft_cost is None:
        cannot_be.add(Aim.DRAFT)
    return tuple(aim for aim in Aim if aim not in cannot_be)


def aims_compared(answers: Sequence[Remapping]) -> tuple[tuple[str, ...], ...]:
    """Return rows to stand below one another, a heading first and then a row for each answer, all of which fit."""
    known = answers[0].stages[0].changes is not None
    heading = ("tied for", "treadles", TO_CHANGE if known else TO_MAKE, "both feet", "footwork")
    return (heading, *((AIM_NAMES[answer.aim], *numbers_of(answer)) for answer in answers))


def numbers_of(answer: Remapping) -> tuple[str, str, str, str]:
    """Return treadles, ties to change or to make, picks with both feet and the footwork: of one that fits.

    Treadles are those pressed, and besides those that only hold plain weave: `4 and 2 for plain weave`.
    """
    (stage,) = answer.stages
    pressed = {treadle for footing in set(stage.footings) for treadle in (*footing.left, *footing.right)}
    cords = stage.cords_changed
    if cords is None:
        cords = sum(tie.up.bit_count() + tie.down.bit_count() for tie in stage.tieup)
    both = sum(bool(footing.left and footing.right) for footing in stage.footings)
    cost = "" if stage.footwork is None else str(stage.footwork.cost)
    held = len(plain_weave_held(answer))
    treadles = f"{len(pressed)} and {held} for plain weave" if held else str(len(pressed))
    return treadles, str(cords), f"{both or 'no'} picks", cost
