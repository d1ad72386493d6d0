"""What is chosen from where a loom is described by touch, and what a loom is in a few words."""

from __future__ import annotations

from companion.draft.units import counted
from companion.remap.loom.loom import Action, Loom

TREADLES = (4, 6, 8, 10, 12, 14)
"""Treadles that floor looms are commonly built with (common practice, no source)."""
ACTIONS = {
    Action.RISING: "Only raise shafts",
    Action.SINKING: "Only sink shafts",
    Action.COUNTERMARCHE: "Raise some and sink the rest",
    Action.LEVERS: "Levers, no treadles",
}
"""What the treadles of a loom do, as a weaver sees it."""


def loom_words(loom: Loom) -> str:
    """Return what a loom is, in a few words: `4 shafts, 6 treadles, rising`."""
    if loom.action is Action.LEVERS:
        return f"{counted(loom.shafts, 'shaft')}, levers"
    return f"{counted(loom.shafts, 'shaft')}, {counted(loom.treadles, 'treadle')}, {loom.action.value}"
