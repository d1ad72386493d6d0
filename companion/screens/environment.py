"""Settings that Kivy reads while it is being imported: call `prepare` before any Kivy import."""

from __future__ import annotations

import os
import sys

from companion.screens.x_screen import XScreen, x_screen

_WHOLE = 0.85
"""A window of this share of the screen both ways fills it, but for a desktop's bars: common practice, no source."""


class NoDisplayError(RuntimeError):
    """There is no display to open a window on."""


def has_display() -> bool:
    """Tell whether this process can open a window that somebody sees.

    On Linux that is an X display: Kivy's wheel has no Wayland driver, and a Wayland session offers one by XWayland. A
    program on an Android tablet has the screen.
    """
    return bool(os.environ.get("DISPLAY")) if _asks_for_x() else True


def _asks_for_x() -> bool:
    # Python before 3.13 calls Android Linux; python-for-android sets this for every program that it starts.
    return sys.platform.startswith("linux") and "ANDROID_ARGUMENT" not in os.environ


def prepare(last_size: tuple[int, int] | None = None) -> None:
    """Set Kivy up for one window and nothing else: own arguments, no files, no second source of touches.

    `last_size` is what the window was closed with, in pixels.

    Raises NoDisplayError where there is no display: SDL would quietly draw into nothing there, and a program that
    runs unseen is worse than one that says why it does not.
    """
    if not has_display():
        raise NoDisplayError("no display: start it in a desktop session, or use --text")
    if _asks_for_x():
        os.environ.setdefault("SDL_VIDEODRIVER", "x11")
    for name, value in {
        "KIVY_NO_ARGS": "1",
        "KIVY_NO_CONFIG": "1",
        "KIVY_NO_FILELOG": "1",
        "KIVY_LOG_MODE": "PYTHON",
        # A press is drawn at once instead of at the next tick of a fixed frame clock.
        "KIVY_CLOCK": "interrupt",
    }.items():
        os.environ.setdefault(name, value)

    from kivy.config import Config

    Config.remove_section("input")
    Config.add_section("input")
    Config.set("input", "mouse", "mouse,disable_multitouch")
    Config.set("graphics", "multisamples", "0")
    Config.set("kivy", "exit_on_escape", "0")
    _set_size(last_size)


def opening_size(screen: XScreen | None, last: tuple[int, int] | None) -> tuple[int, int] | None:
    """Return the size to open with, in pixels; None leaves it to whoever lays windows out: as large as can be.

    Where nobody lays windows out, one of another size than the screen would lie half outside. Elsewhere the weaver's
    last size is kept, unless it was all but the whole screen, or does not fit this one.
    """
    if screen is None:
        return None
    if not screen.managed:
        return screen.width, screen.height
    if last is None:
        return None
    width, height = last
    fits = width <= screen.width and height <= screen.height
    whole = width >= _WHOLE * screen.width and height >= _WHOLE * screen.height
    return last if fits and not whole else None


def _set_size(last: tuple[int, int] | None) -> None:
    from kivy.config import Config

    size = opening_size(x_screen() if os.environ.get("SDL_VIDEODRIVER") == "x11" else None, last)
    if size is None:
        Config.set("graphics", "window_state", "maximized")
    else:
        Config.set("graphics", "width", str(size[0]))
        Config.set("graphics", "height", str(size[1]))
