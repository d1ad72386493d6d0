"""The proof that a tie-up and its feet weave the draft's very cloth: both are woven in numpy and compared.

It shares nothing with the searches: no bit masks, no targets, only cords, feet and shafts, as a person would check it
under the loom. Every answer passes through here before anybody sees it.

Lemmas and proofs: assets/mathematics.md, "What proven means".
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from companion.draft.cloth import crossings_of
from companion.draft.masks import Shed, shafts_of
from companion.draft.model import Draft
from companion.remap.errors import RemapError
from companion.remap.loom.loom import Action, Footing, Loom, TieUp

PICKS_AT_ONCE = 512
"""Cloth is compared in stretches of this many picks, so that a long one does not fill the memory."""


class ProofFailedError(RemapError):
    """An answer does not weave the draft's cloth: a fault of this program, and the answer is not shown."""

    def __init__(self, what: str) -> None:
        super().__init__(f"the answer fails its proof: {what}", mend="please report this draft")


def raised_by(
    tieup: TieUp, footings: Sequence[Footing], shafts: int, action: Action, *, carrying: Sequence[int] | None = None
) -> NDArray[np.bool_]:
    """Return which shafts stand up at each pick: picks x shafts, bool.

    Those `carrying` ends (indices; all where nobody says) make the cloth. Raises ProofFailedError when a countermarche
    leaves one of these undriven, or drives any shaft both ways.
    """
    pressed = np.zeros((len(footings), len(tieup)), dtype=np.uint8)
    for pick, footing in enumerate(footings):
        pressed[pick, footing.left + footing.right] = 1
    pulled_up = _pulled(pressed, [tie.up for tie in tieup], shafts)
    pulled_down = _pulled(pressed, [tie.down for tie in tieup], shafts)
    if action is Action.SINKING:
        return ~pulled_down
    if action is Action.COUNTERMARCHE:
        driven = list(range(shafts)) if carrying is None else list(carrying)
        if (pulled_up & pulled_down).any() or not (pulled_up | pulled_down)[:, driven].all():
            raise ProofFailedError("a shaft is not driven, or driven both ways")
    return pulled_up


def shafts_up(sheds: Sequence[Shed], shafts: int) -> NDArray[np.bool_]:
    """Return the shafts of these sheds as levers set them: picks x shafts, bool."""
    up = np.zeros((len(sheds), shafts), dtype=np.bool_)
    for pick, shed in enumerate(sheds):
        for shaft in shafts_of(shed):
            up[pick, shaft - 1] = True
    return up


def check_feet(footings: Sequence[Footing], treadles: int, reach: int) -> None:
    """Raise ProofFailedError unless every footing can be stood: neighbours under a foot, left of right, on the loom."""
    for footing in set(footings):
        for foot in (footing.left, footing.right):
            if foot and (len(foot) > reach or foot != tuple(range(foot[0], foot[0] + len(foot)))):
                raise ProofFailedError(f"one foot cannot press {foot}")
            if foot and not 0 <= foot[0] <= foot[-1] < treadles:
                raise ProofFailedError("a treadle that the loom does not have")
        if footing.left and footing.right and footing.left[-1] >= footing.right[0]:
            raise ProofFailedError("crossed feet")


def weaves_the_draft(
    draft: Draft,
    loom: Loom,
    tieup: TieUp,
    footings: Sequence[Footing],
    *,
    first: int = 0,
    face_down: bool = False,
) -> bool:
    """Tell whether these feet on this tie-up weave picks `first`, `first + 1`, … of the draft exactly.

    With `face_down` the cloth must be the draft's with every crossing turned over: its back, seen from above.
    """
    check_feet(footings, loom.treadles, loom.reach)
    shafts = max(draft.shafts, *(len_of(tie.up) for tie in tieup), *(len_of(tie.down) for tie in tieup), 1)
    carrying = sorted({shaft for shaft in draft.threading if shaft is not None and shaft < loom.shafts})
    raised = raised_by(tieup, footings, shafts, loom.action, carrying=carrying)
    return same_cloth(draft, raised, first=first, face_down=face_down)


def same_cloth(draft: Draft, raised: NDArray[np.bool_], *, first: int = 0, face_down: bool = False) -> bool:
    """Tell whether shafts raised pick by pick (picks x shafts, bool) weave the draft's cloth from pick `first` on.

    An end on no shaft lies below every pick, face up or face down; so a draft with such an end has no face-down cloth.
    """
    wanted = crossings_of(draft)
    if first + len(raised) > wanted.picks:
        return False
    shafts = raised.shape[1]
    shaft_of_end = np.array([shafts if shaft is None else shaft for shaft in draft.threading], dtype=np.intp)
    on_no_shaft = np.zeros((len(raised), 1), dtype=np.bool_)
    padded = np.hstack((raised, on_no_shaft))
    for start in range(0, len(raised), PICKS_AT_ONCE):
        rows = padded[start : start + PICKS_AT_ONCE]
        cloth = wanted.matrix(slice(first + start, first + start + len(rows)))
        if not np.array_equal(rows[:, shaft_of_end], cloth != face_down):
            return False
    return True


def len_of(shed: Shed) -> int:
    """Return the highest shaft of a shed; 0 for none."""
    return max(shafts_of(shed), default=0)


def _pulled(pressed: NDArray[np.uint8], ties: Sequence[Shed], shafts: int) -> NDArray[np.bool_]:
    cords = np.zeros((len(ties), shafts), dtype=np.uint8)
    for treadle, tie in enumerate(ties):
        for shaft in shafts_of(tie):
            cords[treadle, shaft - 1] = 1
    pulled: NDArray[np.bool_] = (pressed @ cords) > 0
    return pulled
