"""Several pieces on one warp and one loom: one tie-up for all of them where it can be, else few cords between them.

Where the sheds of all pieces together fit, one tie-up weaves them all and no cord changes. Elsewhere each piece is
tied for itself and the order of these tie-ups that changes fewest cords is found (`piece_order`). But a piece may have
other tie-ups: so chains are tried as well that begin with each piece and go on with the piece that, tied anew for few
cords, changes fewest; and the tie-ups of a chain are put in the order that changes fewest. The least of all is taken.
Where a present tie-up is known, one for all pieces may cost more cords than a tie-up for each: then these are weighed
against it.

Lemmas and proofs: assets/mathematics.md, "Order of pieces".
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial

from companion.draft.masks import common, every_shaft
from companion.draft.model import Draft, Lifted, distinct
from companion.remap.aim import Aim
from companion.remap.askable import check_askable
from companion.remap.errors import RemapError
from companion.remap.feet.footwork_of_part import footwork_of_part
from companion.remap.feet.place_tieup import shed_feet
from companion.remap.feet.tied_stage import TiedStage
from companion.remap.loom.cords import cord_changes
from companion.remap.loom.loom import Action, Loom, TieUp
from companion.remap.loom.question import as_counted, question
from companion.remap.loom.targets import targets_of
from companion.remap.proof import ProofFailedError, weaves_the_draft
from companion.remap.remapped import Remapping, Verdict
from companion.remap.remapping import remap
from companion.remap.search.answers import OnProgress, SearchProgress, ShouldStop, Solved, never_stop
from companion.remap.search.fewest import fits
from companion.remap.stages.piece_order import best_piece_order


@dataclass(frozen=True, slots=True)
class PiecePlan:
    """How the pieces are woven: `order` are their indices as given, `answers` stand in weaving order.

    `cords` change in all, from the present tie-up (where known) to the last piece, stops within a piece among them;
    `cords_as_given` would change in the order given, each piece tied for itself; None where no order was looked for.
    `one_tieup`: the same tie-up weaves every piece; `cords_on_one`: so many change, from the present tie-up, to weave
    all on one, None where no such tie-up is known. `order_proven`: no order of these tie-ups changes fewer cords.
    Where a piece does not fit, its answer says so and nothing is ordered.
    """

    order: tuple[int, ...]
    answers: tuple[Remapping, ...]
    cords: int
    cords_as_given: int | None = None
    one_tieup: bool = False
    order_proven: bool = False
    cords_on_one: int | None = None

    @property
    def all_fit(self) -> bool:
        """Whether each piece has a tie-up of this loom."""
        return not self.unfit

    @property
    def unfit(self) -> tuple[int, ...]:
        """The pieces (indices as given) that no single tie-up of this loom weaves."""
        return tuple(
            piece for piece, answer in zip(self.order, self.answers, strict=True) if answer.verdict is not Verdict.FITS
        )


_TieAfter = Callable[[int, TieUp | None], Remapping]
"""How a piece (index) is tied when this tie-up is on the loom."""

OnPieceProgress = Callable[[int | None, SearchProgress], None]
OnPiecePlan = Callable[[PiecePlan], None]


def tell_nobody_of_pieces(_piece: int | None, _progress: SearchProgress) -> None:
    """Take the progress of a piece and do nothing with it."""


def keep_to_oneself(_plan: PiecePlan) -> None:
    """Take a plan and do nothing with it."""


def plan_pieces(
    drafts: Sequence[Draft],
    loom: Loom,
    *,
    present: TieUp | None = None,
    aim: Aim | None = None,
    keep_order: bool = False,
    should_stop: ShouldStop = never_stop,
    progress: OnPieceProgress = tell_nobody_of_pieces,
    so_far: OnPiecePlan = keep_to_oneself,
) -> PiecePlan:
    """Plan the pieces of a warp; `keep_order` weaves them as given, `aim` is what each tie-up is chosen for.

    Stops as soon as it can when `should_stop` says so, with what is known by then. `progress` hears how far the search
    has come for a piece (index as given), or for all on one tie-up (None); `so_far` every plan that is better.
    Raises RemapError where threadings differ, and as `remap` does.
    """
    check_one_threading(drafts)
    check_askable(loom, present)
    present = as_counted(present, max(drafts, key=lambda draft: draft.shafts), loom)
    as_given = tuple(range(len(drafts)))
    all_together = partial(progress, None)
    one = None if aim is Aim.DRAFT else _on_one_tieup(drafts, loom, present, aim, should_stop, all_together)
    cords = None if one is None else one[0].stages[0].cords_changed or 0
    if one is not None and cords is not None and (cords == 0 or present is None):
        return PiecePlan(as_given, one, cords, cords, one_tieup=True, order_proven=True, cords_on_one=cords)
    tie_after = _remembering(drafts, loom, aim, should_stop, progress)
    own = _each_its_own(as_given, loom.action, present, tie_after, keep_order, should_stop, so_far)
    each = replace(own, cords_on_one=cords)
    if one is not None and cords is not None and not (each.all_fit and each.cords < cords):
        return PiecePlan(as_given, one, cords, cords, one_tieup=True, order_proven=True, cords_on_one=cords)
    return each


def check_one_threading(drafts: Sequence[Draft]) -> None:
    """Raise RemapError where there is no piece, or one that is threaded otherwise than the first."""
    if not drafts:
        raise RemapError("no piece", mend="give at least one draft")
    for piece, draft in enumerate(drafts[1:], 2):
        if draft.threading != drafts[0].threading:
            raise RemapError(
                f"piece {piece} is threaded differently from piece 1", mend="one warp has one threading; leave it out"
            )


def _each_its_own(
    as_given: tuple[int, ...],
    action: Action,
    present: TieUp | None,
    tie_after: _TieAfter,
    keep_order: bool,
    should_stop: ShouldStop,
    so_far: OnPiecePlan,
) -> PiecePlan:
    """Plan pieces that have a tie-up each, in the order that changes fewest cords or in the one given."""
    alone = tuple(tie_after(piece, present) for piece in as_given)
    if action is Action.LEVERS or any(not answer.stages for answer in alone):
        return PiecePlan(as_given, alone, 0)
    if keep_order or any(answer.verdict is not Verdict.FITS for answer in alone):
        answers = _tied_in_turn(as_given, present, tie_after)
        return PiecePlan(as_given, answers, _cords_of(answers))
    given = _cords_of(_as_they_are(alone, present))
    plan = _in_best_order(as_given, alone, present, given)
    so_far(plan)
    for order in (plan.order, *(_nearest_next(start, as_given, present, tie_after) for start in as_given)):
        if should_stop():
            break
        answers = _tied_in_turn(order, present, tie_after)
        if all(answer.verdict is Verdict.FITS for answer in answers):
            other = _in_best_order(order, answers, present, given)
            if other.cords < plan.cords:
                plan = other
                so_far(plan)
    return plan


def _in_best_order(order: Sequence[int], answers: Sequence[Remapping], present: TieUp | None, given: int) -> PiecePlan:
    """Return the plan that weaves these pieces with these very tie-ups in the order that changes fewest cords.

    Tie-ups that stand in such an order keep it, and what is known of their cords.
    """
    best = best_piece_order([answer.tieup for answer in answers], present)
    if _cords_of(_as_they_are(answers, present)) == best.cords:
        return PiecePlan(tuple(order), _as_they_are(answers, present), best.cords, given, order_proven=best.proven)
    pieces = tuple(order[place] for place in best.pieces)
    put = _as_they_are([answers[place] for place in best.pieces], present)
    return PiecePlan(pieces, put, best.cords, given, order_proven=best.proven)


def _on_one_tieup(
    drafts: Sequence[Draft],
    loom: Loom,
    present: TieUp | None,
    aim: Aim | None,
    should_stop: ShouldStop,
    progress: OnProgress,
) -> tuple[Remapping, ...] | None:
    """Return an answer for each piece, all with the same tie-up; None where no such tie-up is known."""
    if loom.action is Action.LEVERS or not all(draft.picks for draft in drafts):
        return None
    shafts = max(draft.shafts for draft in drafts)
    plan = tuple(shed for draft in drafts for shed in draft.sheds_of_ends())
    carrying = common(drafts[0].threaded_shafts(), every_shaft(min(shafts, loom.shafts)))
    sheds = distinct(tuple(common(shed, carrying) for shed in plan))
    targets = targets_of(sheds, min(shafts, loom.shafts), loom.action, carrying=carrying)
    together = fits(targets, loom.reach, loom.treadles, should_stop=should_stop)
    if not isinstance(together, Solved):
        return None
    first = drafts[0]
    joined = Draft(shafts, first.threading, Lifted(plan), first.yarns, first.warp, (0,) * len(plan))
    wanted = None if aim is Aim.CORDS and present is None else aim
    answer = remap(joined, loom, present=present, aim=wanted, should_stop=should_stop, progress=progress)
    if answer.verdict is not Verdict.FITS:
        return None
    pieces: list[Remapping] = []
    begin = 0
    for draft in drafts:
        pieces.append(_part(answer, draft, begin, first=not pieces))
        begin += draft.picks
    return tuple(pieces)


def _part(answer: Remapping, draft: Draft, begin: int, *, first: bool) -> Remapping:
    """Return the answer for the piece whose picks begin at `begin` of all; no cord changes before a later piece."""
    (stage,) = answer.stages
    footings = stage.footings[begin : begin + draft.picks]
    if not weaves_the_draft(draft, answer.loom, stage.tieup, footings):
        raise ProofFailedError("a piece on the common tie-up is other cloth")
    sheds = draft.sheds_of_ends()
    part = replace(
        stage,
        first=0,
        last=draft.picks - 1,
        footings=footings,
        sheds=shed_feet(sheds, footings),
        changes=stage.changes if first else (),
        fewest_cords=stage.fewest_cords if first else True,
        footwork=footwork_of_part(question(draft, answer.loom, None).treadling, footings, answer.loom),
    )
    return replace(answer, sheds=distinct(sheds), stages=(part,))


def _remembering(
    drafts: Sequence[Draft], loom: Loom, aim: Aim | None, should_stop: ShouldStop, progress: OnPieceProgress
) -> _TieAfter:
    known: dict[tuple[int, TieUp | None], Remapping] = {}

    def tie_after(piece: int, present: TieUp | None) -> Remapping:
        if (piece, present) not in known:
            wanted = None if aim is Aim.CORDS and present is None else aim
            known[piece, present] = remap(
                drafts[piece],
                loom,
                present=present,
                aim=wanted,
                should_stop=should_stop,
                progress=partial(progress, piece),
            )
        return known[piece, present]

    return tie_after


def _tied_in_turn(order: Sequence[int], present: TieUp | None, tie_after: _TieAfter) -> tuple[Remapping, ...]:
    """Tie each piece so that few cords change after the piece before it."""
    answers = []
    for piece in order:
        answer = _told_after(present, tie_after(piece, present))
        answers.append(answer)
        present = answer.stages[-1].tieup if answer.stages else present
    return tuple(answers)


def _told_after(present: TieUp | None, answer: Remapping) -> Remapping:
    """Return the answer with every cord that its tie-up drops, also where it takes one to hang in nobody's way."""
    if present is None or not answer.stages:
        return answer
    first, *others = answer.stages
    changes = cord_changes(present, first.tieup)
    if changes == first.changes:
        return answer
    stages = (replace(first, changes=changes, fewest_cords=False), *others)
    return replace(answer, stages=stages, fewest_cords_in_all=False)


def _nearest_next(start: int, pieces: Sequence[int], present: TieUp | None, tie_after: _TieAfter) -> tuple[int, ...]:
    """Return the order that begins with `start` and always goes on with the piece that changes fewest cords."""
    order, left = [start], [piece for piece in pieces if piece != start]
    tieup = tie_after(start, present).tieup
    while left:
        nearest = min(left, key=lambda piece: (_cords_of((tie_after(piece, tieup),)), piece))
        tieup = tie_after(nearest, tieup).tieup
        order.append(nearest)
        left.remove(nearest)
    return tuple(order)


def _as_they_are(answers: Sequence[Remapping], present: TieUp | None) -> tuple[Remapping, ...]:
    """Return these answers with the cords to change before each, tie-ups as they are."""
    told = []
    for answer in answers:
        changes = None if present is None else cord_changes(present, answer.tieup)
        stages: tuple[TiedStage, ...] = (replace(answer.stages[0], changes=changes, fewest_cords=False),)
        told.append(replace(answer, stages=stages))
        present = answer.tieup
    return tuple(told)


def _cords_of(answers: Sequence[Remapping]) -> int:
    return sum(stage.cords_changed or 0 for answer in answers for stage in answer.stages)
