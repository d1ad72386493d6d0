"""No window opens where nobody would see it."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from companion.screens.environment import opening_size
from companion.screens.x_screen import XScreen

SCRIPT = """
from companion.screens.environment import NoDisplayError, prepare
try:
    prepare()
except NoDisplayError as error:
    print(error)
"""


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="displays are named in the environment on Linux only")
@pytest.mark.parametrize(
    "names", [{}, {"WAYLAND_DISPLAY": "wayland-0"}], ids=["no display", "Wayland without XWayland"]
)
def test_without_an_x_display_the_window_is_refused_instead_of_drawn_unseen(names):
    kept = {name: value for name, value in os.environ.items() if name not in ("DISPLAY", "WAYLAND_DISPLAY")}
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT], check=False, env={**kept, **names}, capture_output=True, text=True, timeout=60
    )
    assert done.stdout == "no display: start it in a desktop session, or use --text\n"


DESK = XScreen(1280, 800, managed=True)


@pytest.mark.parametrize("last", [None, (900, 620), (2000, 900)])
@pytest.mark.parametrize(("width", "height"), [(800, 480), (1024, 600), (1280, 800), (800, 1280)])
def test_where_nobody_lays_windows_out_the_window_is_the_screen(width, height, last):
    assert opening_size(XScreen(width, height, managed=False), last) == (width, height)


@pytest.mark.parametrize("last", [(900, 620), (640, 800), (1280, 400)])
def test_on_a_desk_the_weavers_last_size_is_kept(last):
    assert opening_size(DESK, last) == last


@pytest.mark.parametrize("last", [None, (1280, 800), (1280, 760), (1281, 300), (300, 801)])
def test_on_a_desk_a_window_that_filled_it_or_would_not_fit_is_as_large_as_can_be(last):
    assert opening_size(DESK, last) is None


def test_where_the_screen_cannot_be_asked_the_system_says_how_large():
    assert opening_size(None, (900, 620)) is None
