"""Words in one of the theme's sizes, in as many lines as their box holds; never in a size of their own."""

from __future__ import annotations

from typing import Any

from kivy.lang import Builder
from kivy.properties import BooleanProperty, ListProperty, NumericProperty, ObjectProperty
from kivy.uix.label import Label

from companion.screens.widgets.glyphs import extents, size_that_fits, words_drawn


class FitLabel(Label):  # type: ignore[misc]
    """A label at `wanted_size`, or at `lesser_size` (both sizes of the theme, in pixels) where one is given.

    `wordings` are ways to say it, the fullest first: the first that fits becomes the text.
    Words that fit in neither are `cut`: shown in one line that ends in dots. That is for names, which may be as long as
    a weaver likes; the program's own words are worded so that they fit.

    Only the words are drawn, at `words_pos`, and not the whole box: most of it is empty, and is blended all the same.
    """

    wanted_size = NumericProperty(20)
    lesser_size = NumericProperty(0)
    wordings = ObjectProperty(())
    cut = BooleanProperty(False)
    words_pos = ListProperty([0, 0])

    def __init__(self, **properties: Any) -> None:
        super().__init__(shorten_from="right", **properties)
        self.bind(size=self._fit, text=self._fit, wanted_size=self._fit, bold=self._fit, padding=self._fit)
        self.bind(lesser_size=self._fit, wordings=self._fit)
        self.bind(pos=self._put_words, size=self._trigger_texture)
        self._fit()

    def texture_update(self, *_: Any) -> None:
        """Show the words as they were drawn when they last stood somewhere, or draw them."""
        self.texture, self.texture_size = None, (0, 0)
        if self.text:
            left, _below, right, _above = self.padding
            size, kind = int(self.font_size), (self.bold, tuple(self.color), self.halign)
            if self.cut:
                # A box may be too low for even one line.
                drawn = words_drawn(self.text, size, *kind, self.width, self.height, tuple(self.padding), self.valign)
            elif self._in_one_line():
                drawn = words_drawn(self.text, size, *kind)
            else:
                drawn = words_drawn(self.text, size, *kind, self.width, None, (left, 0, right, 0))
            self.texture, self.texture_size = drawn.texture, drawn.texture.size
        self._put_words()

    def _in_one_line(self) -> bool:
        wide, _ = extents(self.text, int(self.font_size), self.bold)
        return "\n" not in self.text and wide <= int(self.width - self.padding[0] - self.padding[2])

    def _put_words(self, *_: Any) -> None:
        """Put the words where they would stand in a picture of the whole box, to the pixel."""
        box_width, box_height = int(self.width), int(self.height)
        # Not its middle: Kivy brings that up to date only after those who listen to the position.
        x, y = int(self.x + (self.width - box_width) / 2), int(self.y + (self.height - box_height) / 2)
        if not self.cut:
            left, above, right, below = self.padding
            wide, high = self.texture_size
            room = box_height - high
            y += room - {"top": int(above), "bottom": int(room - below)}.get(
                self.valign, int((room + above - below) / 2)
            )
            if self._in_one_line():
                room = box_width - wide
                middle = min(int(room), max(int(left), int((room + left - right) / 2)))
                x += {"center": middle, "right": max(0, int(room - right))}.get(self.halign, int(left))
        self.words_pos = x, y

    def _fit(self, *_: Any) -> None:
        room_x = int(self.width - self.padding[0] - self.padding[2])
        room_y = int(self.height - self.padding[1] - self.padding[3])
        sizes = tuple(max(int(size), 1) for size in (self.wanted_size, self.lesser_size) if size)
        text: str = self.property("text").get(self)
        said: tuple[str, ...] = self.wordings or (text,)
        # Rather a shorter wording than smaller letters.
        each = ((words, size) for size in sizes for words in said)
        fitting = ((words, size_that_fits(words, (size,), self.bold, room_x, room_y)) for words, size in each)
        words, size = next(((words, size) for words, size in fitting if size), (said[-1], None))
        self.text = words
        self.cut = self.shorten = size is None and bool(words)
        self.font_size = size or sizes[-1]


Builder.load_string("""
<-FitLabel>:
    canvas:
        Color:
            rgba: 1, 1, 1, 1
        Rectangle:
            texture: self.texture
            size: self.texture_size
            pos: self.words_pos
""")
