"""The buttons of a question: made once, and used again as long as they say the same.

A window that changes its size, and a number typed digit by digit, show the same buttons again and again; a finger that
lies on one keeps it. What a button answers is always that of the question on the screen.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence
from functools import partial
from typing import Any

from kivy.uix.gridlayout import GridLayout
from kivy.uix.widget import Widget

from companion.present.asking import Answer
from companion.present.fell import Picture
from companion.screens.look import CLEAR, Look
from companion.screens.widgets.cloth_button import ClothButton
from companion.screens.widgets.drawn_button import DrawnButton
from companion.screens.widgets.glyphs import extents
from companion.screens.widgets.icon_button import IconButton
from companion.screens.widgets.row_button import RowButton
from companion.screens.widgets.word_button import WordButton

AnswerButton = WordButton | RowButton


class AnswerButtons:
    """Fills `box` with the buttons of answers; `chosen` hears whose button was touched.

    `draw_rows` draws the rows of a piece of cloth to point at, for a width and a height in pixels; `beside`: the words
    stand beside it.
    """

    def __init__(
        self,
        box: GridLayout,
        chosen: Callable[[Answer[Any]], None],
        draw_rows: Callable[[tuple[int, ...], float, float], Picture | None],
        beside: bool = False,
    ) -> None:
        self._beside = beside
        self._box: Any = box
        self._chosen = chosen
        self._draw_rows = draw_rows
        self._answers: dict[AnswerButton, Answer[Any]] = {}

    def put(
        self, answers: Sequence[Answer[Any]], look: Look, size: float, as_list: bool = False, pictured: bool = False
    ) -> None:
        """Show these answers, their words at `size`; one without words only keeps a place.

        In a list that is `pictured` each begins with its picture, or with the room for it.
        """
        made = defaultdict[object, list[AnswerButton]](list)
        for button, answer in self._answers.items():
            made[_looks(isinstance(button, RowButton), answer)].append(button)
        self._answers, shown = {}, []
        widest = max((extents(answer.words, int(size), True)[0] for answer in answers if answer.icon), default=0)
        for answer in answers:
            if not answer.words:
                shown.append(Widget())
                continue
            same = made[_looks(as_list, answer)]
            button = same.pop(0) if same and not _is_of_cloth(answer, as_list) else self._make(answer, look, as_list)
            self._answers[button] = answer
            button.wanted_size = size
            if isinstance(button, IconButton):
                button.widest = widest
            if isinstance(button, RowButton):
                # What is told of a row may come later, and a finger may lie on it by then.
                button.detail, button.pictured, button.image = answer.detail, pictured, answer.picture
            button.ground = look.accent if answer.main else look.button
            button.ground_down = look.accent_down if answer.main else look.button_down
            button.band = CLEAR if answer.yarn is None else (*(part / 255 for part in answer.yarn), 1.0)
            button.color = look.on_accent if answer.main else look.text
            shown.append(button)
        if self._box.children[::-1] != shown:
            self._box.clear_widgets()
            for widget in shown:
                self._box.add_widget(widget)

    def _make(self, answer: Answer[Any], look: Look, as_list: bool) -> AnswerButton:
        button: AnswerButton
        if as_list:
            button = RowButton()
        elif answer.rows:
            button = ClothButton(partial(self._draw_rows, answer.rows), look.theme, self._beside)
        elif answer.picture is not None:
            button = ClothButton(lambda _width, _height: answer.picture, look.theme)
        elif answer.drawn:
            button = DrawnButton(answer.detail, answer.drawn)
        elif answer.icon:
            button = IconButton(answer.icon)
        else:
            button = WordButton()
        button.text = answer.words
        if answer.brief and isinstance(button, WordButton):
            button.wordings = (answer.words, answer.brief)
        button.bind(on_release=self._released)
        return button

    def _released(self, button: AnswerButton) -> None:
        # A finger may still lie on a button that is no longer an answer.
        if button in self._answers:
            self._chosen(self._answers[button])


def _is_of_cloth(answer: Answer[Any], as_list: bool) -> bool:
    """Tell whether a button shows cloth that is drawn for it when it is made."""
    return bool(answer.rows) or (answer.picture is not None and not as_list)


def _looks(as_list: bool, answer: Answer[Any]) -> object:
    """Return what a button shows that is not told it anew at each use."""
    return as_list, answer.words, "" if as_list else answer.detail, answer.drawn, answer.rows, answer.icon
