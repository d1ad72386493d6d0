"""What the weaver has set: looks, hand, text size, pedal."""

from __future__ import annotations

from dataclasses import dataclass

from companion.draft.cloth import Surface
from companion.draft.facing import FROM_LEFT, Facing
from companion.draft.threading_groups import MOST_IN_GROUP, USUAL_GROUP
from companion.draft.units import Units
from companion.draft.winding_list import MOST_AT_ONCE
from companion.present.letters import KeyboardLayout
from companion.present.trade_words import AS_WRITTEN, Trade
from companion.present.weave import WeaveButton
from companion.remap.loom.feet_wish import FeetWish, FirstFoot, TabbyPlace
from companion.weaving.dressing import BACK_TO_FRONT, FRONT_TO_BACK
from companion.weaving.dressing_way import DressingWay

DARK, LIGHT = "dark", "light"
USUAL_TEXT, LARGE_TEXT = 1.0, 1.3


@dataclass(frozen=True, slots=True)
class Preferences:
    """The settings; the defaults suit a first start. `pedal` is the name of a serial port, empty for none.

    `double_tap` is what a double tap of the pedal stands for, None for nothing.
    `bare_switch`, `two_pedals` and `inverted` say what hangs on that port: switches on its control lines instead of a
    board, a second pedal for back, switches that read as pressed when they are not.
    `letters` are those of the keyboard on the screen, `cloth` is the surface drawn at the fell, `trade` whose words the
    screens and the voice say, `units` what they measure in, `facing` how this weaver reads drafts and counts ends.
    `next_keys` and `back_keys` are key codes of a pedal that acts as a keyboard, beside the usual ones.
    `shortest_pick_ms`: an advance by touch, key or pedal sooner after the last one is taken for a double press.
    `beater`: a switch at the beater hangs on the contact after the pedals, and a beat weaves the pick;
    `beater_with_treadles`: only where sensors under the treadles have felt the right ones.
    `over_under`: at each pick the way of the shuttle past floating selvedges is told.
    `wish` is what is wished of the feet on a loom that leaves it open.
    `front_to_back`, `group`, `at_once` and `end_by_end` are how the loom is dressed (see `weaving.dressing_way`).
    `motion`: a pick that is woven slides in at the fell.
    `advance_by_treadles`: where sensors feel the treadles, a pick is woven when the feet come off the right ones.
    """

    theme: str = DARK
    mirrored: bool = False
    text_scale: float = USUAL_TEXT
    pedal: str = ""
    bare_switch: bool = False
    two_pedals: bool = False
    inverted: bool = False
    sounds: bool = True
    advance_by_treadles: bool = False
    voice: bool = False
    double_tap: WeaveButton | None = None
    letters: KeyboardLayout = KeyboardLayout.QWERTY
    cloth: Surface = Surface.FACE
    trade: Trade = AS_WRITTEN
    units: Units = Units.METRIC
    facing: Facing = FROM_LEFT
    next_keys: tuple[int, ...] = ()
    back_keys: tuple[int, ...] = ()
    shortest_pick_ms: int = 250
    beater: bool = False
    beater_with_treadles: bool = False
    front_to_back: bool = False
    group: int = USUAL_GROUP
    at_once: int = 1
    end_by_end: bool = False
    motion: bool = True
    tabby: TabbyPlace = TabbyPlace.WHEREVER
    first_foot: FirstFoot = FirstFoot.EITHER
    over_under: bool = False

    @property
    def wish(self) -> FeetWish:
        """What is wished of the feet on a loom that leaves it open."""
        return FeetWish(self.tabby, self.first_foot)


def dressing_way(kept: Preferences) -> DressingWay:
    """Return the way of dressing that the settings ask for; a number that makes no sense is taken to a bound."""
    return DressingWay(
        FRONT_TO_BACK if kept.front_to_back else BACK_TO_FRONT,
        min(max(kept.group, 1), MOST_IN_GROUP),
        min(max(kept.at_once, 1), MOST_AT_ONCE),
        kept.end_by_end,
    )


@dataclass(frozen=True, slots=True)
class Teach:
    """Teach the program the keys of a pedal."""


@dataclass(frozen=True, slots=True)
class LeaveSettings:
    """The settings are as they shall be."""


SettingsOutcome = Preferences | Teach | LeaveSettings
