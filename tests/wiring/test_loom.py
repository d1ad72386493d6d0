"""A press at the loom, from the pedal's byte to the screen: what is worked out on its way, and how often."""

from __future__ import annotations

from collections import Counter

import pytest

from companion.weaving import pick_view
from tests.screens.stage import Stage


@pytest.fixture
def program(tmp_path, display, monkeypatch, board):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    from companion.cli.weave import demo_warp_name
    from companion.wiring.screen_app import ScreenApp

    return ScreenApp(demo_warp_name(), pedal=board.port)


def test_the_pick_that_is_next_is_worked_out_once_for_a_press(program, board, monkeypatch):
    worked_out = Counter()
    view = pick_view._view

    def counted(warp, state, pick, *rest):
        worked_out[pick] += 1
        return view(warp, state, pick, *rest)

    with program, Stage(program.window) as stage:
        board.answer(pedals=1, treadles=0)
        stage.until(lambda: stage.app.place.weave.ids.pedal.text == "pedal")
        stage.until(lambda: stage.app.place._readings)
        monkeypatch.setattr(pick_view, "_view", counted)
        for pedals in (1, 0):
            for _ in range(4):
                board.state(pedals)
        stage.until(lambda: stage.app.place.weave.ids.count.text.startswith("pick 2 "))
        stage.pump(10)
        # The one after it is foreseen for the words on the screen, and for feet that stand on its treadles early.
        assert worked_out == {1: 1, 2: 2}
