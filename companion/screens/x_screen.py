"""What the X server says of its screen: how large it is, and whether a window manager lays windows out on it.

Asked through Xlib by ctypes, before Kivy opens its window; a system without X or Xlib gives None.
"""

from __future__ import annotations

import ctypes
import ctypes.util
from dataclasses import dataclass

_ANY_TYPE = 0


@dataclass(frozen=True, slots=True)
class XScreen:
    """A screen in pixels, and whether somebody places windows on it (Extended Window Manager Hints 1.5, section 3)."""

    width: int
    height: int
    managed: bool


def x_screen() -> XScreen | None:
    """Return the default screen of the display in DISPLAY; None where that cannot be asked."""
    try:
        xlib = ctypes.CDLL(ctypes.util.find_library("X11") or "libX11.so.6")
    except OSError:
        return None
    xlib.XOpenDisplay.restype = ctypes.c_void_p
    display = xlib.XOpenDisplay(None)
    if not display:
        return None
    here = ctypes.c_void_p(display)
    try:
        number = xlib.XDefaultScreen(here)
        return XScreen(
            xlib.XDisplayWidth(here, number), xlib.XDisplayHeight(here, number), _is_managed(xlib, here, number)
        )
    finally:
        xlib.XCloseDisplay(here)


def _is_managed(xlib: ctypes.CDLL, display: ctypes.c_void_p, number: int) -> bool:
    xlib.XRootWindow.restype = ctypes.c_ulong
    xlib.XInternAtom.restype = ctypes.c_ulong
    atom = xlib.XInternAtom(display, b"_NET_SUPPORTING_WM_CHECK", False)
    kind, form = ctypes.c_ulong(), ctypes.c_int()
    items, left = ctypes.c_ulong(), ctypes.c_ulong()
    value = ctypes.c_void_p()
    failed = xlib.XGetWindowProperty(
        display,
        ctypes.c_ulong(xlib.XRootWindow(display, number)),
        ctypes.c_ulong(atom),
        ctypes.c_long(0),
        ctypes.c_long(1),
        False,
        ctypes.c_ulong(_ANY_TYPE),
        ctypes.byref(kind),
        ctypes.byref(form),
        ctypes.byref(items),
        ctypes.byref(left),
        ctypes.byref(value),
    )
    if value:
        xlib.XFree(value)
    return not failed and items.value > 0
