"""No window opens where nobody would see it."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

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
