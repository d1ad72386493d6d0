"""The watch tells of drafts that were not offered yet, once, and never of those that were."""

from __future__ import annotations

import queue
from pathlib import Path

from companion.workshop.drafts_watched import DraftWatch


def test_a_draft_that_came_is_told_of_once():
    found = [Path("old.wif")]
    told: queue.Queue = queue.Queue()
    watch = DraftWatch(lambda: tuple(found), told.put)
    watch.look_again()
    assert watch.offer() == (Path("old.wif"),)
    found.insert(0, Path("new.wif"))
    # A look is begun only where none is going on: ask until the first one has ended.
    while True:
        watch.look_again()
        try:
            news = told.get(timeout=0.5)
            break
        except queue.Empty:
            continue
    assert news == (Path("new.wif"),)
    assert watch.offer() == (Path("new.wif"), Path("old.wif"))


def test_the_first_look_is_no_news():
    told: list = []

    watch = DraftWatch(lambda: (Path("a.wif"),), told.append)
    watch.look_again()
    assert watch.offer() == (Path("a.wif"),)
    assert told == []
