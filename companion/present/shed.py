"""One shed as a picture of the loom: the feet, the cords, the shafts that stand up."""

from __future__ import annotations

from dataclasses import dataclass

from companion.draft.masks import Shed, is_raised
from companion.present import wording
from companion.remap.loom.loom import Footing, TieUp
from companion.weaving.warp import Piece, Warp


@dataclass(frozen=True, slots=True)
class HarnessSigns:
    """The loom at one shed.

    `ties[treadle][shaft]` is 1 where a cord raises, -1 where it sinks, 0 where there is none; `left` and `right` are
    the treadle indices under each foot; `raised[shaft]` is the shed.
    """

    shafts: int
    ties: tuple[tuple[int, ...], ...]
    left: frozenset[int]
    right: frozenset[int]
    raised: tuple[bool, ...]
    left_letter: str = wording.LEFT_LETTER
    right_letter: str = wording.RIGHT_LETTER


def shed_signs(warp: Warp, piece: Piece, tieup: TieUp, footing: Footing, shed: Shed | None) -> HarnessSigns:
    """Return the loom with these feet on it and this shed open; None: none is."""
    # A shaft of the draft without ends may be one that the loom does not have.
    shafts = range(min(piece.draft.shafts, warp.loom.loom.shafts))
    return HarnessSigns(
        shafts=len(shafts),
        ties=tuple(
            tuple(int(is_raised(tie.up, shaft)) - int(is_raised(tie.down, shaft)) for shaft in shafts) for tie in tieup
        ),
        left=frozenset(footing.left),
        right=frozenset(footing.right),
        raised=tuple(shed is not None and is_raised(shed, shaft) for shaft in shafts),
    )
