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
        yield name
        os.environ.clear()
        os.environ.update(before)
