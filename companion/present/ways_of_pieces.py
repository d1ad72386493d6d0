"""Two ways to weave several pieces on one warp, side by side: the feet differ, or the tie-up does."""

from __future__ import annotations

from collections.abc import Sequence

from companion.draft.model import Draft
from companion.draft.units import counted
from companion.present.ties_said import TO_CHANGE
from companion.remap.loom.loom import Action, Loom
from companion.remap.pieces import PiecePlan
from companion.remap.remapped import Remapping
from companion.remap.same_feet import SameFeet

OWN_FEET = {True: "one tie-up, feet differ", False: "a tie-up and feet for each"}
"""What the first way is called, where one tie-up weaves all and where it does not."""
SAME_FEET = "same feet, tie-up differs"


def ways_compared(plan: PiecePlan, same: SameFeet) -> tuple[tuple[str, ...], ...]:
    """Return rows of three: what is compared, and what the one way and the other come to. Pieces that do not fit: none.

    Of the same feet nothing but the treadles is told where the loom has too few.
    """
    if plan.unfit:
        return ()
    rows = [
        ("", OWN_FEET[plan.one_tieup], SAME_FEET),
        ("treadles", _treadles(plan.answers), _treadles(same.answers) if same.fits else "too few"),
    ]
    if not same.fits:
        return tuple(rows)
    return (
        *rows,
        ("treadlings to learn", str(len({answer.footings for answer in plan.answers})), "1"),
        (TO_CHANGE, _cords(plan.cords, plan.order_proven), _cords(same.cords, same.order_proven)),
        ("picks with both feet", _both_feet(plan.answers), _both_feet(same.answers)),
        ("footwork", _footwork(plan.answers), _footwork(same.answers)),
    )


def no_same_feet_words(drafts: Sequence[Draft], loom: Loom, plan: SameFeet | None) -> str:
    """Return why the same feet cannot weave these pieces, in a line; `plan` is what came of looking."""
    if plan is not None:
        least = plan.fewest.at_least
        if least > loom.treadles:
            return f"the same feet need at least {counted(least, 'treadle')} for these pieces together"
        return "no tie-ups for the same feet were found in time"
    if loom.action is Action.LEVERS:
        return "levers need no feet"
    if len({draft.picks for draft in drafts}) > 1:
        counts = ", ".join(str(draft.picks) for draft in drafts)
        return f"the same feet weave pieces of as many picks; these have {counts}"
    return "the same feet cannot be looked for: the loom lacks shafts, or too many move in ways of their own"


def _treadles(answers: Sequence[Remapping]) -> str:
    pressed = {treadle for answer in answers for footing in answer.footings for treadle in footing.left + footing.right}
    return f"{len(pressed)} pressed"


def _cords(cords: int, proven: bool) -> str:
    return f"{cords or 'none'}{', no order has fewer' if cords and proven else ''}"


def _both_feet(answers: Sequence[Remapping]) -> str:
    footings = [footing for answer in answers for footing in answer.footings]
    both = sum(bool(footing.left and footing.right) for footing in footings)
    return f"{both or 'none'} of {counted(len(footings), 'pick')}"


def _footwork(answers: Sequence[Remapping]) -> str:
    costs = [answer.stages[0].footwork.cost for answer in answers if answer.stages[0].footwork is not None]
    return str(sum(costs)) if len(costs) == len(answers) else "not counted"
