"""What a touch began beside the screen comes back to the page that waits, however much that tells by now."""

from __future__ import annotations

import threading
from dataclasses import replace

import pytest

from companion.present.asking import Answer, Answered, Asked
from tests.screens.stage import Stage

LIST = Asked("Which warp?", (Answer("Scarf", lambda: Answered("Scarf"), own=True),), as_list=True)
TOLD = replace(LIST, answers=tuple(replace(row, detail="pick 5 of 400") for row in LIST.answers))
OTHER = Asked("Which draft?", LIST.answers, as_list=True)


@pytest.fixture
def waiting(display):
    """Begin slow work on a list, let the list change by `meanwhile`, let the work end, and return what came of it."""
    from companion.screens.flow_place import FlowPlace
    from companion.screens.window import FellsideWindow
    from companion.wiring.background import on_with
    from companion.wiring.navigator import Navigator

    came, may_end = [], threading.Event()
    window = FellsideWindow(lambda window: FlowPlace(LIST, window.surroundings, lambda _result: None))
    with Stage(window) as stage:
        ways = Navigator(window)
        side = ways.home(lambda: FlowPlace(LIST, window.surroundings, lambda _result: None))

        def wait(meanwhile):
            on_with(ways, side, "reading …", lambda: may_end.wait(60), came.append)
            meanwhile(side)
            said = side.ask.notice
            may_end.set()
            for thread in threading.enumerate():
                if thread.name == "on the way to another screen":
                    thread.join(60)
            stage.pump(4)
            return came, said

        yield wait


def test_more_told_of_the_list_meanwhile_is_no_going_on(waiting):
    assert waiting(lambda side: side.instead(LIST, TOLD)) == ([True], "reading …")


@pytest.mark.parametrize("how", ["to another question", "to another in its place"])
def test_whoever_has_gone_on_meanwhile_is_not_called_back(waiting, how):
    def went_on(side):
        side.lead_on(OTHER) if how == "to another question" else side.instead(LIST, OTHER)

    assert waiting(went_on) == ([], "")
