"""What stands in the help for the words that follow a setting: keys and pedals, the hand, the unit.

The keys are named by the drivers.
"""

from __future__ import annotations

from collections.abc import Sequence

from companion.draft.unit_readings import length_reading
from companion.present.preferences import Preferences

_TAP, _HOLD = "a tap on the pedal", "holding the pedal"
_FIRST, _SECOND = "the first pedal", "the second pedal"


def following(now: Preferences, next_keys: Sequence[str], back_keys: Sequence[str]) -> dict[str, str]:
    """Return what stands for the words in italics of the help; the keys are names, as `("space", "enter")`.

    `{"next": "space, enter or a tap on the pedal", "right": "right", …}`.
    """
    by_foot = ((_FIRST, _SECOND) if now.two_pedals else (_TAP, _HOLD)) if now.pedal else ("", "")
    sides = ("left", "right")
    double = "nothing" if now.double_tap is None else f'"{now.double_tap.value}"'
    return {
        "next": _any_of((*next_keys, by_foot[0])),
        "back": _any_of((*back_keys, by_foot[1])),
        **dict(zip(sides, reversed(sides) if now.mirrored else sides, strict=True)),
        "cm": length_reading(now.units).sign,
        "double tap": double,
    }


def _any_of(ways: Sequence[str]) -> str:
    *first, last = dict.fromkeys(way for way in ways if way)
    return f"{', '.join(first)} or {last}" if first else last
