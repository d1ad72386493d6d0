"""What can be measured of a page that stands in a window: words, and what a finger aims at."""

from __future__ import annotations

import functools

from companion.screens.theme import SMALLEST_TARGET_DP, sizes_for
from tests.screens.stage import walk, worded

NAMES_OF_THE_MACHINE = ("/dev/shm", "/tmp")
"""A path is as long as it is, and longer in a test: it is shown in one line that ends in dots."""
SIZES = [(800, 480), (1024, 600), (1280, 800), (800, 1280)]


def lay_out(app, window, text_scale=1.0):
    """Give the place on the screen this much room, as if the window had it: nothing is drawn, and no display asked."""
    from kivy.clock import Clock

    app.root.size_hint, app.root.size = (None, None), window
    app.fit(sizes_for(*window, SMALLEST_TARGET_DP, text_scale))
    for _ in range(6):
        Clock.tick()


def width_of_longest_word(label):
    longest = max(label.text.split(), key=len, default="")
    return _extents(longest, label.font_size, label.bold)[0]


def height_of_words(label):
    """How high the label's words stand in lines of its width, measured by a label of Kivy's."""
    wide, high = _extents(label.text, label.font_size, label.bold)
    room = label.width - label.padding[0] - label.padding[2]
    return high if wide <= room else _height_in_lines(label.text, label.font_size, label.bold, room)


@functools.cache
def _extents(text, font_size, bold):
    from kivy.core.text import Label as CoreLabel

    return CoreLabel(text=text, font_size=font_size, bold=bold).get_extents(text)


@functools.cache
def _height_in_lines(text, font_size, bold, room):
    from kivy.core.text import Label as CoreLabel

    lines = CoreLabel(text=text, font_size=font_size, bold=bold, text_size=(room, None))
    lines.refresh()
    return lines.texture.height


def texts_clipped(root):
    return [
        (child.text, child.texture_size, child.size)
        for child in worded(root)
        if child.text
        and not (getattr(child, "cut", False) and any(own in child.text for own in NAMES_OF_THE_MACHINE))
        and (
            width_of_longest_word(child) > child.width + 1
            or height_of_words(child) > child.height + 1
            or child.font_size < 6
        )
    ]


def touch_targets(root):
    from kivy.uix.behaviors import ButtonBehavior

    # A boat is a button only while nobody knows where the shuttle lies.
    return [child for child in walk(root) if isinstance(child, ButtonBehavior) and getattr(child, "asked", True)]
