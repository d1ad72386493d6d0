"""Several pieces on one warp woven with the same feet: one treadling for all of them, and a tie-up for each.

The pieces are laid over each other: as if each hung on shafts of its own, and one draft wove them all at once. A tie-up
for that draft has, in the column of each treadle, the ties of that treadle in every piece; so the search for fewest
treadles and light feet, its bounds and its proofs hold for the pieces together as they hold for one.

Lemmas and proofs: assets/mathematics.md, "Pieces laid over each other".
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from companion.draft.masks import NO_SHAFT, Shed, bits_of, is_raised, shed_of
from companion.draft.model import MOST_SHAFTS, Colour, Draft, Lifted, Yarn, distinct
from companion.draft.tabby import tabby_sheds
from companion.remap.aim import Aim
from companion.remap.feet.place_tieup import shed_feet
from companion.remap.feet.tied_stage import Footwork, TiedStage
from companion.remap.loom.cords import cord_changes
from companion.remap.loom.loom import Action, Loom, Tie, TieUp
from companion.remap.loom.question import as_counted
from companion.remap.proof import ProofFailedError, weaves_the_draft
from companion.remap.remapped import Remapping, Verdict
from companion.remap.remapping import remap
from companion.remap.search.answers import OnProgress, ShouldStop, never_stop, tell_nobody
from companion.remap.search.bounds import Bounds
from companion.remap.stages.piece_order import best_piece_order

_YARN = Yarn("thread", Colour(0, 0, 0))


@dataclass(frozen=True, slots=True)
class SameFeet:
    """How pieces are woven with the same feet: `fewest` are the treadles that they need together.

    What the answer of a piece says of the fewest treadles and of the least footwork is of all pieces together: no
    tie-ups on which one treadling weaves them all need less. A piece by itself may do with less.

    `order` are the pieces (indices as given) in the order of weaving, `answers` stand in it; both are empty where the
    loom has too few treadles, or it is not known. `cords` change in all, from the present tie-up, where known, to the
    last piece, and `cords_as_given` in the order given. `order_proven`: no order of these tie-ups changes fewer.
    """

    fewest: Bounds
    order: tuple[int, ...] = ()
    answers: tuple[Remapping, ...] = ()
    cords: int = 0
    cords_as_given: int = 0
    order_proven: bool = False

    @property
    def fits(self) -> bool:
        """Whether the loom has the treadles for it."""
        return bool(self.answers)

    @property
    def footwork(self) -> Footwork | None:
        """What the feet do in every piece, and what no tie-ups with the same feet for all pieces are below."""
        return self.answers[0].stages[0].footwork if self.answers else None


def plan_same_feet(
    drafts: Sequence[Draft],
    loom: Loom,
    *,
    present: TieUp | None = None,
    keep_order: bool = False,
    should_stop: ShouldStop = never_stop,
    progress: OnProgress = tell_nobody,
) -> SameFeet | None:
    """Plan the pieces of a warp so that the same feet weave each; None where that cannot be asked for.

    That is: for a single piece, for pieces of different lengths or of none, on levers, where the loom lacks shafts, and
    where more shafts in all move in ways of their own than a draft may have. Raises RemapError for a loom that makes no
    sense. The threadings must be the same (see `pieces`).
    """
    threaded = drafts[0].threaded_shafts() if drafts else NO_SHAFT
    lengths = {draft.picks for draft in drafts}
    cannot_be = loom.action is Action.LEVERS or any(draft.shafts_needed > loom.shafts for draft in drafts)
    if len(drafts) < 2 or len(lengths) != 1 or not max(lengths) or not threaded or cannot_be:
        return None
    stack = _Stack.of(drafts, threaded, loom.action)
    if len(stack.moves) > MOST_SHAFTS:
        return None
    present = as_counted(present, max(drafts, key=lambda draft: draft.shafts), loom)
    over = Loom(max(len(stack.moves), 1), loom.treadles, loom.action, loom.reach, loom.wish)
    together = stack.together(tabby_sheds(drafts[0].threading))
    answer = remap(
        stack.draft(),
        over,
        aim=Aim.FEET,
        should_stop=should_stop,
        progress=progress,
        plain_weave=together,
        planned=False,
    )
    if answer.verdict is not Verdict.FITS:
        return SameFeet(answer.fewest)
    (stage,) = answer.stages
    tieups = [stack.tieup_of(piece, stage, present) for piece in range(len(drafts))]
    given = best_piece_order(tieups, present)
    as_given = tuple(range(len(drafts)))
    order = as_given if keep_order else given.pieces
    told = _told(drafts, loom, answer, tieups, as_given, present)
    cords_as_given = _cords_of(told)
    if order != as_given:
        told = _told(drafts, loom, answer, tieups, order, present)
    cords = _cords_of(told)
    return SameFeet(answer.fewest, order, told, cords, cords_as_given, given.proven and cords == given.cords)


@dataclass(frozen=True, slots=True)
class _Stack:
    """Pieces over each other. `moves[m]` tells at which of the different picks a shaft of the stack is up.

    Shafts that move alike are one; `move_of[piece][shaft]` is that of a shaft (index) that carries ends in a piece. One
    that no treadle has to move has none.
    """

    kinds: tuple[tuple[Shed, ...], ...]
    """The different picks: the shed of each piece."""
    moves: tuple[tuple[bool, ...], ...]
    move_of: tuple[dict[int, int], ...]
    pick_kinds: tuple[int, ...]
    """For each pick which of the different ones it is."""

    @classmethod
    def of(cls, drafts: Sequence[Draft], threaded: Shed, action: Action) -> _Stack:
        sheds = list(zip(*(draft.sheds_of_ends() for draft in drafts), strict=True))
        kinds = {kind: number for number, kind in enumerate(dict.fromkeys(sheds))}
        at_rest = {Action.RISING: False, Action.SINKING: True}.get(action)
        places: dict[tuple[bool, ...], int] = {}
        move_of = []
        for piece in range(len(drafts)):
            mine = {}
            for shaft in bits_of(threaded):
                move = tuple(is_raised(kind[piece], shaft) for kind in kinds)
                if any(up is not at_rest for up in move):
                    mine[shaft] = places.setdefault(move, len(places))
            move_of.append(mine)
        return cls(tuple(kinds), tuple(places), tuple(move_of), tuple(kinds[kind] for kind in sheds))

    def draft(self) -> Draft:
        """Return the draft that weaves all pieces at once, an end on each of its shafts."""
        one = tuple(self._shed_of_kind(kind) for kind in range(max(self.pick_kinds) + 1))
        plan = tuple(one[kind] for kind in self.pick_kinds)
        ends = tuple(range(len(self.moves))) or (None,)
        return Draft(max(len(self.moves), 1), ends, Lifted(plan), (_YARN,), (0,) * len(ends), (0,) * len(plan))

    def together(self, tabby: tuple[Shed, Shed] | None) -> tuple[Shed, Shed] | None:
        """Return the sheds of the stack where every piece weaves the same shed of plain weave; None for none."""
        woven = [] if tabby is None else [self._stacked(shed) for shed in tabby]
        found = [shed for shed in woven if shed is not None]
        return (found[0], found[1]) if len(found) == 2 else None

    def tieup_of(self, piece: int, stage: TiedStage, present: TieUp | None) -> TieUp:
        """Return the ties of a piece; a treadle that nobody presses keeps the cords that hang on it now."""
        pressed = {treadle for footing in stage.footings for treadle in (*footing.left, *footing.right)}
        ties = []
        for treadle, tie in enumerate(stage.tieup):
            if treadle in pressed:
                ties.append(Tie(self._unstacked(piece, tie.up), self._unstacked(piece, tie.down)))
            else:
                ties.append(present[treadle] if present is not None and treadle < len(present) else Tie())
        return tuple(ties)

    def _shed_of_kind(self, kind: int) -> Shed:
        return shed_of(shaft for shaft, move in enumerate(self.moves, 1) if move[kind])

    def _stacked(self, shed: Shed) -> Shed | None:
        """Return the shed of the stack at picks where each piece weaves this one; None where there is no such pick."""
        for kind, woven in enumerate(self.kinds):
            if all(one == shed for one in woven):
                return self._shed_of_kind(kind)
        return None

    def _unstacked(self, piece: int, stacked: Shed) -> Shed:
        return shed_of(shaft + 1 for shaft, move in self.move_of[piece].items() if is_raised(stacked, move))


def _told(
    drafts: Sequence[Draft],
    loom: Loom,
    answer: Remapping,
    tieups: Sequence[TieUp],
    order: Sequence[int],
    present: TieUp | None,
) -> tuple[Remapping, ...]:
    """Return an answer for each piece in this order, proved, with the cords to change before it."""
    (stage,) = answer.stages
    told = []
    for piece in order:
        draft, tieup = drafts[piece], tieups[piece]
        if not weaves_the_draft(draft, loom, tieup, stage.footings):
            raise ProofFailedError("a piece woven with the same feet is other cloth")
        sheds = draft.sheds_of_ends()
        own = replace(
            stage,
            tieup=tieup,
            sheds=shed_feet(sheds, stage.footings),
            changes=None if present is None else cord_changes(present, tieup),
            fewest_cords=False,
        )
        tabby = tabby_sheds(draft.threading)
        told.append(replace(answer, loom=loom, sheds=distinct(sheds), stages=(own,), tabby=tabby))
        present = tieup
    return tuple(told)


def _cords_of(answers: Sequence[Remapping]) -> int:
    return sum(stage.cords_changed or 0 for answer in answers for stage in answer.stages)
