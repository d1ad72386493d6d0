"""What is counted before a warp is put on: ends, heddles, the winding list, groups to thread, dents, where to begin."""

from __future__ import annotations

from dataclasses import dataclass

from companion.draft.model import Draft
from companion.draft.repeat_search import Reading
from companion.draft.sley import Sley, raddle_groups, start_beside_middle, start_dent
from companion.draft.threading_groups import USUAL_GROUP, ThreadingGroup, groups_of
from companion.draft.warp_counts import EndsOfYarn, ShaftShort, ends_per_yarn, heddles_needed, heddles_short
from companion.draft.winding_list import WoundTurn, read_winding, wound_turns


@dataclass(frozen=True, slots=True)
class Tools:
    """What is at hand for a warp; each part None (or empty) where untold.

    `heddles` are those on each shaft of the loom, `reed_cm` the length of the reed, `raddle_per_cm` the spaces of the
    raddle. `at_once` ends are wound together; a group to thread has at most `group` ends.
    """

    heddles: tuple[int, ...] = ()
    reed_cm: float | None = None
    raddle_per_cm: float | None = None
    at_once: int = 1
    group: int = USUAL_GROUP


@dataclass(frozen=True, slots=True)
class DressingCounts:
    """The counts of a draft; those of dents are None where reed or plan are untold, and empty where no raddle is.

    `heddles` and `short` go by shafts (indices); `short` is None where the loom's heddles are untold. `raddle` has the
    ends in each space. A centred warp begins in the dent `start_dent` from the reed's edge on the side of end 1, known
    where the reed's length is, and in the dent `beside_middle` from the reed's middle; both count from 1. `unplanned`
    ends have no dent in the plan (below 0: dents are left over).
    """

    ends: int
    heddles: tuple[int, ...]
    short: tuple[ShaftShort, ...] | None
    yarns: tuple[EndsOfYarn, ...]
    winding: Reading[WoundTurn]
    groups: tuple[ThreadingGroup, ...]
    unplanned: int
    dents: int | None
    width_cm: float | None
    start_dent: int | None
    beside_middle: int | None
    raddle: tuple[int, ...]


def count_dressing(draft: Draft, sley: Sley, tools: Tools) -> DressingCounts:
    """Return the counts of a draft sleyed so with these tools; raises DraftError for a plan that they cannot carry."""
    needed = heddles_needed(draft)
    width_cm = sley.width_cm
    known = width_cm is not None
    return DressingCounts(
        ends=draft.ends,
        heddles=needed,
        short=heddles_short(needed, tools.heddles) if tools.heddles else None,
        yarns=ends_per_yarn(draft),
        winding=read_winding(wound_turns(draft, tools.at_once)),
        groups=groups_of(draft, tools.group),
        unplanned=draft.ends - sley.ends if sley.dents else 0,
        dents=sley.spanned if known else None,
        width_cm=width_cm,
        start_dent=start_dent(sley, tools.reed_cm) if known and tools.reed_cm is not None else None,
        beside_middle=start_beside_middle(sley) if known else None,
        raddle=raddle_groups(sley, tools.raddle_per_cm) if known and tools.raddle_per_cm is not None else (),
    )
