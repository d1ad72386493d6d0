"""From a draft and the answer for a loom to a warp that can be woven."""

from __future__ import annotations

from companion.draft.masks import print_shed
from companion.draft.model import Draft
from companion.remap.remapped import Remapping, Verdict
from companion.weaving.warp import LoomProfile, Piece, Stage, Warp


class CannotDressError(ValueError):
    """This loom cannot weave this draft as it stands: one clear line."""


def dress(name: str, draft: Draft, profile: LoomProfile, answer: Remapping, re_tie: bool = False) -> Warp:
    """Return a warp called `name` with this draft as its one piece, tied as the answer says.

    `re_tie`: the weaver accepts to stop and tie the treadles anew. Raises CannotDressError, which says what would do.
    """
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
    return Warp(name, profile, (Piece(name, draft, stages, answer.footings),))


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
