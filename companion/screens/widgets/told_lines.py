"""Lines that are told above what is asked: each takes as much height as it needs in the width there is."""

from __future__ import annotations

from typing import Any

from kivy.properties import ObjectProperty
from kivy.uix.boxlayout import BoxLayout

from companion.screens.widgets.fit_label import FitLabel
from companion.screens.widgets.glyphs import height_in_lines

_APART = 1.1
"""The height of all of them, in that of their letters' lines."""


class ToldLines(BoxLayout):  # type: ignore[misc]
    """Shows `lines`, one below the other, in the colours of `look`; sets its own height, nothing for none."""

    lines = ObjectProperty(())
    look = ObjectProperty(None)
    sizes = ObjectProperty(None)

    def __init__(self, **properties: Any) -> None:
        super().__init__(orientation="vertical", size_hint_y=None, height=0, **properties)
        self.bind(lines=self._write, look=self._write, sizes=self._write, width=self._write)

    def _write(self, *_: Any) -> None:
        if self.look is None or self.sizes is None:
            return
        self.clear_widgets()
        size, width = int(self.sizes.word), int(self.width)
        heights = [height_in_lines(text, size, False, width) or size for text in self.lines]
        self.height = sum(heights) * _APART
        for text, height in zip(self.lines, heights, strict=True):
            self.add_widget(
                FitLabel(text=text, wanted_size=size, color=self.look.text, valign="middle", size_hint_y=height)
            )
