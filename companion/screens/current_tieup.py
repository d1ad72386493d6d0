"""The screen of the tie-up that is on a loom now: a square for each cord there may be, changed by touching it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

from kivy.lang import Builder
from kivy.metrics import dp
from kivy.properties import ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from companion.present import help_topics
from companion.present.button_words import BACK, DONE, NOT_KNOWN, more_words
from companion.present.current_tieup import CurrentTieUpSigns, TieSquare, current_tieup_signs, with_square_touched
from companion.present.trade_words import in_trade_words
from companion.screens.place import Place
from companion.screens.surroundings import Surroundings
from companion.screens.theme import SMALLEST_TARGET_DP, Sizes
from companion.screens.widgets import page_head
from companion.screens.widgets.fit_label import FitLabel
from companion.screens.widgets.foot_row import FootKey, FootRow
from companion.screens.widgets.tie_square import TieSquareButton
from companion.screens.widgets.word_button import WordButton
from companion.weaving.warp import LoomProfile

_DRAWN_WITH = (page_head,)
"""Imported for the kv rules, which find this widget by name."""
_LARGEST = 1.6
"""A square grows no larger than this many heights of the smallest target."""


class CurrentTieUpScreen(BoxLayout, Place):  # type: ignore[misc]
    """Shows the tie-up of a loom to be touched; `keep` is given the loom as it is tied now."""

    # rebind: the rules of current_tieup.kv read parts of these, and follow only so.
    look = ObjectProperty(None, rebind=True)
    sizes = ObjectProperty(None, rebind=True)
    headline = StringProperty("")
    detail = StringProperty("")

    def __init__(
        self,
        profile: LoomProfile,
        around: Surroundings,
        keep: Callable[[LoomProfile], None],
        **rest: Any,
    ) -> None:
        self.profile = profile
        self._number = 0
        self._keep = keep
        self.foot = FootRow(around.mirrored)
        super().__init__(look=around.look, sizes=around.sizes, **rest)
        self.add_widget(self.foot)
        self.bind(sizes=self._write)
        self.ids.area.bind(size=self._write)
        self._write()

    @property
    def topics(self) -> tuple[str, ...]:
        """The help of the tie-up on a loom."""
        return (help_topics.HOW_TIED,)

    def go_back(self) -> None:
        """Leave the loom as it was."""
        self.leave()

    def fit(self, sizes: Sizes) -> None:
        """Take on the sizes of a changed window."""
        self.sizes = sizes

    def button(self, words: str) -> WordButton:
        """Return the button that begins with these words; StopIteration where there is none."""
        return next(button for button in self.foot.buttons if button.text.startswith(words))

    def square(self, treadle: int, shaft: int) -> TieSquareButton:
        """Return the square of a treadle and a shaft (indices); KeyError where it is on another page."""
        return self._squares[treadle, shaft]

    def turn(self) -> None:
        """Show the next page of squares, after the last one the first."""
        self._number += 1
        self._write()

    def _touch(self, square: TieSquare) -> None:
        self.profile = with_square_touched(self.profile, square)
        self._write()

    def _forget(self) -> None:
        self._keep(replace(self.profile, present=None))

    def _write(self, *_: Any) -> None:
        gap = self.sizes.gap
        # A number of two digits stands beside each row and below each column.
        least = max(float(dp(SMALLEST_TARGET_DP)), self.sizes.word * 1.25)
        numbers = self.sizes.line
        area = self.ids.area
        across = max(int((area.width - numbers) // (least + gap)), 1)
        down = max(int((area.height - numbers) // (least + gap)), 1)
        signs = current_tieup_signs(self.profile, self._number, across, down)
        self._number = signs.number
        self.headline = in_trade_words(signs.headline, self.look.trade, (self.profile.name,))
        self.detail = in_trade_words(signs.detail, self.look.trade)
        columns, rows = len(signs.rows[0]), len(signs.rows)
        side = min((area.width - numbers) / columns - gap, (area.height - numbers) / rows - gap, least * _LARGEST)
        self._show_squares(signs, max(side, least), numbers)
        self._write_buttons(signs)

    def _show_squares(self, signs: CurrentTieUpSigns, side: float, numbers: float) -> None:
        grid = self.ids.squares
        grid.clear_widgets()
        grid.cols = 1 + len(signs.rows[0])
        self._squares: dict[tuple[int, int], TieSquareButton] = {}
        for row in signs.rows:
            grid.add_widget(self._number_of(row[0].shaft, numbers, side))
            for square in row:
                grid.add_widget(self._square(square, side))
        grid.add_widget(Widget(size_hint=(None, None), size=(numbers, numbers)))
        for square in signs.rows[0]:
            grid.add_widget(self._number_of(square.treadle, side, numbers))

    def _square(self, square: TieSquare, side: float) -> TieSquareButton:
        button = TieSquareButton(way=square.way, look=self.look, size_hint=(None, None), size=(side, side))
        button.bind(on_release=lambda _button: self._touch(square))
        self._squares[square.treadle, square.shaft] = button
        return button

    def _number_of(self, index: int, width: float, height: float) -> FitLabel:
        return FitLabel(
            text=str(index + 1),
            wanted_size=self.sizes.word,
            color=self.look.quiet_text,
            halign="center",
            valign="middle",
            size_hint=(None, None),
            size=(width, height),
        )

    def _write_buttons(self, signs: CurrentTieUpSigns) -> None:
        pages = [FootKey(more_words(signs.number, signs.of), self.turn)] if signs.of > 1 else []
        self.foot.fill(
            self.look,
            self.sizes,
            back=FootKey(BACK, self.go_out),
            others=(*pages, FootKey(NOT_KNOWN, self._forget)),
            done=FootKey(DONE, lambda: self._keep(self.profile), main=True),
        )


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
