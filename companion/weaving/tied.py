"""Whether a loom can be, cords can hang on it, stages follow each other, and what is pressed opens the sheds."""

from __future__ import annotations

from collections.abc import Sequence

from companion.draft.masks import Shed, common, complement, every_shaft, union, within
from companion.draft.model import MOST_SHAFTS, MOST_THREADS
from companion.remap.loom.loom import Action, Footing, Loom, TieUp
from companion.remap.search.fewest import MOST_TREADLES
from companion.weaving.errors import WeavingError


def check_loom(where: str, loom: Loom) -> None:
    """Raise WeavingError, which begins with `where`, for a loom that cannot be."""
    if not 1 <= loom.shafts <= MOST_SHAFTS:
        raise WeavingError(f"{where} has {loom.shafts} shafts; give 1 to {MOST_SHAFTS}")
    if not 0 <= loom.treadles <= MOST_TREADLES:
        raise WeavingError(f"{where} has {loom.treadles} treadles; give at most {MOST_TREADLES}")
    if loom.reach not in (1, 2):
        raise WeavingError(f"{where}: a foot presses {loom.reach} treadles; give a reach of 1 or 2")


def check_ties(where: str, tieup: TieUp, shafts: int) -> None:
    """Raise WeavingError where a treadle ties a shaft that the loom lacks."""
    every = every_shaft(shafts)
    for treadle, tie in enumerate(tieup, 1):
        if not (within(tie.up, every) and within(tie.down, every)):
            raise WeavingError(f"{where}: treadle {treadle} ties a shaft beyond the {shafts} of the loom")


def check_heddles(where: str, heddles: Sequence[int], shafts: int) -> None:
    """Raise WeavingError for heddles of shafts that the loom lacks, or more of them than there can be ends."""
    if len(heddles) > shafts or not all(0 <= there <= MOST_THREADS for there in heddles):
        raise WeavingError(
            f"{where}: its heddles are told for other shafts than it has, or for more ends than there are"
        )


def check_stages(where: str, spans: Sequence[tuple[int, int]], picks: int) -> None:
    """Raise WeavingError where stages (first and last pick of each, indices) do not follow each other to the end."""
    stops = [-1, *(last for _, last in spans)]
    if any(first != stop + 1 or last < first for (first, last), stop in zip(spans, stops[:-1], strict=True)):
        raise WeavingError(
            f"{where}: its stages leave a gap or overlap; each begins after the last pick of the one before"
        )
    if spans and stops[-1] != picks - 1:
        raise WeavingError(f"{where}: its stages end at pick {stops[-1] + 1} of {picks}")


def check_treadles(where: str, tieup: TieUp, footings: Sequence[Footing]) -> None:
    """Raise WeavingError where a footing presses a treadle that is not tied, or one twice."""
    for footing in set(footings):
        pressed = (*footing.left, *footing.right)
        if not all(0 <= treadle < len(tieup) for treadle in pressed) or len(set(pressed)) < len(pressed):
            raise WeavingError(f"{where}: a foot presses a treadle beyond the {len(tieup)} that are tied, or one twice")


def opens(footing: Footing, shed: Shed, tieup: TieUp, action: Action, threaded: Shed) -> bool:
    """Tell whether a footing opens a shed, as far as there are ends on its shafts (`threaded`)."""
    pressed = (*footing.left, *footing.right)
    up = common(union(tieup[treadle].up for treadle in pressed), threaded)
    down = common(union(tieup[treadle].down for treadle in pressed), threaded)
    wanted = common(shed, threaded)
    sunk = common(complement(shed, MOST_SHAFTS), threaded)
    match action:
        case Action.SINKING:
            return down == sunk
        case Action.COUNTERMARCHE:
            return up == wanted and down == sunk
        case _:
            return up == wanted
