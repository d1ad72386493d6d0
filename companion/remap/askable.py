"""Whether a question makes sense: a loom there can be, and a present tie-up that hangs on it."""

from __future__ import annotations

from companion.draft.masks import common, every_shaft, print_shed
from companion.remap.errors import RemapError
from companion.remap.loom.loom import Action, Loom, TieUp
from companion.remap.search.fewest import MOST_TREADLES


def check_askable(loom: Loom, present: TieUp | None) -> None:
    """Raise RemapError for a loom that makes no sense, and for a present tie-up that it cannot have."""
    if loom.action is not Action.LEVERS and not 1 <= loom.treadles <= MOST_TREADLES:
        raise RemapError(f"a loom with {loom.treadles} treadles", mend=f"say 1 to {MOST_TREADLES}")
    if loom.shafts < 1:
        raise RemapError(f"a loom with {loom.shafts} shafts", mend="say 1 or more")
    if loom.reach not in (1, 2):
        raise RemapError(f"a foot that presses {loom.reach} treadles", mend="say a reach of 1 or 2")
    if present is None:
        return
    if loom.action is Action.LEVERS:
        raise RemapError("a loom of levers has no tie-up", mend="leave its present tie-up out")
    if len(present) > loom.treadles:
        raise RemapError(
            f"the present tie-up has {len(present)} treadles and the loom {loom.treadles}", mend="leave the rest out"
        )
    for treadle, tied in enumerate(present, 1):
        for shed in (tied.up, tied.down):
            if common(shed, every_shaft(loom.shafts)) != shed:
                raise RemapError(
                    f"treadle {treadle} of the present tie-up ties {print_shed(shed)}",
                    mend=f"name shafts 1 to {loom.shafts}, those of the loom",
                )
