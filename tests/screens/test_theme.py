"""The contrast formula, against values from outside; and every text colour of the themes, by that formula."""

from __future__ import annotations

import re
from dataclasses import fields

import pytest

from companion.screens.theme import DARK, LIGHT, from_hex
from tests.oracles.contrast import contrast

TEXTS = (
    ("text", "ground"),
    ("text", "panel"),
    ("text", "button"),
    ("text", "button_down"),
    ("quiet_text", "ground"),
    ("quiet_text", "panel"),
    ("quiet_text", "button"),
    ("on_accent", "accent"),
    ("on_accent", "accent_down"),
    ("ground", "text"),
    ("ground", "quiet_text"),
    ("on_foot", "left_foot"),
    ("on_foot", "right_foot"),
    ("on_warning", "warning"),
)
"""Every pair of text colour and ground that the screens put together."""
SIGNS = (
    *(("line", ground) for ground in ("ground", "panel", "button")),
    *(("accent_line", ground) for ground in ("ground", "panel", "button", "button_down")),
    ("text", "line"),
    ("on_warning", "warning"),
)
"""Every pair of a sign that no words stand on, and what it is told from: ties, the bar of a piece, frames."""
WARNS = ("warning", "on_warning")
WHITE, BLACK = (255, 255, 255), (0, 0, 0)


def test_black_on_white_is_the_largest_contrast():
    # WCAG 2.2: the ratio ranges from 1 to 21.
    assert contrast(WHITE, BLACK) == pytest.approx(21)
    assert contrast(WHITE, WHITE) == 1


@pytest.mark.parametrize(("grey", "ratio"), [("#767676", 4.54), ("#777777", 4.48), ("#595959", 7.00)])
def test_known_greys_on_white(grey, ratio):
    # Computed from the WCAG 2.2 formula; 4.5:1 and 7:1 are its AA and AAA bounds (1.4.3, 1.4.6).
    assert contrast(from_hex(grey), WHITE) == pytest.approx(ratio, abs=0.005)


@pytest.mark.parametrize("theme", [DARK, LIGHT], ids=lambda theme: theme.name)
def test_every_text_has_seven_to_one(theme):
    for ink, ground in TEXTS:
        assert contrast(from_hex(getattr(theme, ink)), from_hex(getattr(theme, ground))) >= 7, (ink, ground)


@pytest.mark.parametrize("theme", [DARK, LIGHT], ids=lambda theme: theme.name)
def test_every_sign_has_three_to_one(theme):
    # WCAG 2.2, 1.4.11: graphical objects needed to understand what is shown.
    for sign, ground in SIGNS:
        assert contrast(from_hex(getattr(theme, sign)), from_hex(getattr(theme, ground))) >= 3, (sign, ground)


@pytest.mark.parametrize("theme", [DARK, LIGHT], ids=lambda theme: theme.name)
def test_a_warning_is_seen_on_whatever_lies_below_it(theme):
    """It is drawn dark with bright within: one of the two stands out from any ground, and each from the other."""
    for ground in ("ground", "panel", "button", "left_foot", "right_foot", "text"):
        against = [contrast(from_hex(getattr(theme, ink)), from_hex(getattr(theme, ground))) for ink in WARNS]
        assert max(against) >= 3, (ground, against)


@pytest.mark.parametrize("theme", [DARK, LIGHT], ids=lambda theme: theme.name)
def test_a_theme_is_colours_only_so_that_no_size_depends_on_it(theme):
    colours = {field.name: getattr(theme, field.name) for field in fields(theme) if field.name != "name"}
    assert [name for name, colour in colours.items() if not re.fullmatch("#[0-9A-F]{6}", colour)] == []
