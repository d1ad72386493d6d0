"""What is done at each pick of a draft: what moves, and which yarn is thrown."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from companion.draft.masks import Shed, TreadleSet, common
from companion.draft.model import Draft, Treadled


@dataclass(frozen=True, slots=True)
class Throw:
    """What is done at one pick: the treadles pressed, or for a lift plan the shafts (with ends) moved, and the yarn."""

    moved: TreadleSet | Shed
    yarn: int


def throws_of(draft: Draft) -> tuple[Throw, ...]:
    """Return what is done at each pick, in order."""
    lifting = draft.lifting
    moved: Sequence[TreadleSet | Shed]
    if isinstance(lifting, Treadled):
        moved = lifting.treadling
    else:
        carrying = draft.threaded_shafts()
        moved = [common(lift, carrying) for lift in lifting.plan]
    return tuple(Throw(one, yarn) for one, yarn in zip(moved, draft.weft, strict=True))
