"""Words in one of the theme's sizes, in as many lines as their box holds; never in a size of their own."""

from __future__ import annotations

from typing import Any

from kivy.properties import NumericProperty, ObjectProperty

from companion.screens.widgets.glyphs import keeps_things_whole, size_that_fits
from companion.screens.widgets.words import DrawnWords


class FitLabel(DrawnWords):
    """Words at `wanted_size`, or at `lesser_size` (both sizes of the theme, in pixels) where one is given.

    `wordings` are ways to say it, the fullest first: the first that fits becomes the text; before the others those that
    need no line that ends within one of the things that dots stand between.
    Words that fit in neither are `cut`: shown in one line that ends in dots. That is for names, which may be as long as
    a weaver likes; the program's own words are worded so that they fit.
    """

    wanted_size = NumericProperty(20)
    lesser_size = NumericProperty(0)
    wordings = ObjectProperty(())

    def __init__(self, **properties: Any) -> None:
        super().__init__(**properties)
        self.bind(size=self._fit, text=self._fit, wanted_size=self._fit, bold=self._fit, padding=self._fit)
        self.bind(lesser_size=self._fit, wordings=self._fit)
        self._fit()

    def _fit(self, *_: Any) -> None:
        room_x = int(self.width - self.padding[0] - self.padding[2])
        room_y = int(self.height - self.padding[1] - self.padding[3])
        sizes = tuple(max(int(size), 1) for size in (self.wanted_size, self.lesser_size) if size)
        text: str = self.property("text").get(self)
        said: tuple[str, ...] = self.wordings or (text,)
        # Rather a shorter wording than smaller letters, and than a line that ends within what belongs together.
        each = ((words, size) for size in sizes for words in self._in_order(said, size, room_x))
        fitting = ((words, size_that_fits(words, (size,), self.bold, room_x, room_y)) for words, size in each)
        words, size = next(((words, size) for words, size in fitting if size), (said[-1], None))
        self.text = words
        self.cut = size is None and bool(words)
        self.font_size = size or sizes[-1]

    def _in_order(self, said: tuple[str, ...], size: int, width: int) -> tuple[str, ...]:
        if len(said) == 1:
            return said
        whole = [words for words in said if keeps_things_whole(words, size, self.bold, width)]
        return (*whole, *(words for words in said if words not in whole))
