"""Weaving in the terminal does not wait for a long treadling to be read as repeats."""

from __future__ import annotations

import threading

from companion.cli import readings
from companion.cli.readings import Readings
from tests.weaving.world import lever_draft, lever_warp


def test_a_short_treadling_is_read_at_once_and_once_only(monkeypatch):
    asked = []
    read = readings.read_treadling
    monkeypatch.setattr(readings, "read_treadling", lambda draft: asked.append(draft) or read(draft))
    warp, found = lever_warp(lever_draft([0, 1, 0, 1])), Readings(patience_s=60)
    assert [found.of(warp, 0).place(pick).section for pick in (0, 3)] == [0, 0]
    assert asked == [warp.pieces[0].draft]


def test_while_a_long_one_is_read_picks_are_shown_without_it(monkeypatch):
    go_on, read = threading.Event(), readings.read_treadling

    def slowly(draft):
        go_on.wait(60)
        return read(draft)

    monkeypatch.setattr(readings, "read_treadling", slowly)
    warp, found = lever_warp(lever_draft([0, 1, 0, 1])), Readings(patience_s=0.01)
    assert found.of(warp, 0) is None
    go_on.set()
    (reader,) = [thread for thread in threading.enumerate() if thread.name == "treadling reader"]
    reader.join(60)
    assert found.of(warp, 0).place(3).pick == 3
