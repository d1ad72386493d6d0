"""The ask screen: one question, a few large answers or a list of them, and the cloth beside them where it helps."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from kivy.lang import Builder
from kivy.metrics import dp
from kivy.properties import NumericProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from companion.present.asking import Answer, Asked
from companion.present.button_words import EARLIER, MORE
from companion.present.paging import Page, page_of
from companion.screens.look import Look
from companion.screens.theme import SMALLEST_TARGET_DP, Sizes
from companion.screens.widgets.fit_label import FitLabel
from companion.screens.widgets.row_button import RowButton
from companion.screens.widgets.word_button import WordButton, word_button

MOST_ANSWERS = 9
"""Answers beside one another on one page: more are too small to be read from the bench."""
_TALLEST_ROW = 1.6
"""A row of a short list grows no taller than this many of its least height."""


class AskScreen(BoxLayout):  # type: ignore[misc]
    """Shows `asked` and says `on_answer` when one of its answers is touched.

    `notice` is one line of news; it stands in the place of the detail and moves nothing, until the next question.
    """

    # rebind: the rules of ask.kv read parts of these, and follow only so.
    asked = ObjectProperty(None, rebind=True)
    look = ObjectProperty(None, rebind=True)
    sizes = ObjectProperty(None, rebind=True)
    cloth = ObjectProperty(None, allownone=True)
    notice = StringProperty("")
    small_line = StringProperty("")
    columns = NumericProperty(2)
    headline_height = NumericProperty(0)
    lines_height = NumericProperty(0)
    foot_height = NumericProperty(0)

    __events__ = ("on_answer",)

    def __init__(self, asked: Asked[Any], look: Look, sizes: Sizes, **rest: Any) -> None:
        self._page: Page[Answer[Any]] = page_of(asked.answers, 0, MOST_ANSWERS)
        self._most = 0
        super().__init__(asked=asked, look=look, sizes=sizes, **rest)
        # Kivy's ids are weak: out of the body, the picture would be gone for good.
        self._cloth = self.ids.cloth.__self__
        self.bind(asked=self._ask, look=self._ask, sizes=self._ask, height=self._make_room, notice=self._write_small)
        self._ask()

    def on_answer(self, answer: Answer[Any]) -> None:
        """The weaver touched an answer."""

    def button(self, words: str) -> WordButton | RowButton:
        """Return the button with these words; StopIteration where there is none on this page."""
        shown = (*self.ids.answers.children, *self.ids.foot.children)
        return next(one for one in shown if isinstance(one, WordButton | RowButton) and one.text == words)

    def turn(self, pages: int) -> None:
        """Show another page of the answers, so many further on or back."""
        self._show_page(self._page.number + pages)

    def _ask(self, *_: Any) -> None:
        body, cloth = self.ids.body, self._cloth
        if self.asked.with_cloth and cloth.parent is None:
            body.add_widget(cloth, index=len(body.children))
        elif not self.asked.with_cloth and cloth.parent is not None:
            body.remove_widget(cloth)
        self.notice = ""
        self.headline_height = self.sizes.foot * (0.7 if self.asked.as_list else 1)
        self._write_lines()
        self._most = self._room()
        self._show_page(0)

    def _make_room(self, *_: Any) -> None:
        if self._room() != self._most:
            self._most = self._room()
            self._show_page(0)
        else:
            self._size_rows()

    def _room(self) -> int:
        """Return how many answers one page holds."""
        if not self.asked.as_list:
            return MOST_ANSWERS
        gap = self.sizes.gap
        return max(int((self._list_height() + gap) // (self._least_row() + gap)), 1)

    def _list_height(self) -> float:
        """Return the height of a list that has a foot below it."""
        above = self.headline_height + self.sizes.line + self.lines_height
        spaces = 2 + 4
        return float(self.height - above - self.sizes.action - spaces * self.sizes.gap)

    def _least_row(self) -> float:
        sizes: Sizes = self.sizes
        return max(float(dp(SMALLEST_TARGET_DP)), sizes.word * 1.6)

    def _show_page(self, number: int) -> None:
        asked: Asked[Any] = self.asked
        self._page = page = page_of(asked.answers, number, self._most)
        count = len(page.shown)
        self.columns = 1 if asked.as_list or (asked.with_cloth and count <= 3) else 2 if count <= 8 else 3
        answers, foot = self.ids.answers, self.ids.foot
        answers.clear_widgets()
        for answer in page.shown:
            if not answer.words:
                answers.add_widget(Widget())
            else:
                answers.add_widget(self._row(answer) if asked.as_list else self._button(answer))
        self._size_rows()
        foot.clear_widgets()
        if page.of > 2:
            foot.add_widget(self._foot_button(EARLIER, lambda: self.turn(-1)))
        if page.of > 1:
            foot.add_widget(self._foot_button(MORE, lambda: self.turn(1)))
        for answer in self._foot_answers():
            share = max(len(answer.words), 6)
            foot.add_widget(self._button(answer, size_hint_x=share) if answer.words else Widget(size_hint_x=share))
        self.foot_height = self.sizes.action if foot.children else 0
        self._write_small()

    def _foot_answers(self) -> tuple[Answer[Any], ...]:
        main = self.asked.main
        if main is None or self.asked.as_list or self._page.of == 1 or main in self.asked.foot:
            return tuple(self.asked.foot)
        # What most weavers answer stays within reach, whatever page is shown.
        return (*self.asked.foot, main)

    def _size_rows(self) -> None:
        answers, rows = self.ids.answers, len(self._page.shown)
        answers.row_force_default = self.asked.as_list
        # To Kivy this is also the least height of a row that is not forced: a list's rows must not stay behind.
        answers.row_default_height = 0
        if self.asked.as_list and rows:
            room = self._list_height() - (rows - 1) * self.sizes.gap
            tallest = self._least_row() * _TALLEST_ROW
            full_page = self._list_height() / self._most
            answers.row_default_height = min(room / rows, tallest if self._page.of == 1 else full_page - self.sizes.gap)

    def _write_small(self, *_: Any) -> None:
        parts = (self.asked.detail, self._page.words)
        self.small_line = self.notice or " · ".join(part for part in parts if part)

    def _write_lines(self) -> None:
        lines = self.ids.lines
        lines.clear_widgets()
        self.lines_height = self.sizes.line * len(self.asked.lines)
        for text in self.asked.lines:
            lines.add_widget(FitLabel(text=text, wanted_size=self.sizes.word, color=self.look.text, valign="middle"))

    def _row(self, answer: Answer[Any]) -> RowButton:
        button = RowButton(detail=answer.detail, **self._colours(answer))
        self._let_answer(button, answer)
        return button

    def _button(self, answer: Answer[Any], **properties: Any) -> WordButton:
        button = WordButton(**self._colours(answer), **properties)
        self._let_answer(button, answer)
        return button

    def _let_answer(self, button: WordButton | RowButton, answer: Answer[Any]) -> None:
        button.text = answer.words
        button.wanted_size = self.sizes.word * (1.3 if answer.main and not self.asked.as_list else 1.0)
        button.bind(on_release=lambda _button: self.dispatch("on_answer", answer))

    def _foot_button(self, words: str, act: Callable[[], None]) -> WordButton:
        button = word_button(words, act, False, self.look, self.sizes.word)
        button.size_hint_x = max(len(words), 6)
        return button

    def _colours(self, answer: Answer[Any]) -> dict[str, Any]:
        look = self.look
        return {
            "ground": look.left_foot if answer.main else look.button,
            "ground_down": look.button_down,
            "color": look.on_foot if answer.main else look.text,
        }


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
