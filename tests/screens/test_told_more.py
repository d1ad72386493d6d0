"""A finger on a list goes on where its rows are only told of more fully, not where something else lies there now."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.present.asking import Answer, Answered, Asked
from tests.screens.stage import Stage

SCARF, TOWEL = (Answer(name, lambda name=name: Answered(name), own=True) for name in ("Scarf", "Towel"))
LIST = Asked("Which warp?", (SCARF, TOWEL), foot=(Answer("The bin: 1", lambda: Answered("bin")),), as_list=True)


def with_rows(*rows):
    return replace(LIST, answers=rows)


@pytest.fixture
def touched(display):
    """Touch the answer with these words, while the list is asked otherwise under the finger; return what was chosen."""
    from kivy.core.window import Window

    from companion.screens.flow_place import FlowPlace
    from companion.screens.window import FellsideWindow

    chosen = []
    window = FellsideWindow(lambda window: FlowPlace(LIST, window.surroundings, chosen.append))
    with Stage(window) as stage:
        stage.pump(6)

        def touch(words, meanwhile):
            button = window.place.ask.button(words)
            x, y = button.to_window(*button.center)
            down = (x, Window.height - y, "left", [])
            Window.dispatch("on_mouse_down", *down)
            stage.pump(2)
            window.place.instead(window.place.asking, meanwhile)
            stage.pump(4)
            Window.dispatch("on_mouse_up", *down)
            stage.pump(2)
            return chosen

        yield touch


@pytest.mark.parametrize(("words", "result"), [("Scarf", "Scarf"), ("Towel", "Towel"), ("The bin: 1", "bin")])
def test_a_row_that_is_told_of_more_fully_is_the_row_that_was_touched(touched, words, result):
    told = [replace(row, detail="woven 3 days ago · pick 5 of 400") for row in (SCARF, TOWEL)]
    assert touched(words, with_rows(*told)) == [result]


@pytest.mark.parametrize(
    "meanwhile",
    [
        with_rows(replace(SCARF, words="Shawl"), TOWEL),
        with_rows(TOWEL, SCARF),
        with_rows(TOWEL),
        replace(LIST, words="Which draft?"),
        replace(LIST, foot=()),
    ],
    ids=["another name", "another order", "one row fewer", "another question", "another foot"],
)
def test_where_something_else_lies_now_the_finger_is_nobodys(touched, meanwhile):
    assert touched("Scarf", meanwhile) == []


def test_what_is_told_of_a_list_while_the_weaver_is_a_question_further_on_stands_there_on_the_way_back(display):
    from companion.screens.flow_place import FlowPlace
    from companion.screens.window import FellsideWindow

    window = FellsideWindow(lambda window: FlowPlace(LIST, window.surroundings, lambda _chosen: None))
    with Stage(window) as stage:
        further = Asked("On which loom?", (Answer("Floor loom", lambda: Answered("floor")),))
        window.place.lead_on(further)
        told = with_rows(replace(SCARF, detail="pick 5 of 400"), TOWEL)
        window.place.instead(LIST, told)
        assert window.place.asking is further
        # Another question in its place would lead the weaver back to where nobody came from.
        window.place.instead(told, replace(told, words="Which draft?"))
        stage.pump(2)
        stage.touch(window.place.ask.button("Back"))
        assert window.place.asking is told
        assert [answer.detail for answer in window.place.ask.asked.answers] == ["pick 5 of 400", ""]
