"""The screens are tested in a real window: one virtual display for the whole run of a worker."""

from __future__ import annotations

import os
import tempfile

import pytest

from tests.screens.stage import virtual_display


@pytest.fixture(scope="session")
def display():
    with virtual_display(1280, 1280) as name, tempfile.TemporaryDirectory() as kivy_home:
        before = dict(os.environ)
        os.environ.update(DISPLAY=name, KIVY_HOME=kivy_home, SDL_AUDIODRIVER="dummy")
        from companion.screens.environment import prepare

        prepare()
        yield name
        os.environ.clear()
        os.environ.update(before)
