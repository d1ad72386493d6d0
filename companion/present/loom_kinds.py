"""The kinds of loom in the trade's words, what is chosen from where one is described by touch, and a loom in a line."""

from __future__ import annotations

from companion.draft.units import counted
from companion.remap.loom.loom import Action, Loom

TREADLES = (4, 6, 8, 10, 12, 14)
"""Treadles that floor looms are commonly built with (common practice, no source)."""
MOST_BUILT = 20
"""Floor looms with more treadles are hardly ever built (common practice, no source)."""
KINDS = {
    Action.RISING: "jack",
    Action.SINKING: "counterbalance",
    Action.COUNTERMARCHE: "countermarche",
    Action.LEVERS: "table loom with levers",
}
"""What the trade calls a loom that works so; a sinking loom is a counterbalance as a rule."""
DOES = {
    Action.RISING: "tied shafts rise",
    Action.SINKING: "tied shafts sink, others rise",
    Action.COUNTERMARCHE: "some rise, others sink",
    Action.LEVERS: "levers, no treadles",
}
"""What is seen when something is pressed, by which it is told from the others."""


def kind_button(action: Action) -> str:
    """Return a kind as a button says it: `Jack`, `Table loom`."""
    return "Table loom" if action is Action.LEVERS else KINDS[action].capitalize()


def loom_words(loom: Loom) -> str:
    """Return what a loom is: `4 shafts, 6 treadles, jack`."""
    treadles = () if loom.action is Action.LEVERS else (counted(loom.treadles, "treadle"),)
    return ", ".join((counted(loom.shafts, "shaft"), *treadles, KINDS[loom.action]))


def unnamed_loom_words(loom: Loom) -> str:
    """Return what a loom is that was described by its treadles: `6 treadles, jack`, `Table loom`."""
    if loom.action is Action.LEVERS:
        return kind_button(loom.action)
    return f"{counted(loom.treadles, 'treadle')}, {KINDS[loom.action]}"


def loom_in_full(loom: Loom) -> str:
    """Return what a loom is, and what a foot may press: `4 shafts, 6 treadles, jack, one treadle under a foot`."""
    if loom.action is Action.LEVERS:
        return loom_words(loom)
    foot = "one treadle" if loom.reach == 1 else f"up to {loom.reach} adjacent treadles"
    return f"{loom_words(loom)}, {foot} under a foot"
