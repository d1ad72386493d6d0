"""The record screen: pages of what was done, turned by large buttons, and ways to keep it or hand it on."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from kivy.graphics import Color, Line, Rectangle
from kivy.lang import Builder
from kivy.properties import BooleanProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.label import Label

from companion.draft.model import Colour
from companion.present import help_topics
from companion.present.record_page import MORE_BELOW, READING, RecordDeed, RecordPage
from companion.present.wording import BETWEEN
from companion.screens.place import Place
from companion.screens.surroundings import Surroundings
from companion.screens.theme import Sizes
from companion.screens.widgets import cloth_picture, fit_label
from companion.screens.widgets.word_button import WordButton

_DRAWN_WITH = (cloth_picture, fit_label)
"""Imported for the kv rules, which find these widgets by name."""


class RecordScreen(BoxLayout, Place):  # type: ignore[misc]
    """Shows `pages`, none while the journal is read; the callables are what the buttons ask for.

    For the left hand the buttons lie the other way round.
    """

    # rebind: the rules of record.kv read parts of these, and follow only so.
    look = ObjectProperty(None, rebind=True)
    sizes = ObjectProperty(None, rebind=True)
    mirrored = BooleanProperty(False)
    title = StringProperty(READING)
    where = StringProperty("")
    line = StringProperty("")

    def __init__(
        self,
        around: Surroundings,
        save: Callable[[], None],
        bundle: Callable[[], None],
        **rest: Any,
    ) -> None:
        super().__init__(look=around.look, sizes=around.sizes, mirrored=around.mirrored, **rest)
        # Kivy's ids are weak: out of the body, these would be gone for good.
        self._scroll, self._picture = self.ids.scroll.__self__, self.ids.picture.__self__
        self._rows = self.ids.rows.__self__
        self._pages: tuple[RecordPage, ...] = ()
        self._at = 0
        self._deeds: dict[RecordDeed, Callable[[], None]] = {
            RecordDeed.LEAVE: self.go_out,
            RecordDeed.EARLIER: lambda: self._on(-1),
            RecordDeed.LATER: lambda: self._on(1),
            RecordDeed.SAVE: save,
            RecordDeed.BUNDLE: bundle,
        }
        self._buttons = {deed: self._button(deed) for deed in RecordDeed}
        if around.mirrored:
            self.ids.buttons.children.reverse()
        self._rows.bind(width=self._show, height=self._say_where)
        self._scroll.bind(scroll_y=self._say_where, height=self._say_where)
        self._show()

    @property
    def topics(self) -> tuple[str, ...]:
        """The help of the record."""
        return (help_topics.RECORD,)

    def go_on(self) -> None:
        """Read on: the rest of the page, then the next one."""
        self._on(1)

    def go_back(self) -> None:
        """Read back: what stands above, then the page before; from the beginning, leave."""
        if self._at or self._scroll.scroll_y < 1:
            self._on(-1)
        else:
            self.go_out()

    def fit(self, sizes: Sizes) -> None:
        """Take on the sizes of a changed window."""
        self.sizes = sizes
        self._show()

    def say(self, line: str) -> None:
        """Show a line until the page is turned."""
        self.line = line

    def show_pages(self, pages: tuple[RecordPage, ...]) -> None:
        """Show these pages, from the first one on."""
        self._pages, self._at = pages, 0
        self._show()

    def turn(self, pages: int) -> None:
        """Show another page, so many further on or back; after the last one comes the first."""
        if self._pages:
            self._at = (self._at + pages) % len(self._pages)
            self.line = ""
            self._show()
            self._scroll.scroll_y = 1

    def _on(self, way: int) -> None:
        """Show what comes then: the rest of this page, from its first row on that was not seen whole, or the next."""
        if not self._read_on(way):
            self.turn(way)

    def _read_on(self, way: int) -> bool:
        """Move on within the page that is shown, or back; tell whether there was anything more."""
        hidden = self._rows.height - self._scroll.height
        if not self._pages or self._pages[self._at].picture is not None or hidden < 1:
            return False
        seen_from = (1 - self._scroll.scroll_y) * hidden
        if way < 0:
            there = max(seen_from - self._scroll.height, 0) if seen_from > 1 else None
        else:
            tops = [(self._rows.top - row.top, self._rows.top - row.y) for row in self._rows.children]
            cut = [top for top, below in tops if below > seen_from + self._scroll.height + 1]
            there = min(cut, default=None)
            if there is not None and there <= seen_from:
                # A row that is higher than the window.
                there = seen_from + self._scroll.height
        if there is None:
            return False
        self._scroll.scroll_y = 1 - min(there, hidden) / hidden
        return True

    def button(self, deed: RecordDeed) -> WordButton:
        """Return the button for this."""
        return self._buttons[deed]

    def _show(self, *_: Any) -> None:
        for button in self._buttons.values():
            button.wanted_size = self.sizes.word
        self._rows.clear_widgets()
        if not self._pages:
            self.title, self.where = READING, ""
            self._put(self._scroll)
            return
        page = self._pages[self._at]
        self.title = page.title
        self._say_where()
        self._put(self._scroll if page.picture is None else self._picture)
        self._picture.image = page.picture
        for at, (label, words) in enumerate(page.rows):
            row = self._words(label, 0.36, bold=not words), self._words(words, 0.6, bold=False)
            if (yarn := page.yarns.get(at)) is not None:
                self._add_stripe(row[0], yarn)
            for one in row:
                one.height = max(other.height for other in row)
                one.text_size = one.text_size[0], one.height
                self._rows.add_widget(one)

    def _say_where(self, *_: Any) -> None:
        """Say which page this is, and whether it goes on below."""
        if self._pages:
            hidden = self._rows.height - self._scroll.height
            below = self._pages[self._at].picture is None and hidden * self._scroll.scroll_y > 1
            more = f"{BETWEEN}{MORE_BELOW}" if below else ""
            self.where = f"{self._at + 1} of {len(self._pages)}{more}"

    def _put(self, shown: Any) -> None:
        if shown.parent is not self.ids.body or len(self.ids.body.children) > 1:
            self.ids.body.clear_widgets()
            self.ids.body.add_widget(shown)

    def _words(self, text: str, share: float, bold: bool) -> Label:
        label = Label(
            text=text,
            bold=bold,
            font_size=self.sizes.word,
            color=self.look.text,
            size_hint=(share, None),
            halign="left",
            valign="top",
            text_size=(max(self._rows.width * share - self.sizes.gap, 1), None),
        )
        label.texture_update()
        label.height = max(label.texture_size[1], self.sizes.line)
        return label

    def _add_stripe(self, label: Label, yarn: Colour) -> None:
        """Draw the yarn that a row is about as a stripe before its name."""
        wide = self.sizes.gap * 1.5
        label.padding = (wide + self.sizes.gap, 0, 0, 0)
        with label.canvas.before:
            Color(*(part / 255 for part in yarn))
            stripe = Rectangle()
            Color(*self.look.quiet_text)
            edge = Line(width=1.2)

        def place(*_: Any) -> None:
            stripe.pos, stripe.size = (label.x + 2, label.y + 2), (wide, label.height - 4)
            edge.rectangle = (*stripe.pos, *stripe.size)

        label.bind(pos=place, size=place)
        place()

    def _button(self, deed: RecordDeed) -> WordButton:
        main = deed is RecordDeed.LATER
        button = WordButton(
            text=deed.value,
            ground=self.look.accent if main else self.look.button,
            ground_down=self.look.accent_down if main else self.look.button_down,
            color=self.look.on_accent if main else self.look.text,
        )
        button.bind(on_release=lambda _button: self._deeds[deed]())
        self.ids.buttons.add_widget(button)
        return button


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
