"""From drafts, the answers for a loom and the weaver's measures to a warp that can be woven."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from companion.draft.cloth import crossings_of
from companion.draft.facing import Facing, Side
from companion.draft.layers import layers
from companion.draft.masks import print_shed
from companion.draft.model import Draft
from companion.draft.selvedge import Edge, selvedges
from companion.remap.loom.loom import Action, Footing, Loom
from companion.remap.remapped import Remapping, Verdict
from companion.weaving.warp import LoomProfile, Piece, Stage, Warp, Winding, YarnSize


class CannotDressError(ValueError):
    """This loom cannot weave this draft as it stands: one clear line."""


@dataclass(frozen=True, slots=True)
class PieceMeasures:
    """What the weaver plans of one piece: see `Piece` for each."""

    picks_per_cm: float | None = None
    length_cm: float | None = None
    fringe_cm: float = 0.0
    spacer_cm: float = 0.0


NOTHING_PLANNED = PieceMeasures()
ANY_LENGTH_CM = 1.0
"""The length of a warp of which only its take-up and shrinkage count."""


@dataclass(frozen=True, slots=True)
class Measures:
    """What the weaver states of a new warp beyond its drafts: what was wound, its width in the reed, its yarns.

    `pieces` are the measures of the pieces in order; a piece beyond them has none. `starts` is where shuttles lie
    before their first pick, by the names of their yarns.
    """

    winding: Winding | None = None
    width_cm: float | None = None
    sizes: tuple[YarnSize, ...] = ()
    pieces: tuple[PieceMeasures, ...] = ()
    starts: Mapping[str, Side] = field(default_factory=dict)

    def of_piece(self, index: int) -> PieceMeasures:
        """Return the measures of a piece (index)."""
        return self.pieces[index] if index < len(self.pieces) else NOTHING_PLANNED


NO_MEASURES = Measures()


def name_of_warp(first: str, pieces: int) -> str:
    """Return what a warp is called where nobody says: as its first piece, and how many more there are."""
    return first if pieces == 1 else f"{first} and {pieces - 1} more"


def dress(
    name: str,
    drafts: Sequence[Draft],
    profile: LoomProfile,
    answers: Sequence[Remapping],
    re_tie: bool = False,
    measures: Measures = NO_MEASURES,
    facing: Facing | None = None,
) -> Warp:
    """Return a warp called `name` with a piece of each draft, in order, tied as the answers say.

    A single piece is called as the warp is, several by their titles. `re_tie`: the weaver accepts to stop and tie the
    treadles anew. With `facing` shuttles begin where the selvedges are caught best (see `draft.selvedge`), unless the
    measures say where; without it where a piece has them begin. Raises CannotDressError, which says what would do, and
    WeavingError where the measures do not fit together.
    """
    pieces = []
    for index, (called, draft, answer) in enumerate(zip(_piece_names(name, drafts), drafts, answers, strict=True)):
        try:
            stages = _stages(profile, answer, re_tie)
        except CannotDressError as error:
            raise CannotDressError(str(error) if len(drafts) == 1 else f"{called}: {error}") from error
        piece = _measured(called, draft, measures.of_piece(index), stages, answer.footings)
        piece = replace(piece, face_down=answer.face_down)
        pieces.append(replace(piece, begin_across=_begin_across(piece, measures.starts, facing)))
    return _warp(name, profile, pieces, measures)


def reckon_with(name: str, drafts: Sequence[Draft], profile: LoomProfile, measures: Measures = NO_MEASURES) -> Warp:
    """Return the warp as it is planned, before any tie-up is looked for: to tell amounts by, not to weave.

    It hangs on levers, so that nothing has to be tied. Raises WeavingError where the measures do not fit together.
    """
    levers = Loom(max(draft.shafts for draft in drafts), 0, Action.LEVERS)
    pieces = [
        _measured(called, draft, measures.of_piece(index))
        for index, (called, draft) in enumerate(zip(_piece_names(name, drafts), drafts, strict=True))
    ]
    return _warp(name, replace(profile, loom=levers, present=None), pieces, measures)


def _warp(name: str, profile: LoomProfile, pieces: Sequence[Piece], measures: Measures) -> Warp:
    # A draft may state how its ends are sleyed, or spaced.
    first = pieces[0].draft
    width_cm = measures.width_cm or first.sley.width_cm or sum(first.warp_layout.spacing_cm) or None
    return Warp(name, profile, tuple(pieces), measures.winding, measures.sizes, width_cm)


def _piece_names(name: str, drafts: Sequence[Draft]) -> list[str]:
    if len(drafts) == 1:
        return [name]
    return [draft.title or f"piece {number}" for number, draft in enumerate(drafts, 1)]


def _measured(
    name: str,
    draft: Draft,
    plan: PieceMeasures,
    stages: tuple[Stage, ...] = (),
    footings: tuple[Footing, ...] = (),
) -> Piece:
    return Piece(
        name,
        draft,
        stages,
        footings,
        picks_per_cm=plan.picks_per_cm,
        length_cm=plan.length_cm,
        fringe_cm=plan.fringe_cm,
        spacer_cm=plan.spacer_cm,
    )


def _begin_across(piece: Piece, told: Mapping[str, Side], facing: Facing | None) -> tuple[int, ...]:
    """Return the shuttles (yarns) of a piece that begin on the side opposite to its start side."""
    draft = piece.draft
    advised = None if facing is None else selvedges(draft, layers(crossings_of(draft)))
    across = []
    for yarn in piece.shuttles:
        side = told.get(draft.yarns[yarn].name)
        if side is None and facing is not None and advised is not None:
            side = facing.side_of(advised.start_of(yarn) is Edge.FIRST_END)
        if side is piece.start_side.opposite:
            across.append(yarn)
    return tuple(across)


def _stages(profile: LoomProfile, answer: Remapping, re_tie: bool) -> tuple[Stage, ...]:
    if answer.verdict is Verdict.TOO_FEW_SHAFTS:
        shafts = ", ".join(map(str, answer.missing_shafts))
        raise CannotDressError(f"ends are threaded on shafts that the loom lacks: {shafts}; use a loom that has them")
    if answer.verdict is not Verdict.FITS and not re_tie:
        raise CannotDressError(_too_few(profile, answer))
    return tuple(Stage(stage.first, stage.last, stage.tieup) for stage in answer.stages)


def _too_few(profile: LoomProfile, answer: Remapping) -> str:
    enough = f"{answer.fewest.best}" if answer.fewest.proven else f"at least {answer.fewest.at_least}"
    conflict = ""
    if answer.conflict is not None:
        sheds = ", ".join(print_shed(shed) for shed in answer.conflict.sheds)
        conflict = f" (the sheds {sheds} together already do not fit)"
    treadles = profile.loom.treadles
    few = "are too few" if answer.verdict is Verdict.RE_TIE else "may be too few, that they do was not found in time"
    return (
        f"{treadles} treadles {few}{conflict}: it needs {enough}, or --re-tie to stop and tie again "
        f"{len(answer.stages) - 1} times"
    )
