"""Contrast of two colours, by the formula of WCAG 2.2 (relative luminance, contrast ratio)."""

from __future__ import annotations

RGB = tuple[int, int, int]
"""An sRGB colour, each part 0..255."""


def from_hex(code: str) -> RGB:
    """Return the colour of a code: `from_hex("#E69F00")` is `(230, 159, 0)`."""
    return int(code[1:3], 16), int(code[3:5], 16), int(code[5:7], 16)


def luminance(colour: RGB) -> float:
    """Return the relative luminance of a colour, 0 for black to 1 for white (WCAG 2.2, "relative luminance")."""
    red, green, blue = (_linear(part / 255) for part in colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: RGB, other: RGB) -> float:
    """Return the contrast ratio of two colours, 1 to 21 (WCAG 2.2, "contrast ratio")."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def _linear(part: float) -> float:
    return part / 12.92 if part <= 0.04045 else float(((part + 0.055) / 1.055) ** 2.4)
