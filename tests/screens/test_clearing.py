"""What is left is cleared away at rest, and not between a touch and its answer."""

from __future__ import annotations

import gc
import weakref

import pytest

from companion.present.weave import WeaveButton
from tests.screens.at_the_loom import at_the_screen

pytestmark = pytest.mark.usefixtures("display")


@pytest.fixture
def python_never_looks(monkeypatch):
    """By itself Python looks for circles when it likes, which may hide that nobody else does."""
    monkeypatch.setattr("companion.screens.clearing._SELDOM", (0, 0, 0))
    usual = gc.get_threshold()
    yield
    assert gc.get_threshold() == usual


@pytest.fixture
def looks(monkeypatch):
    """How often all objects were looked at."""
    counted = []

    def heard(phase, told):
        if phase == "start" and told["generation"] == 2:
            counted.append(told)

    gc.callbacks.append(heard)
    yield counted
    gc.callbacks.remove(heard)


def open_and_leave_a_page(stage):
    stage.touch(stage.app.place.weave.button(WeaveButton.FAULT))
    stage.until(lambda: stage.app.place.ask is not None)
    page = weakref.ref(stage.app.place.ask)
    stage.touch(page().foot.buttons[0])
    stage.until(lambda: stage.app.place.ask is None)
    return page


def test_a_page_that_was_left_is_freed_once_the_touches_have_come_to_rest(tmp_path, python_never_looks, looks):
    from companion.screens.clearing import ClearedAtRest

    with at_the_screen(tmp_path / "towel.journal") as stage, ClearedAtRest() as cleared:
        stage.until(lambda: cleared._settled)
        page = open_and_leave_a_page(stage)
        assert not looks
        assert page() is not None
        stage.until(lambda: page() is None)
        assert len(looks) == 1


def test_who_touches_on_is_not_held_up(tmp_path, python_never_looks, looks, monkeypatch):
    from companion.screens import clearing

    monkeypatch.setattr(clearing, "AT_REST_S", 3600)
    with at_the_screen(tmp_path / "towel.journal") as stage, clearing.ClearedAtRest():
        pages = [open_and_leave_a_page(stage) for _ in range(3)]
        assert not looks
        assert all(page() is not None for page in pages)


def test_picks_alone_are_not_worth_a_look(tmp_path, python_never_looks, looks, monkeypatch):
    from companion.screens import clearing

    monkeypatch.setattr(clearing, "AT_REST_S", 0)
    with at_the_screen(tmp_path / "towel.journal") as stage, clearing.ClearedAtRest() as cleared:
        stage.until(lambda: cleared._settled)
        for pick in range(2, 10):
            stage.touch(stage.app.place.weave.ids.next_area)
            stage.until(lambda at=pick: stage.app.place.weave.ids.count.text.startswith(f"pick {at} "))
        assert not looks
