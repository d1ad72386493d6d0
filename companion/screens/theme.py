"""Every colour and size of the screens; nothing here draws.

Marks use the Okabe-Ito palette (M. Okabe and K. Ito, "Color Universal Design"), which colour-blind people can
tell apart, and no mark relies on colour alone: a foot also has its letter and its place, a fault its shape.
"""

from __future__ import annotations

from dataclasses import dataclass

ORANGE = "#E69F00"
SKY_BLUE = "#56B4E9"
YELLOW = "#F0E442"
BLACK = "#000000"

SMALLEST_TARGET_DP = 48
"""A touch target is never smaller: 48 dp are about 9 mm."""
SMALLEST_WORD_PX = 18
"""No words are smaller, whatever the window."""


@dataclass(frozen=True, slots=True)
class Theme:
    """The colours of one look, as hex codes. Every `text` colour keeps 7:1 on the ground it stands on, every sign 3:1.

    There is one accent: on a page it is what most weavers touch there, or what is chosen; `accent_line` is the same for
    lines and frames, which need more contrast than a ground with words on it. The feet have their own.
    `button_down` and `accent_down` lie under a finger; what is switched on is `text`, and `quiet_text` under a finger.
    """

    name: str
    ground: str
    panel: str
    text: str
    quiet_text: str
    line: str
    button: str
    button_down: str
    grid: str
    accent_line: str
    accent: str = ORANGE
    accent_down: str = "#CC8D00"
    on_accent: str = BLACK
    left_foot: str = ORANGE
    right_foot: str = SKY_BLUE
    on_foot: str = BLACK
    warning: str = YELLOW
    on_warning: str = BLACK


DARK = Theme(
    name="dark",
    ground="#0F1316",
    panel="#1A2025",
    text="#F5F2EB",
    quiet_text="#CDD3D8",
    line="#75818B",
    button="#27303A",
    button_down="#3A4653",
    grid="#323B43",
    accent_line=ORANGE,
)
LIGHT = Theme(
    name="light",
    ground="#F6F3EC",
    panel="#FFFFFF",
    text="#15181B",
    quiet_text="#3A4148",
    line="#7A828A",
    button="#E6E2D8",
    button_down="#CFC9BB",
    grid="#D8D3C8",
    accent_line="#9C5A00",
)
THEMES = {theme.name: theme for theme in (DARK, LIGHT)}


def from_hex(code: str) -> tuple[int, int, int]:
    """Return the sRGB colour of a code, each part 0..255: `from_hex("#E69F00")` is `(230, 159, 0)`."""
    return int(code[1:3], 16), int(code[3:5], 16), int(code[5:7], 16)


@dataclass(frozen=True, slots=True)
class Sizes:
    """Sizes in pixels for one window.

    The scale of type has three sizes, and no words on any screen have another: `sign` for what this very pick needs,
    `title` for what a page is about, `word` for everything else, buttons included. `crossing` is the side of one
    crossing of the cloth at the fell, `square` that of a square of a draft that is read, `square_to_touch` that of one
    that is edited, `target` the least that is touched, `help` that of the sign that opens the help; the rest are
    heights. `upright`: the window has height to spare rather than width.
    """

    sign: float
    title: float
    word: float
    gap: float
    line: float
    bar: float
    shuttle: float
    boat: float
    foot: float
    target: float
    action: float
    crossing: float
    square: float
    square_to_touch: float
    help: float
    upright: bool

    def beside_help(self, mirrored: bool) -> list[float]:
        """Return the padding (left, top, right, bottom) of the top row of a page, which leaves the help its corner."""
        room = self.help + self.gap
        return [room, 0, 0, 0] if mirrored else [0, 0, room, 0]


def sizes_for(width: float, height: float, target: float, text_scale: float = 1.0) -> Sizes:
    """Return the sizes for a window; `target` is the smallest touch target in pixels, `text_scale` 1.0 or more.

    The capitals of a sign are a tenth of the shorter side high (a font's capitals are about 0.7 of its size). On a
    7-inch panel that is 8.6 mm: at 1.2 m NUREG-0700 rev. 2 (1.3.1-4) prefers 20 to 22 minutes of arc, 7.0 to 7.7 mm.
    Large text makes words larger, and takes nothing from the signs.
    """
    short = min(width, height)
    sign = short * 0.145
    # An upright window has the height of the same screen laid flat, but not the width for its lines: large text
    # has less to grow there.
    share = 0.039 if height > width else 0.035
    word = max(min(height * 0.05, width * share), SMALLEST_WORD_PX) * text_scale
    word = min(word, max(width * 0.0455, SMALLEST_WORD_PX * text_scale))
    return Sizes(
        sign=sign,
        title=max(short * 0.075, word * 1.2),
        word=word,
        gap=max(round(short * 0.012), 4),
        line=word * 1.35,
        bar=short * 0.02,
        shuttle=sign * 1.25,
        boat=max(target, word * 1.6),
        foot=sign * 1.25,
        target=target,
        # Two lines of words.
        action=max(target, word * 2.5),
        crossing=max(target / 4, short * 0.02),
        square=max(target / 3, short * 0.03),
        square_to_touch=max(target, short * 0.05),
        help=max(target, word * 1.5),
        upright=height > width,
    )
