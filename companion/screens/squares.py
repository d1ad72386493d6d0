"""The squares of a gamp on the screen: a table of pictures to touch, blocks across and sections down."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from kivy.clock import Clock
from kivy.lang import Builder
from kivy.metrics import dp
from kivy.properties import ObjectProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.gridlayout import GridLayout
from kivy.uix.relativelayout import RelativeLayout
from kivy.uix.widget import Widget

from companion.draft.gamp import Area
from companion.present import help_topics
from companion.present.button_words import BACK, EARLIER, MORE
from companion.present.fell import Picture
from companion.present.paging import Page, page_of
from companion.present.square_table import SquareSeen, SquareTable
from companion.present.trade_words import in_trade_words
from companion.screens.place import Place
from companion.screens.surroundings import Surroundings
from companion.screens.theme import SMALLEST_TARGET_DP, Sizes
from companion.screens.widgets import page_head
from companion.screens.widgets.fit_label import FitLabel
from companion.screens.widgets.foot_row import FootKey, FootRow
from companion.screens.widgets.glyphs import extents
from companion.screens.widgets.square_button import SquareButton
from companion.screens.widgets.word_button import WordButton

_DRAWN_WITH = (page_head,)
"""Imported for the kv rules, which find these widgets by name."""
_LEAST_NAME, _MOST_NAME = 4.5, 6.0
"""How wide the names beside the rows are, in sizes of a word: as wide as they need between these."""
_MOST_HEADS, _MOST_HEADS_UPRIGHT = 2, 3
"""In so many lines at most the names above the columns stand; a name that finds no room so is a number."""
_LEAST_SQUARE = 2.0
"""How wide and high a square is at least, in sizes of a word."""


class SquaresScreen(BoxLayout, Place):  # type: ignore[misc]
    """Shows `table`, a page at a time; `draw` draws a square, `chosen` is called with one that is touched."""

    # rebind: the rules of squares.kv read parts of these, and follow only so.
    table = ObjectProperty(None, rebind=True)
    look = ObjectProperty(None, rebind=True)
    sizes = ObjectProperty(None, rebind=True)

    def __init__(
        self,
        around: Surroundings,
        table: SquareTable,
        draw: Callable[[Area], Picture],
        chosen: Callable[[SquareSeen], None],
        **rest: Any,
    ) -> None:
        super().__init__(table=table, look=around.look, sizes=around.sizes, **rest)
        self._draw = draw
        self._chosen = chosen
        self._page = 0
        self._drawn: dict[Area, Picture] = {}
        self._grid = GridLayout()
        self._laid_out: tuple[int, int] = (1, 1)
        self.foot = FootRow(around.mirrored)
        self.add_widget(self.foot)
        # A window that changes its size changes both, and its squares are many.
        write_soon = Clock.create_trigger(self._write, -1)
        self.bind(table=self._write, sizes=write_soon)
        self.ids.body.bind(size=write_soon)
        self._write()

    @property
    def topics(self) -> tuple[str, ...]:
        """The help of the squares."""
        return (help_topics.SQUARES,)

    def fit(self, sizes: Sizes) -> None:
        """Take on the sizes of a changed window."""
        self.sizes = sizes

    def say(self, line: str) -> None:
        """Show a line in the place of the detail."""
        self.ids.detail.text = in_trade_words(line, self.look.trade)

    def button(self, words: str) -> WordButton:
        """Return the button at the foot with these words; StopIteration where there is none."""
        return self.foot.button(words)

    def square(self, name: str) -> SquareButton:
        """Return the button of the square with this name; StopIteration where it is not on the screen."""
        squares = (one for one in self._grid.children if isinstance(one, SquareButton))
        return next(one for one in squares if one.square.area.name == name)

    def go_on(self) -> None:
        """Show the next page, where there are several."""
        self._turn(1)

    def _turn(self, pages: int) -> None:
        self._page += pages
        self.settle()
        self._write()

    def _pages(self) -> list[tuple[Page[tuple[tuple[str, str], int]], Page[tuple[tuple[str, str], int]]]]:
        """Return the pages, each with its columns and its rows: names and numbers (from 0)."""
        table, body, least = self.table, self.ids.body, self.sizes.word * _LEAST_SQUARE
        least = max(least, dp(SMALLEST_TARGET_DP))
        most = max(int((body.width - self._names_width()) // (least + self.sizes.gap)), 1)

        def room_down(across: int) -> int:
            heads = self.sizes.line * self._head_lines(across)
            return max(int((body.height - heads) // (least + self.sizes.gap)), 1)

        def pages(across: int) -> int:
            return -(-len(table.columns) // across) * -(-len(table.lines) // room_down(across))

        # Names of many narrow columns may take the height of a row: the fewest pages are the best.
        across = min(range(1, most + 1), key=lambda one: (pages(one), -one))
        down = room_down(across)
        columns = list(zip(table.columns, range(len(table.columns)), strict=True))
        lines = list(zip(table.lines, range(len(table.lines)), strict=True))
        across, down = _shared(len(columns), across), _shared(len(lines), down)
        self._laid_out = across, down
        return [
            (page_of(columns, one, across), page_of(lines, other, down))
            for other in range(page_of(lines, 0, down).of)
            for one in range(page_of(columns, 0, across).of)
        ]

    def _write(self, *_: Any) -> None:
        pages = self._pages()
        self._page %= len(pages)
        columns, lines = pages[self._page]
        across, down = self._laid_out
        wide = self._names_width()
        self._grid = grid = GridLayout(cols=across + 1, spacing=self.sizes.gap)
        for place in range(down):
            line = lines.shown[place] if place < len(lines.shown) else None
            name = ("",) if line is None else line[0]
            grid.add_widget(self._name(name, size_hint_x=None, width=wide, halign="right"))
            for column in range(across):
                there = line is not None and column < len(columns.shown)
                grid.add_widget(self._square(line[1], columns.shown[column][1]) if there and line else Widget())
        self.ids.body.clear_widgets()
        self.ids.body.add_widget(self._heads([name for name, _ in columns.shown], across))
        self.ids.body.add_widget(grid)
        others = []
        if len(pages) > 2:
            others.append(FootKey(EARLIER, lambda: self._turn(-1)))
        if len(pages) > 1:
            others.append(FootKey(f"{MORE} {self._page + 1}/{len(pages)}", lambda: self._turn(1)))
        self.foot.fill(self.look, self.sizes, back=FootKey(BACK, self.go_back), others=others)

    def _names_width(self) -> float:
        words = [word for name, _ in self.table.lines for word in name.split()]
        widest = max((self._width(word) for word in words), default=0)
        word: float = self.sizes.word
        return min(max(widest, word * _LEAST_NAME), word * _MOST_NAME)

    def _column(self, across: int) -> float:
        """Return how wide each of so many columns is."""
        whole: float = self.ids.body.width
        gap: float = self.sizes.gap
        return (whole - self._names_width()) / across - gap

    def _head_lines(self, across: int) -> int:
        """Return in how many lines the names of so many columns stand by turns, so that each has room."""
        widest = max((self._width(name) for name, _ in self.table.columns), default=0)
        wide = self._column(across) + self.sizes.gap
        most = _MOST_HEADS_UPRIGHT if self.height > self.width else _MOST_HEADS
        return next((lines for lines in range(1, most) if widest < lines * wide), most)

    def _width(self, words: str) -> int:
        return extents(words, int(self.sizes.word), False)[0]

    def _heads(self, names: list[tuple[str, str]], across: int) -> RelativeLayout:
        """Return the names above the columns, by turns in several lines where they are wider than a column."""
        line, gap, width = self.sizes.line, self.sizes.gap, self.ids.body.width
        left, each, lines = self._names_width(), self._column(across), self._head_lines(across)
        heads = RelativeLayout(size_hint_y=None, height=lines * line)
        for place, wordings in enumerate(names):
            middle = left + gap + place * (each + gap) + each / 2
            reach = lines * (each + gap) / 2
            first, last = middle - reach, min(middle + reach, width)
            low = (lines - 1 - place % lines) * line
            box = {"size_hint": (None, None), "pos": (first, low), "size": (last - first, line)}
            heads.add_widget(self._name(wordings, halign="center" if last < width else "right", **box))
        return heads

    def _name(self, wordings: tuple[str, ...], **rest: Any) -> FitLabel:
        return FitLabel(
            wordings=wordings,
            text=wordings[0],
            wanted_size=self.sizes.word,
            color=self.look.text,
            valign="middle",
            **rest,
        )

    def _square(self, row: int, column: int) -> SquareButton:
        square = self.table.rows[row][column]
        if square.area not in self._drawn:
            self._drawn[square.area] = self._draw(square.area)
        button = SquareButton(square, self._drawn[square.area], self.look)
        button.bind(on_release=lambda _button: self._chosen(square))
        return button


def _shared(number: int, most: int) -> int:
    """Return how many stand on a page so that all pages hold about as many: 5 for 9 where 8 find room."""
    pages = -(-number // most)
    return -(-number // max(pages, 1))


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
