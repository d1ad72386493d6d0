"""The head of a page: a line of what it is about and a few lines of more."""

from __future__ import annotations

from typing import Any

from kivy.lang import Builder
from kivy.properties import ObjectProperty
from kivy.uix.boxlayout import BoxLayout

from companion.screens.widgets.fit_label import FitLabel
from companion.screens.widgets.glyphs import height_in_lines
from companion.screens.widgets.grow_label import GrowLabel

_LABELS = 2
_LINE = 1.25
"""Height of a line, in sizes of its letters."""


class PageHead(BoxLayout):  # type: ignore[misc]
    """Holds a `HeadLine` and a `DetailLine`, and is as high as these need."""

    sizes = ObjectProperty(None, rebind=True)

    def __init__(self, **properties: Any) -> None:
        super().__init__(**properties)
        self.bind(children=self._listen, sizes=self._fit, width=self._fit)

    def _listen(self, *_: Any) -> None:
        for label in self.children:
            label.bind(text=self._fit, height=self._add_up)
        self._fit()

    def _fit(self, *_: Any) -> None:
        if self.sizes is None or len(self.children) < _LABELS:
            return
        detail, headline = self.children
        sizes, whole = self.sizes, max(int(self.width), 1)
        title, word = int(sizes.title), int(sizes.word)
        # So as to stand in the middle, both sides of a line are left to the help, which has its corner.
        beside = max(int(whole - 2 * (sizes.help + sizes.gap)), 1)

        def lines_high(text: str, size: int, bold: bool, width: int) -> float:
            return height_in_lines(text, size, bold, width) or float("inf")

        in_title = lines_high(headline.text, title, True, beside)
        one_line = in_title <= title * _LINE
        two_lines = sizes.upright and in_title <= title * _LINE * 2
        high = max(title * _LINE if one_line else title * _LINE * 2 if two_lines else word * _LINE * 2, sizes.help)
        across = whole
        if not sizes.upright and lines_high(detail.text, word, False, whole) > word * _LINE * 2:
            # What is long to tell gets its third line from the head line, where it stands beside the help too.
            low = lines_high(headline.text, word, True, beside) <= word * _LINE
            if low and lines_high(detail.text, word, False, beside) <= detail.most_height:
                high, across = word * _LINE, beside
        headline.height = high
        for label, width in ((headline, beside), (detail, across)):
            label.size_hint_x, label.pos_hint, label.width = None, {"center_x": 0.5}, width
        self._add_up()

    def _add_up(self, *_: Any) -> None:
        self.height = sum(label.height for label in self.children)


class HeadLine(FitLabel):
    """What a page is about, at the theme's title size; what is long stands in words, or upright in two lines."""

    sizes = ObjectProperty(None, rebind=True)


class DetailLine(GrowLabel):
    """More about it, also where news is told that moves nothing: two lines, or four where need be, six upright."""

    sizes = ObjectProperty(None, rebind=True)


Builder.load_string("""
<PageHead>:
    orientation: 'vertical'
    size_hint_y: None
<HeadLine>:
    size_hint_y: None
    wanted_size: self.sizes.title if self.sizes else 1
    lesser_size: self.sizes.word if self.sizes else 1
    bold: True
    halign: 'center'
    valign: 'middle'
<DetailLine>:
    least_height: self.sizes.word * 2.4 if self.sizes else 0
    # A narrow window is an upright one, with height to spare.
    most_height: self.sizes.word * (7.4 if self.width < self.sizes.word * 28 else 4.9) if self.sizes else 0
    wanted_size: self.sizes.word if self.sizes else 1
    halign: 'center'
    valign: 'middle'
""")
