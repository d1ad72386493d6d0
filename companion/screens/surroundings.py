"""What every place on the screen is made with: look, sizes, units, facing, keyboard and hand."""

from __future__ import annotations

from dataclasses import dataclass

from companion.draft.facing import Facing
from companion.draft.units import Units
from companion.present.letters import KeyboardLayout
from companion.remap.loom.feet_wish import ANY_FEET, FeetWish
from companion.screens.look import Look
from companion.screens.theme import Sizes


@dataclass(frozen=True, slots=True)
class Surroundings:
    """The same for all places at one time; `mirrored` is the left-handed way round, `wish` what the feet like.

    `over_under`: the way of a shuttle past floating selvedges is told.
    `motion`: what moves on the screen may be seen to move.
    """

    look: Look
    sizes: Sizes
    units: Units
    facing: Facing
    letters: KeyboardLayout = KeyboardLayout.QWERTY
    mirrored: bool = False
    wish: FeetWish = ANY_FEET
    over_under: bool = False
    motion: bool = False
