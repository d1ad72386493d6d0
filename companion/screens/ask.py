"""The ask screen: one question, a few large answers or a list of them, and the cloth beside them where it helps."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Any

from kivy.clock import Clock
from kivy.lang import Builder
from kivy.properties import NumericProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.gridlayout import GridLayout
from kivy.uix.widget import Widget

from companion.present.asking import Answer, Asked
from companion.present.button_words import BACK, CANCEL
from companion.present.fell import Picture
from companion.present.paging import Page, page_of
from companion.screens.ask_foot import foot_keys
from companion.screens.ask_room import MOST_ANSWERS, AnswerRoom
from companion.screens.look import Look
from companion.screens.theme import Sizes
from companion.screens.widgets import cloth_picture, page_head, told_lines
from companion.screens.widgets.answer_buttons import AnswerButtons
from companion.screens.widgets.foot_row import FootKey, FootRow
from companion.screens.widgets.harness_picture import HarnessPicture
from companion.screens.widgets.pointed_picture import PointedPicture
from companion.screens.widgets.row_button import RowButton
from companion.screens.widgets.standing import stand_in
from companion.screens.widgets.word_button import WordButton

_DRAWN_WITH = (cloth_picture, page_head, told_lines)
"""Imported for the kv rules, which find these widgets by name."""
_MANY_ANSWERS = 7
"""So many beside a picture need their width more than the picture does."""
_HARDLY_ANY = 1e-3
"""The share of the height that nothing takes, unless answers leave it."""
_TALLEST_BUTTON = 2.4
"""An answer grows no taller than so many buttons at the foot."""
_CLOTH_SHARE, _NARROW_CLOTH, _PAD_SHARE = 0.8, 0.55, 1.6
"""How wide the cloth and a number pad are beside a column of answers that is 1 wide."""


class AskScreen(BoxLayout):  # type: ignore[misc]
    """Shows `asked`; says `on_answer` when one of its answers is touched, `on_back` and `on_cancel` for the ways back.

    `draw_rows` draws cloth for a button: given its rows, those of all buttons beside it, and a size, it draws a picture
    and says which ends, where these are not the first. `cloth_rows` are the rows that `cloth` has room for. `ways_back`
    tells which of these two there are. `notice` is one line of news; it stands in the place of the detail and moves
    nothing, until the next question. `mirrored` is the
    left-handed way round.
    """

    # rebind: the rules of ask.kv read parts of these, and follow only so.
    asked = ObjectProperty(None, rebind=True)
    look = ObjectProperty(None, rebind=True)
    sizes = ObjectProperty(None, rebind=True)
    cloth = ObjectProperty(None, allownone=True)
    cloth_marked = ObjectProperty((0.0, 0.0))
    cloth_rows = ObjectProperty(range(0))
    ways_back = ObjectProperty((False, False))
    draw_rows = ObjectProperty(None, allownone=True)
    notice = StringProperty("")
    ends_shown = StringProperty("")
    small_line = StringProperty("")
    columns = NumericProperty(2)

    __events__ = ("on_answer", "on_back", "on_cancel")

    def __init__(self, asked: Asked[Any], look: Look, sizes: Sizes, mirrored: bool = False, **rest: Any) -> None:
        self._page: Page[Answer[Any]] = page_of(asked.answers, 0, MOST_ANSWERS)
        self._pages_shown: dict[str, int] = {}
        self._most = self._thirds = 0
        self._mirrored = mirrored
        self.foot = FootRow(mirrored)
        self._pad = GridLayout(cols=3)
        self._strips = BoxLayout(orientation="vertical")
        self._column = BoxLayout(orientation="vertical")
        # Takes what height few answers leave, so that they stand right below what they answer.
        self._below = Widget(size_hint_y=_HARDLY_ANY)
        self._harness = HarnessPicture(size_hint_x=_CLOTH_SHARE)
        self._pointed = PointedPicture()
        super().__init__(asked=asked, look=look, sizes=sizes, **rest)
        self.add_widget(self.foot)
        # Kivy's ids are weak: out of the body, these would be gone for good.
        self._cloth, self._answers = self.ids.cloth.__self__, self.ids.answers.__self__
        self.ids.body.remove_widget(self._answers)

        def chosen(answer: Answer[Any]) -> None:
            self.dispatch("on_answer", answer)

        self._buttons = AnswerButtons(self._answers, chosen, self._draw_rows)
        self._pad_keys = AnswerButtons(self._pad, chosen, self._draw_rows)
        self._strip_buttons = AnswerButtons(self._strips, chosen, self._draw_rows, beside=True)
        make_room_soon = Clock.create_trigger(self._make_room, -1)
        self.foot.bind(height=make_room_soon)
        self.ids.head.bind(height=make_room_soon)
        self.ids.lines.bind(height=make_room_soon)
        self.bind(width=make_room_soon)
        self.bind(asked=self._ask, look=self._ask, sizes=self._ask, height=self._make_room, notice=self._write_small)
        self.bind(ends_shown=self._write_small)
        self._ask()

    def on_answer(self, answer: Answer[Any]) -> None:
        """The weaver touched an answer."""

    def on_back(self) -> None:
        """The weaver wants one step back."""

    def on_cancel(self) -> None:
        """The weaver wants out of the questions, and nothing changed."""

    def show(self, asked: Asked[Any], ways_back: tuple[bool, bool]) -> None:
        """Ask another question; `ways_back`: whether Back and Cancel lead anywhere from it."""
        self.ways_back = ways_back
        if asked == self.asked:
            self._ask()
        else:
            self.asked = asked

    def button(self, words: str) -> WordButton | RowButton:
        """Return the button with these words; StopIteration where there is none on this page."""
        shown = (*self._strips.children, *self._answers.children, *self._pad.children, *self.foot.buttons)
        return next(one for one in shown if isinstance(one, WordButton | RowButton) and one.text == words)

    @property
    def standing(self) -> tuple[object, ...]:
        """What lies where on this page: the words of its answers in order, in how many columns, and of its foot."""
        answers = [answer.words for answer in (*self.asked.strips, *self._page.shown, *self.asked.pad)]
        return self.columns, *answers, None, *(button.text for button in self.foot.buttons)

    def page_at(self, words: str) -> int:
        """Return which page of the answers to a question was shown last, counted from 0."""
        return self._pages_shown.get(words, 0)

    def turn(self, pages: int) -> None:
        """Show another page of the answers, so many further on or back."""
        self._show_page(self._page.number + pages)

    def _ask(self, *_: Any) -> None:
        self.ends_shown = ""
        self._lay_out_body()
        self.notice = ""
        room = self._room()
        self._most, self._thirds = room.most, room.across
        # Whoever comes back to a list finds it as it was left.
        self._show_page(self.page_at(self.asked.words))

    def _lay_out_body(self) -> None:
        asked, body = self.asked, self.ids.body
        parts = [self._cloth] if asked.with_cloth else []
        self._harness.signs, self._harness.theme = asked.harness, self.look.theme
        if asked.harness is not None:
            parts.append(self._harness)
        if asked.pointed is not None:
            self._pointed.theme = self.look.theme
            self._pointed.draw, self._pointed.pointed = asked.pointed.draw, self._point
            self._pointed.signs, self._pointed.sign_size = asked.pointed.signs, self.sizes.word
            parts.append(self._pointed)
        column = [self._strips] if asked.strips else []
        if asked.answers or not (asked.pad or asked.strips or asked.pointed):
            column.append(self._answers)
            if not (asked.strips or asked.as_list or parts):
                column.append(self._below)
        stand_in(self._column, column)
        if column:
            parts.append(self._column)
        if asked.pad:
            parts.append(self._pad)
        # Upright, there is height for one below the other, and not the width for both.
        body.orientation = "vertical" if self.height > self.width else "horizontal"
        self._pad.size_hint = (1, 2) if body.orientation == "vertical" else (_PAD_SHARE, 1)
        # Many answers need the width more than the cloth does.
        share = _CLOTH_SHARE if len(self.asked.answers) < _MANY_ANSWERS else _NARROW_CLOTH
        for picture in (self._cloth, self._harness):
            picture.size_hint_x = 1 if body.orientation == "vertical" else share
        if self._mirrored and body.orientation == "horizontal":
            parts.reverse()
        stand_in(body, parts)
        self._write_strips()
        self._write_pad()

    def _write_strips(self) -> None:
        self._strips.spacing = self.sizes.gap
        self._column.spacing = self.sizes.gap if self.asked.strips else 0
        self._strip_buttons.put(self.asked.strips, self.look, self.sizes.word)

    def _point(self, across: float, down: float) -> None:
        pointed = self.asked.pointed
        if pointed is not None:
            self.dispatch("on_answer", Answer(self.asked.words, partial(pointed.leads_to, across, down)))

    def touch_cloth(self, _across: float, down: float) -> None:
        """Take a touch of the cloth beside the question, `down` from its top (0) to its bottom (1)."""
        asked, rows = self.asked, self.cloth_rows
        row = rows.start + int(down * len(rows))
        if asked.by_row is not None and row in rows and row < len(asked.rows):
            self.dispatch("on_answer", Answer(asked.words, partial(asked.by_row, row)))

    def _write_pad(self) -> None:
        pad = self._pad
        pad.spacing = self.sizes.gap
        self._pad_keys.put(self.asked.pad, self.look, self.sizes.title)

    def _make_room(self, *_: Any) -> None:
        self._lay_out_body()
        room = self._room()
        laid_out = room.most, room.across
        if laid_out != (self._most, self._thirds):
            self._most, self._thirds = laid_out
            self._show_page(self._page.number)
        else:
            self._size_rows()

    def _room(self) -> AnswerRoom:
        """Return what room the answers have now."""
        return AnswerRoom(self.asked, self.sizes, self.width, self.height, self._list_height())

    def _list_height(self) -> float:
        """Return the height of a list."""
        sizes: Sizes = self.sizes
        spaces = 2 + 3
        return float(self.height - self.ids.head.height - self.ids.lines.height - self.foot.height - spaces * sizes.gap)

    def _show_page(self, number: int) -> None:
        asked: Asked[Any] = self.asked
        self._page = page = page_of(asked.answers, number, self._most)
        self._pages_shown[asked.words] = page.number
        self.columns = self._room().columns(page)
        pictured = asked.pictured or any(answer.picture is not None for answer in asked.answers)
        self._buttons.put(page.shown, self.look, self.sizes.word, asked.as_list, pictured)
        self._size_rows()
        self._fill_foot()
        self._write_small()

    def _fill_foot(self) -> None:
        others, last = foot_keys(self.asked, self._page, self._foot_key, self.turn)
        can_go_back, can_cancel = self.ways_back
        self.foot.fill(
            self.look,
            self.sizes,
            back=FootKey(BACK, lambda: self.dispatch("on_back")) if can_go_back else None,
            cancel=FootKey(CANCEL, lambda: self.dispatch("on_cancel")) if can_cancel else None,
            others=others,
            done=last,
        )

    def _draw_rows(self, rows: tuple[int, ...], width: float, height: float) -> Picture | None:
        if self.draw_rows is None:
            return None
        shown = [answer.rows for answer in (*self.asked.strips, *self._page.shown) if answer.rows]
        picture: Picture
        picture, self.ends_shown = self.draw_rows(rows, shown, width, height)
        return picture

    def _foot_key(self, answer: Answer[Any]) -> FootKey | None:
        if not answer.words:
            return None
        return FootKey(answer.words, lambda: self.dispatch("on_answer", answer), answer.main)

    def _size_rows(self) -> None:
        answers, rows = self._answers, len(self._page.shown)
        # Strips and rows of answers below them are equally high.
        self._strips.size_hint_y = len(self.asked.strips)
        answers.size_hint_y = max(-(-rows // self.columns), 1) if self.asked.strips else 1
        answers.row_force_default = self.asked.as_list
        # Few answers in much room stay buttons: a whole screen to touch looks like none.
        across = -(-rows // self.columns)
        tallest_button = across * self.sizes.action * _TALLEST_BUTTON
        pictured = self._room().shows_cloth or any(answer.rows for answer in self._page.shown)
        answers.size_hint_max_y = None if self.asked.as_list or pictured or not rows else tallest_button
        answers.pos_hint = {"top": 1}
        # To Kivy this is also the least height of a row that is not forced: a list's rows must not stay behind.
        answers.row_default_height = 0
        if self.asked.as_list and rows:
            answers.row_default_height = self._room().row_height(self._page)

    def _write_small(self, *_: Any) -> None:
        # A page's number is never parted from its words by the end of a line.
        page = self._page.words.replace(" ", "\u00a0")
        parts = (self.asked.detail, self.ends_shown, page)
        self.small_line = self.notice or " · ".join(part for part in parts if part)


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
