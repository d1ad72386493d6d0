"""What a pick asks of its treadles, said in one language for every kind of loom.

A treadle does nothing but carry cords, and pressing several treadles pulls the cords of all of them. So a
pick asks for a set of *pulls*, its target, and the pressed treadles must together carry exactly those pulls:

- a rising loom pulls up the shafts of the shed; the rest stay down by themselves;
- a sinking loom pulls down the shafts that the shed leaves down; the rest stay up by themselves;
- a countermarche pulls every shaft, up or down: the target holds n pulls out of 2n (see `masks.pulls`), and
  since a treadle that takes part in a pick carries only pulls of that pick, no shaft is ever pulled both ways.

A pick with an empty target (nothing to raise on a rising loom, everything up on a sinking one) is opened by
pressing nothing. On a countermarche there is no such pick: even the shed that sinks every shaft is pressed.
"""

from __future__ import annotations

from collections.abc import Sequence

from companion.draft.masks import Shed, complement, every_shaft, pulls, pulls_down, pulls_up, within
from companion.remap.errors import RemapError
from companion.remap.loom.loom import Action, Tie


def targets_of(sheds: Sequence[Shed], shafts: int, action: Action) -> tuple[int, ...]:
    """Return for each shed the pulls it asks for: shed 1 3 on four sinking shafts gives `0b1010`.

    Raises RemapError for levers, which have no treadles, and for a shed beyond the shafts of the loom.
    """
    every = every_shaft(shafts)
    for shed in sheds:
        if not within(shed, every):
            raise RemapError(f"a shed raises a shaft beyond the {shafts} of the loom", mend="take a wider loom")
    match action:
        case Action.RISING:
            return tuple(sheds)
        case Action.SINKING:
            return tuple(complement(shed, shafts) for shed in sheds)
        case Action.COUNTERMARCHE:
            return tuple(pulls(shed, complement(shed, shafts), shafts) for shed in sheds)
        case Action.LEVERS:
            raise RemapError("a table loom has levers and no treadles", mend="ask for the lever changes instead")


def tie_of(column: int, shafts: int, action: Action) -> Tie:
    """Return the cords of the treadle that carries these pulls: `0b1010` on a sinking loom ties 2 and 4 down."""
    match action:
        case Action.RISING:
            return Tie(up=Shed(column))
        case Action.SINKING:
            return Tie(down=Shed(column))
        case _:
            return Tie(up=pulls_up(column, shafts), down=pulls_down(column, shafts))


def column_of(tie: Tie, shafts: int, action: Action) -> int:
    """Return the pulls that a treadle with these cords carries; the opposite of `tie_of`."""
    match action:
        case Action.RISING:
            return tie.up
        case Action.SINKING:
            return tie.down
        case _:
            return pulls(tie.up, tie.down, shafts)
