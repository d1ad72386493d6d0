"""The theme's colours as Kivy wants them, and the sizes of one window."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from kivy.metrics import dp

from companion.present.trade_words import AS_WRITTEN, Trade
from companion.screens.theme import SMALLEST_TARGET_DP, Sizes, Theme, from_hex, sizes_for

RGBA = tuple[float, float, float, float]
CLEAR: RGBA = (0.0, 0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Look:
    """One theme and the words of a trade; each colour as red, green, blue, opacity in 0..1."""

    theme: Theme
    trade: Trade
    ground: RGBA
    panel: RGBA
    text: RGBA
    quiet_text: RGBA
    button: RGBA
    button_down: RGBA
    accent: RGBA
    accent_down: RGBA
    accent_line: RGBA
    on_accent: RGBA
    left_foot: RGBA
    right_foot: RGBA
    on_foot: RGBA
    warning: RGBA
    on_warning: RGBA


@cache
def rgba(code: str) -> RGBA:
    """Return a colour code as parts: `rgba("#FF0000")` is `(1.0, 0.0, 0.0, 1.0)`."""
    red, green, blue = from_hex(code)
    return red / 255, green / 255, blue / 255, 1.0


def covered(size: tuple[float, float], colour: RGBA) -> tuple[float, float]:
    """Return the size of a shape in a colour: none where that is clear, for what nobody sees costs as much to draw."""
    return size if colour[3] else (0, 0)


def look_of(theme: Theme, trade: Trade = AS_WRITTEN) -> Look:
    """Return the look of a theme, and whose words its screens say."""
    colours = {name: rgba(getattr(theme, name)) for name in Look.__slots__ if name not in ("theme", "trade")}
    return Look(theme=theme, trade=trade, **colours)


def window_sizes(width: float, height: float, text_scale: float = 1.0) -> Sizes:
    """Return the sizes for a window of this many pixels."""
    return sizes_for(width, height, dp(SMALLEST_TARGET_DP), text_scale)
