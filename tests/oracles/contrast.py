"""Contrast of two colours, by the formula of WCAG 2.2 (relative luminance, contrast ratio)."""

from __future__ import annotations


def luminance(colour):
    """The relative luminance of a colour (sRGB, each part 0..255), 0 for black to 1 for white."""
    red, green, blue = (_linear(part / 255) for part in colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    """The contrast ratio of two colours, 1 to 21."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def _linear(part):
    return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
