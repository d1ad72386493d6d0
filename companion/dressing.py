"""From drafts and the answers for a loom to a warp that can be woven."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from companion.draft.masks import print_shed
from companion.draft.model import Draft
from companion.remap.remapped import Remapping, Verdict
from companion.weaving.warp import LoomProfile, Piece, Stage, Warp, Winding


class CannotDressError(ValueError):
    """This loom cannot weave this draft as it stands: one clear line."""


@dataclass(frozen=True, slots=True)
class Measures:
    """What the weaver states of a new warp beyond its drafts; `fringe_cm` is unwoven warp kept after each piece."""

    winding: Winding | None = None
    picks_per_cm: float | None = None
    fringe_cm: float = 0.0


NO_MEASURES = Measures()


def dress(name: str, draft: Draft, profile: LoomProfile, answer: Remapping, re_tie: bool = False) -> Warp:
    """Return a warp called `name` with this draft as its one piece, tied as the answer says.

    `re_tie`: the weaver accepts to stop and tie the treadles anew. Raises CannotDressError, which says what would do.
    """
    return Warp(name, profile, (_piece(name, draft, profile, answer, re_tie, NO_MEASURES),))


def dress_pieces(
    name: str,
    drafts: Sequence[Draft],
    profile: LoomProfile,
    answers: Sequence[Remapping],
    re_tie: bool = False,
    measures: Measures = NO_MEASURES,
) -> Warp:
    """Return a warp called `name` with a piece of each draft, in order; raises as `dress` does, and WeavingError.

    A single piece is called as the warp is, several by their titles.
    """
    names = [name] if len(drafts) == 1 else [draft.title or f"piece {number}" for number, draft in enumerate(drafts, 1)]
    pieces = []
    for called, draft, answer in zip(names, drafts, answers, strict=True):
        try:
            pieces.append(_piece(called, draft, profile, answer, re_tie, measures))
        except CannotDressError as error:
            raise CannotDressError(str(error) if len(drafts) == 1 else f"{called}: {error}") from error
    return Warp(name, profile, tuple(pieces), measures.winding)


def _piece(name: str, draft: Draft, profile: LoomProfile, answer: Remapping, re_tie: bool, measures: Measures) -> Piece:
    if answer.verdict is Verdict.TOO_FEW_SHAFTS:
        shafts = ", ".join(map(str, answer.missing_shafts))
        raise CannotDressError(f"ends are threaded on shafts that the loom lacks: {shafts}; use a loom that has them")
    if answer.verdict is Verdict.UNKNOWN:
        raise CannotDressError(
            f"no tie-up was found in time; at least {answer.fewest.at_least} treadles are needed; give it more time"
        )
    if answer.verdict is Verdict.RE_TIE and not re_tie:
        raise CannotDressError(_too_few(profile, answer))
    stages = tuple(Stage(stage.first, stage.last, stage.tieup) for stage in answer.stages)
    return Piece(name, draft, stages, answer.footings, picks_per_cm=measures.picks_per_cm, fringe_cm=measures.fringe_cm)


def _too_few(profile: LoomProfile, answer: Remapping) -> str:
    enough = f"{answer.fewest.treadles}" if answer.fewest.proven else f"at least {answer.fewest.at_least}"
    conflict = ""
    if answer.conflict is not None:
        sheds = ", ".join(print_shed(shed) for shed in answer.conflict.sheds)
        conflict = f" (the sheds {sheds} together already do not fit)"
    return (
        f"{profile.loom.treadles} treadles are too few{conflict}: it needs {enough}, or --re-tie to stop and tie anew "
        f"{len(answer.stages) - 1} times"
    )
