"""Mistakes in how the loom is dressed or tied, in words: what is wrong, and what mending it needs."""

from __future__ import annotations

from companion.draft.model import Draft
from companion.draft.units import counted
from companion.weaving.events import FaultKind
from companion.weaving.mending import ThreadingMend


def of_loom_words(draft: Draft, kind: FaultKind, end: int | None, shaft: int | None, treadle: int | None) -> str:
    """Return what is wrong (indices): `end 41 is on shaft 3 in place of 4`, `treadle 2 pulls wrong shafts`."""
    if kind is FaultKind.THREADING and end is not None and shaft is not None:
        belongs = draft.threading[end]
        place = "and belongs on none" if belongs is None else f"in place of {belongs + 1}"
        return f"end {end + 1} is on shaft {shaft + 1} {place}"
    if kind is FaultKind.TIE_UP and treadle is not None:
        return f"treadle {treadle + 1} pulls wrong shafts"
    return kind.value if end is None else f"{kind.value} at end {end + 1}"


def threading_mend_lines(mend: ThreadingMend) -> tuple[str, ...]:
    """Return the ways to mend a threading mistake, the least work first."""
    if mend.belongs is None:
        return (f"Draw end {mend.end + 1} out of its heddle: it belongs on no shaft",)
    lines = []
    if mend.crossed_with is not None:
        lines.append(f"Crossed with end {mend.crossed_with + 1}? Thread these 2 ends again")
    lines.append(f"No heddle free there? Tie a repair heddle on shaft {mend.belongs + 1}, thread 1 end again")
    lines.append(f"All shifted from here on? Thread {counted(mend.ends_anew, 'end')} again, to the nearer selvedge")
    return tuple(lines)


def sleying_mend_lines(ends: int) -> tuple[str, ...]:
    """Return the ways to mend a sleying mistake, from which on so many ends lie to the nearer selvedge."""
    return (
        "Two ends crossed between dents? Sley these 2 again",
        f"A dent empty, or one too full? Sley {counted(ends, 'end')} again, to the nearer selvedge",
    )
