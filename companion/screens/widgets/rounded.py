"""A rectangle with round corners, as the kv rules draw it."""

from __future__ import annotations

from typing import Any

from kivy.factory import Factory
from kivy.graphics import RoundedRectangle

_SEGMENTS = 4
"""Of a corner: at a radius of 20 pixels the straight lines leave the circle by 0.4 of one."""


class Rounded(RoundedRectangle):  # type: ignore[misc]
    """Kivy's own with fewer corners: each of its segments is a sliver drawn across the whole shape.

    With ten to a corner, as usual, a fifth of a frame goes into them where Mesa draws without a graphics processor.
    """

    def __init__(self, **properties: Any) -> None:
        super().__init__(segments=_SEGMENTS, **properties)


Factory.register(Rounded.__name__, cls=Rounded)
