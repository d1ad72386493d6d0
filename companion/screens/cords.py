"""The cords screen: what to untie and tie under each treadle, in rows to tick with a hand from under the loom."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from kivy.lang import Builder
from kivy.properties import ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from companion.present.button_words import BACK, more_words
from companion.present.cords import (
    LOOK_AT_THEM,
    TICK_FIRST,
    TIED_TOO,
    CordRow,
    CordSigns,
    not_shown_words,
    nothing_ticked_words,
)
from companion.screens.look import Look
from companion.screens.theme import Sizes
from companion.screens.widgets import page_head
from companion.screens.widgets.foot_row import FootKey, FootRow
from companion.screens.widgets.grow_label import GrowLabel
from companion.screens.widgets.tick_row import TickRow
from companion.screens.widgets.word_button import WordButton

_DRAWN_WITH = (page_head, GrowLabel)
"""Imported for the kv rules, which find these widgets by name."""
_LINE = 1.25
"""The height of a line, in sizes of its letters. A row grows where there is room, to half as much as a sign again."""
_COLUMNS_FROM = 1.25
"""A window so much wider than high shows two columns of rows."""


class CordsScreen(BoxLayout):  # type: ignore[misc]
    """Shows `signs`. Says `on_tick` with a row that was touched, `on_tied`, or `on_later` for back to the pick.

    Before `on_tied` it asks of the treadles that stood on no page so far, and where nothing is ticked.

    `mirrored`: the buttons lie the other way round, for the left hand. `others` are keys of whoever shows it.
    """

    # rebind: the rules of cords.kv read parts of these, and follow only so.
    signs = ObjectProperty(None, rebind=True)
    look = ObjectProperty(None, rebind=True)
    sizes = ObjectProperty(None, rebind=True)
    line = StringProperty("")

    __events__ = ("on_tick", "on_tied", "on_later")

    def __init__(
        self,
        signs: CordSigns,
        look: Look,
        sizes: Sizes,
        mirrored: bool = False,
        others: tuple[FootKey, ...] = (),
        **rest: Any,
    ) -> None:
        self._page, self._pages, self._rows_on_page = 0, 1, 1
        self._seen: frozenset[int] = frozenset()
        self._asks = False
        self._others = others
        self.foot = FootRow(mirrored)
        super().__init__(signs=signs, look=look, sizes=sizes, line=signs.detail, **rest)
        self.add_widget(self.foot)
        self._write_buttons()
        self.bind(signs=self._write, look=self._write, sizes=self._lay_out)
        self.ids.columns.bind(size=self._lay_out)

    def on_tick(self, row: CordRow) -> None:
        """The weaver touched a row."""

    def on_tied(self) -> None:
        """The weaver says that the whole stage is tied."""

    def on_later(self) -> None:
        """The weaver wants to see the pick."""

    def go_on(self) -> None:
        """Say that all is tied, where every row is ticked; a foot on the pedal by mistake says nothing of the kind."""
        if self.signs.complete:
            self.dispatch("on_tied")
        else:
            self.say(TICK_FIRST)

    def say(self, line: str) -> None:
        """Show a line until the next tick."""
        self.line = line

    def button(self, words: str) -> WordButton:
        """Return the button with these words; StopIteration where there is none."""
        return self.foot.button(words)

    def row(self, treadle: int) -> TickRow:
        """Return the row of this treadle (index); StopIteration where it is on another page."""
        columns: list[BoxLayout] = self.ids.columns.children
        rows = (row for column in columns for row in column.children if isinstance(row, TickRow))
        return next(row for row in rows if row.number == str(treadle + 1))

    def turn(self) -> None:
        """Show the next page of rows, after the last one the first."""
        self._see()
        self._leave_question(self._page + 1)

    def _say_tied(self) -> None:
        """Say that all is tied; of treadles that were on no page so far, or where none is ticked, ask first."""
        self._see()
        unseen, rows = self._unseen(), self.signs.rows
        if unseen or (rows and not any(row.done for row in rows)):
            self._asks = True
            numbers = [row.number for row in unseen]
            self.line = not_shown_words(numbers) if unseen else nothing_ticked_words(len(rows))
            self._write_buttons()
        else:
            self.dispatch("on_tied")

    def _look_at_them(self) -> None:
        first, *_ = self._unseen() or self.signs.rows
        self._leave_question(self.signs.rows.index(first) // self._rows_on_page)

    def _leave_question(self, page: int) -> None:
        self._asks = False
        self.line = self.signs.detail
        self._show_page(page)

    def _see(self) -> None:
        first = self._page * self._rows_on_page
        self._seen |= {row.treadle for row in self.signs.rows[first : first + self._rows_on_page]}

    def _unseen(self) -> list[CordRow]:
        return [row for row in self.signs.rows if not row.done and row.treadle not in self._seen]

    def _write(self, *_: Any) -> None:
        self._leave_question(self._page)

    def _lay_out(self, *_: Any) -> None:
        # The line stands on: one that grows moves the rows itself.
        self._show_page(self._page)

    def _show_page(self, number: int) -> None:
        area = self.ids.columns
        across = 2 if area.width > _COLUMNS_FROM * area.height and len(self.signs.rows) > 1 else 1
        # What is tied is read from under the loom: at the size of a title, each line of it.
        lines = max((bool(row.untie) + bool(row.tie) for row in self.signs.rows), default=1)
        least = max(self.sizes.title * _LINE * lines, self.sizes.word * 2.6, self.sizes.action)
        down = max(int((area.height + self.sizes.gap) // (least + self.sizes.gap)), 1)
        down = min(down, -(-len(self.signs.rows) // across)) or 1
        most = self._rows_on_page = across * down
        self._pages = max(-(-len(self.signs.rows) // most), 1)
        self._page = number % self._pages
        area.clear_widgets()
        for first in range(self._page * most, (self._page + 1) * most, down):
            area.add_widget(self._column(self.signs.rows[first : first + down], down))
        self._write_buttons()

    def _column(self, rows: tuple[CordRow, ...], down: int) -> BoxLayout:
        column = BoxLayout(orientation="vertical", spacing=self.sizes.gap)
        for row in rows:
            column.add_widget(self._tick_row(row))
        for _ in range(down - len(rows)):
            column.add_widget(Widget())
        return column

    def _tick_row(self, row: CordRow) -> TickRow:
        look: Look = self.look
        above, below = (row.untie, row.tie) if row.untie and row.tie else (row.untie or row.tie, "")
        tick_row = TickRow(
            number=row.number,
            above=above,
            below=below,
            done=row.done,
            number_size=self.sizes.sign,
            lesser_number_size=self.sizes.title,
            wanted_size=self.sizes.title,
            lesser_size=self.sizes.word,
            color=look.quiet_text if row.done else look.text,
            ground=look.ground if row.done else look.button,
            ground_down=look.button_down,
            mark=look.text,
            size_hint_max_y=max(self.sizes.sign * _LINE, self.sizes.action) * 1.5,
        )
        tick_row.bind(on_release=lambda _row: self.dispatch("on_tick", row))
        return tick_row

    def _write_buttons(self) -> None:
        back = FootKey(BACK, lambda: self.dispatch("on_later"))
        if self._asks:
            # Looking lies where the finger is: a second touch in haste says nothing of cords.
            tied = FootKey(TIED_TOO, lambda: self.dispatch("on_tied"))
            look = FootKey(LOOK_AT_THEM, self._look_at_them, True)
            self.foot.fill(self.look, self.sizes, back=back, others=[tied], done=look)
            return
        pages = [FootKey(more_words(self._page, self._pages), self.turn)] if self._pages > 1 else []
        self.foot.fill(
            self.look,
            self.sizes,
            back=back,
            others=[*pages, *self._others],
            done=FootKey(self.signs.tied, self._say_tied, self.signs.complete),
        )


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
