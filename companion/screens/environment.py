"""Settings that Kivy reads while it is being imported: call `prepare` before any Kivy import."""

from __future__ import annotations

import os
import sys

from companion.screens.x_screen import x_screen


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


def prepare() -> None:
    """Set Kivy up for one window and nothing else: own arguments, no files, no second source of touches.

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
    _take_the_screen()


def _take_the_screen() -> None:
    """Open as large as the screen: where nobody lays windows out, one of another size would lie half outside."""
    from kivy.config import Config

    screen = x_screen() if os.environ.get("SDL_VIDEODRIVER") == "x11" else None
    if screen is not None and not screen.managed:
        Config.set("graphics", "width", str(screen.width))
        Config.set("graphics", "height", str(screen.height))
    else:
        Config.set("graphics", "window_state", "maximized")
