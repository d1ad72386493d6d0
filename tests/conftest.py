"""What holds for all tests: properties are judged by what they find, and windows open on a display of their own."""

from __future__ import annotations

import functools
import gc
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from tests.screens.stage import virtual_display

settings.register_profile("fellside", deadline=None, max_examples=60, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("fellside")


@pytest.fixture(scope="session")
def display():
    """One virtual display for the whole run of a worker."""
    with virtual_display(1280, 1280) as name, tempfile.TemporaryDirectory() as kivy_home:
        before = dict(os.environ)
        os.environ.update(DISPLAY=name, KIVY_HOME=kivy_home, SDL_AUDIODRIVER="dummy")
        from companion.screens.environment import prepare

        prepare()
        from kivy.config import Config

        # No test waits for the next frame of a screen that nobody looks at.
        Config.set("graphics", "maxfps", "0")
        yield name
        os.environ.clear()
        os.environ.update(before)


@pytest.fixture(scope="session", autouse=True)
def one_search_for_each_loom():
    """A draft is put on the same loom by a hundred tests, and the search for its tie-up is run by the first of them."""
    from companion.workshop import app

    searched = functools.cache(app.answers_for)

    def answers_for(drafts, *asked, **aims):
        return searched(tuple(drafts), *asked, **aims)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(app, "answers_for", answers_for)
        yield


@pytest.fixture
def board(tmp_path):
    """A made-up pedal board at the other end of a real cable, which a pseudo-terminal is."""
    if sys.platform == "win32":
        pytest.skip("pseudo-terminals are not there on Windows")
    from tests.drivers.wired import WiredBoard

    wired = WiredBoard(tmp_path / "footboard")
    yield wired
    if wired.plugged_in:
        wired.pull_out()


@pytest.fixture
def small_disk(tmp_path):
    """A disk of 400 kB, a real one."""
    folder = tmp_path / "small disk"
    folder.mkdir()
    words = ["mount", "-t", "tmpfs", "-o", "size=400k", "tmpfs", str(folder)]
    if not shutil.which("mount") or subprocess.run(words, check=False, capture_output=True).returncode:
        pytest.skip("only root may mount a disk, and not everywhere")
    yield folder
    subprocess.run(["umount", str(folder)], check=True)


@pytest.fixture(scope="session")
def made_once(tmp_path_factory) -> Callable[[str, Callable[[Path], None]], Path]:
    """Have a folder filled once in a run, by whichever worker asks first; as (its name, what fills it)."""
    fcntl = pytest.importorskip("fcntl")
    shared = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        shared = shared.parent

    def made(name: str, fill: Callable[[Path], None]) -> Path:
        folder, done = shared / name, shared / f"{name} is made"
        with (shared / f"{name}.lock").open("w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)
            if not done.exists():
                folder.mkdir()
                fill(folder)
                done.touch()
        return folder

    return made


IN_MEMORY = Path("/dev/shm")
ROOM_FOR_A_RUN = 500_000_000
"""Bytes; a run leaves some 30 million."""


def pytest_configure():
    """Keep the tests' files in memory where it has room: a busy disk takes most of a run to sync what nobody keeps.

    What is synced, and when, is checked by test_sync, which watches the calls and needs no disk.
    """
    # A first start goes by the locale; tests are somewhere metric unless they say otherwise.
    os.environ["LC_ALL"] = "C.UTF-8"
    if IN_MEMORY.is_dir() and os.access(IN_MEMORY, os.W_OK):
        disk = os.statvfs(IN_MEMORY)
        if disk.f_bavail * disk.f_frsize > ROOM_FOR_A_RUN and not disk.f_flag & os.ST_NOEXEC:
            os.environ.setdefault("PYTEST_DEBUG_TEMPROOT", str(IN_MEMORY))


LONGEST_FIRST = (
    "tests/journal/test_kill.py",
    "tests/screens/test_as_a_person.py",
    "tests/screens/test_same_spot.py",
    "tests/screens/test_type_scale.py",
    "tests/test_style.py",
)
"""Begun before the others, so that nobody waits for them at the end."""


def pytest_collection_modifyitems(items):
    """Put the tests that take longest first; the others keep their order."""
    items.sort(key=lambda item: not item.nodeid.startswith(LONGEST_FIRST))


def pytest_collection_finish():
    """Look for cycles less often, and not among what lives until the end: that took a seventh of the time."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 50)
