"""From a draft and a loom to a warp that can be woven: the draft's sheds on the loom's treadles."""

from __future__ import annotations

from collections.abc import Callable

from companion.draft.model import Draft
from companion.remap.answers import ProvedImpossible, Solved
from companion.remap.fewest import fewest_treadles
from companion.remap.loom import Action
from companion.weaving.warp import LoomProfile, Piece, Stage, Warp


class CannotDressError(ValueError):
    """This loom cannot weave this draft as it stands: one clear line."""


def dress(name: str, draft: Draft, profile: LoomProfile, should_stop: Callable[[], bool]) -> Warp:
    """Return a warp called `name` with this draft as its one piece, tied for this loom.

    Raises CannotDressError, which names the fewest treadles that would do.
    """
    loom = profile.loom
    if draft.shafts > loom.shafts:
        raise CannotDressError(f"the draft needs {draft.shafts} shafts and the loom has {loom.shafts}")
    if loom.action is Action.LEVERS or not draft.picks:
        return Warp(name, profile, (Piece(name, draft),))
    sheds = draft.sheds()
    found = fewest_treadles(sheds, loom.shafts, loom.action, loom.reach, most=loom.treadles, should_stop=should_stop)
    if not isinstance(found, Solved):
        why = "needs" if isinstance(found, ProvedImpossible) else "no answer was found in time; it needs"
        raise CannotDressError(
            f"{loom.treadles} treadles are too few: the draft {why} at least {found.at_least}; "
            f"see fellside remap FILE --treadles {loom.treadles}"
        )
    footing = {shed: found.answer.footing_of(shed) for shed in set(sheds)}
    stage = Stage(0, draft.picks - 1, found.answer.tieup)
    return Warp(name, profile, (Piece(name, draft, (stage,), tuple(footing[shed] for shed in sheds)),))
