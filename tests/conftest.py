"""What holds for all tests: properties are judged by what they find, and windows open on a display of their own."""

from __future__ import annotations

import os
import tempfile

import pytest
from hypothesis import HealthCheck, settings

from tests.screens.stage import virtual_display

settings.register_profile("fellside", deadline=None, suppress_health_check=[HealthCheck.too_slow])
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


LONGEST_FIRST = ("tests/journal/test_kill.py", "tests/screens/test_as_a_person.py", "tests/test_style.py")
"""Begun before the others, so that nobody waits for them at the end."""


def pytest_collection_modifyitems(items):
    """Put the tests that take longest first; the others keep their order."""
    items.sort(key=lambda item: not item.nodeid.startswith(LONGEST_FIRST))
