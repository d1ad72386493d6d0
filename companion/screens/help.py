"""The help screen: what each thing on a page does, in pages turned by hand, foot or key."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from kivy.clock import Clock
from kivy.lang import Builder
from kivy.properties import ObjectProperty, StringProperty
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from companion.present.button_words import BACK, EARLIER, MORE
from companion.present.help_pages import HELP_TOPIC, HelpPage
from companion.screens.place import Place
from companion.screens.surroundings import Surroundings
from companion.screens.theme import Sizes
from companion.screens.widgets import page_head
from companion.screens.widgets.fit_label import FitLabel
from companion.screens.widgets.foot_row import FootKey, FootRow
from companion.screens.widgets.glyphs import extents, height_in_lines

_DRAWN_WITH = (page_head,)
"""Imported for the kv rules, which find this widget by name."""
_NAMES, _MOST_NAMES = 0.3, 0.5
"""The share of the width that the names of things have: more where a word of theirs is wider."""


class HelpScreen(BoxLayout, Place):  # type: ignore[misc]
    """Shows `page`; how it stands with the pedal is told to the place that the weaver looked away from.

    The help has help as every page does; the help of the help has none.
    """

    look = ObjectProperty(None, rebind=True)
    sizes = ObjectProperty(None, rebind=True)
    title = StringProperty("")
    about = StringProperty("")
    topics = (HELP_TOPIC,)

    def __init__(self, page: HelpPage, beneath: Place, around: Surroundings, **rest: Any) -> None:
        self._page, self._beneath = page, beneath
        self.has_help = not isinstance(beneath, HelpScreen)
        self._at, self._firsts = 0, [0]
        self.foot = FootRow(around.mirrored)
        super().__init__(look=around.look, sizes=around.sizes, title=page.title, about=page.about, **rest)
        self.add_widget(self.foot)
        # Once its size is known, and once for all that changes before the next frame.
        write_soon = Clock.create_trigger(self._write, -1)
        self.ids.rows.bind(size=write_soon)
        self.bind(sizes=write_soon)
        write_soon()

    def go_on(self) -> None:
        """Show the next page of it; on the last one stay: who presses on here weaves nothing."""
        self.turn(1)

    def go_back(self) -> None:
        """Show the page before; from the first one, leave."""
        if self._at:
            self.turn(-1)
        else:
            self.go_out()

    def fit(self, sizes: Sizes) -> None:
        """Take on the sizes of a changed window."""
        self.sizes = sizes

    def show_pedal(self, words: str) -> None:
        """Keep it for the place that the weaver comes back to."""
        self._beneath.show_pedal(words)

    def button(self, words: str) -> Any:
        """Return the button with these words; StopIteration where there is none."""
        return self.foot.button(words)

    def turn(self, pages: int) -> None:
        """Show another page of it, so many further on or back; there is none past the ends."""
        self._at = max(min(self._at + pages, len(self._firsts) - 1), 0)
        self._write()

    def _write(self, *_: Any) -> None:
        box, size, gap = self.ids.rows, int(self.sizes.word), self.sizes.gap
        across = int(box.width - gap)
        alone = {word for name, _ in self._page.rows for word in name.split()}
        widest = max((extents(word, size, True)[0] for word in alone), default=0)
        names = int(min(max(across * _NAMES, widest + 1), across * _MOST_NAMES))
        widths = names, across - names
        heights = [self._height(row, widths, size) for row in self._page.rows]
        self._firsts = _pages(heights, gap, box.height)
        self._at = min(self._at, len(self._firsts) - 1)
        first, *later = self._firsts[self._at :]
        box.clear_widgets()
        shown = slice(first, later[0] if later else None)
        for (name, words), height in zip(self._page.rows[shown], heights[shown], strict=True):
            row = BoxLayout(size_hint_y=None, height=height, spacing=gap)
            for text, width, bold in ((name, widths[0], True), (words, widths[1], False)):
                label = FitLabel(text=text, bold=bold, wanted_size=size, color=self.look.text, halign="left")
                label.valign, label.size_hint_x, label.width = "top", None, width
                row.add_widget(label)
            box.add_widget(row)
        box.add_widget(Widget())
        self._fill_foot()

    @staticmethod
    def _height(row: tuple[str, str], widths: tuple[int, int], size: int) -> int:
        name, words = row
        high = (height_in_lines(name, size, True, widths[0]), height_in_lines(words, size, False, widths[1]))
        return max(one or size for one in high) + 1

    def _fill_foot(self) -> None:
        pages = len(self._firsts)
        others = [FootKey(EARLIER, lambda: self.turn(-1)) if self._at else None] if pages > 1 else []
        done = FootKey(MORE, lambda: self.turn(1), main=True) if self._at < pages - 1 else None
        self.foot.fill(self.look, self.sizes, back=FootKey(BACK, self.go_out), others=others, done=done)


def _pages(heights: list[int], gap: float, room: float) -> list[int]:
    """Return with which row each page begins: a page is as full as its rows allow, and never without any."""
    firsts, left = [0], room
    for number, height in enumerate(heights):
        if height > left and number > firsts[-1]:
            firsts.append(number)
            left = room
        left -= height + gap
    return firsts


def things_on(widget: Any) -> Iterator[str]:
    """Yield the words of each thing that can be touched on a page, from the top of each box on."""
    words = getattr(widget, "text", None) if isinstance(widget, ButtonBehavior) else None
    if words:
        # What is said in brief for want of room is called as it is in full.
        fuller = getattr(widget, "wordings", ())
        yield fuller[0] if fuller else words
    for child in reversed(widget.children):
        yield from things_on(child)


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
