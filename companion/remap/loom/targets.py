"""What a pick asks of its treadles, said in one language for every kind of loom.

A treadle does nothing but carry cords, and pressing several treadles pulls the cords of all of them. So a
pick asks for a set of *pulls*, its target, and the pressed treadles must together carry exactly those pulls:

- a rising loom pulls up the shafts of the shed; the rest stay down by themselves;
- a sinking loom pulls down the shafts that the shed leaves down; the rest stay up by themselves;
- a countermarche pulls every shaft, up or down: the target holds n pulls out of 2n (see `masks.pulls`), and
  since a treadle that takes part in a pick carries only pulls of that pick, no shaft is ever pulled both ways.

A pick with an empty target (nothing to raise on a rising loom, everything up on a sinking one) is opened by
pressing nothing. On a countermarche there is no such pick: even the shed that sinks every shaft is pressed.

Lemmas and proofs: assets/mathematics.md, "Targets, pulls and columns".
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NewType

from companion.draft.masks import Shed, common, every_shaft, pulls, pulls_down, pulls_up, within, without
from companion.remap.errors import RemapError
from companion.remap.loom.loom import Action, Tie, TieUp

Column = NewType("Column", int)
"""The pulls that one treadle carries (its cords, in the language of targets); 0 for an untied treadle."""
Columns = tuple[Column, ...]
"""A column for each treadle, the leftmost first where the order matters."""
UNTIED = Column(0)
Target = NewType("Target", Column)
"""The pulls that a pick asks for. A target may be a column too: that of a treadle which opens it alone."""


def targets_of(
    sheds: Sequence[Shed], shafts: int, action: Action, *, carrying: Shed | None = None
) -> tuple[Target, ...]:
    """Return for each shed the pulls it asks for: shed 1 3 on four sinking shafts gives `0b1010`.

    Only the shafts that are `carrying` ends (all where nobody says) are asked to move: the others make no cloth.

    Raises RemapError for levers, which have no treadles, and for a shed beyond the shafts of the loom.
    """
    every = every_shaft(shafts)
    for shed in sheds:
        if not within(shed, every):
            raise RemapError(f"a shed raises a shaft beyond the {shafts} of the loom", mend="take a wider loom")
    moved = every if carrying is None else carrying
    up = [common(shed, moved) for shed in sheds]
    match action:
        case Action.RISING:
            return tuple(_target(shed) for shed in up)
        case Action.SINKING:
            return tuple(_target(without(moved, shed)) for shed in up)
        case Action.COUNTERMARCHE:
            return tuple(_target(pulls(shed, without(moved, shed), shafts)) for shed in up)
        case Action.LEVERS:
            raise RemapError("a table loom has levers and no treadles", mend="ask for the lever changes instead")


def _target(pulled: int) -> Target:
    return Target(Column(pulled))


def tie_of(column: Column, shafts: int, action: Action) -> Tie:
    """Return the cords of the treadle that carries these pulls: `0b1010` on a sinking loom ties 2 and 4 down."""
    match action:
        case Action.RISING:
            return Tie(up=Shed(column))
        case Action.SINKING:
            return Tie(down=Shed(column))
        case _:
            return Tie(up=pulls_up(column, shafts), down=pulls_down(column, shafts))


def column_of(tie: Tie, shafts: int, action: Action) -> Column:
    """Return the pulls that a treadle with these cords carries; the opposite of `tie_of`."""
    match action:
        case Action.RISING:
            return Column(tie.up)
        case Action.SINKING:
            return Column(tie.down)
        case _:
            return Column(pulls(tie.up, tie.down, shafts))


def columns_of(tieup: TieUp, shafts: int, action: Action) -> Columns:
    """Return the column of every treadle of a tie-up; the opposite of `tieup_of`."""
    return tuple(column_of(tie, shafts, action) for tie in tieup)


def tieup_of(columns: Sequence[Column], shafts: int, action: Action) -> TieUp:
    """Return the tie-up of treadles that carry these columns: what is searched in columns becomes cords here."""
    return tuple(tie_of(column, shafts, action) for column in columns)


def pulled_by(columns: Iterable[Column]) -> Column:
    """Return what treadles with these columns pull when they are pressed together."""
    pulled = 0
    for column in columns:
        pulled |= column
    return Column(pulled)


def by_treadle(columns: Sequence[Column], places: Sequence[int], treadles: int) -> Columns:
    """Return the column of every treadle of the loom, 0 where none is placed."""
    placed = [UNTIED] * treadles
    for column, treadle in zip(columns, places, strict=True):
        placed[treadle] = column
    return tuple(placed)
