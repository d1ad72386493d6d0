"""One of several ways to choose from: a small drawing of the tie-up, its name and its numbers, as one button.

Which one is chosen is said by a word and a frame; its colour only helps.
"""

from __future__ import annotations

from typing import Any

from kivy.lang import Builder
from kivy.properties import BooleanProperty, ListProperty, NumericProperty, ObjectProperty
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.boxlayout import BoxLayout

from companion.present.button_words import CHOSEN
from companion.screens.look import CLEAR
from companion.screens.widgets.fit_label import FitLabel
from companion.screens.widgets.glyphs import height_in_lines
from companion.screens.widgets.harness_picture import HarnessPicture

_NAME_LINES, _NAME_AND_NUMBERS = 2, 6
"""At least so many lines, so that pictures over short names lie side by side; fewer of them over many numbers."""
_LINE_HEIGHT = 1.3
_PADDING = 8


class ChoiceCard(ButtonBehavior, BoxLayout):  # type: ignore[misc]
    """Shows `card` (a `TieUpCard`) in the colours of `look`, with words of `word` pixels at most."""

    chosen = BooleanProperty(False)
    name = ObjectProperty(())
    word = NumericProperty(20)
    ground = ListProperty(CLEAR)
    ground_down = ListProperty(CLEAR)
    frame = ListProperty(CLEAR)
    look = ObjectProperty(None)

    def __init__(self, card: Any, look: Any, word: float, **properties: Any) -> None:
        super().__init__(
            chosen=card.chosen,
            name=card.name,
            look=look,
            word=word,
            ground=look.button,
            ground_down=look.button_down,
            frame=look.accent_line if card.chosen else CLEAR,
            **properties,
        )
        self._lines: list[FitLabel] = []
        self.mark = self._word(CHOSEN if card.chosen else "", bold=True)
        self.add_widget(HarnessPicture(signs=card.harness, theme=look.theme))
        least = min(_NAME_LINES, _NAME_AND_NUMBERS - len(card.numbers))
        for number in range(max(least, len(card.name))):
            self._word(card.name[number] if number < len(card.name) else "", bold=True)
        for words in card.numbers:
            self._word(words, bold=False)
        self.bind(size=self._fit)
        self._fit()

    def _word(self, text: str, bold: bool) -> FitLabel:
        label = FitLabel(
            text=text,
            bold=bold,
            wanted_size=self.word,
            color=self.look.text,
            halign="center",
            valign="middle",
            size_hint_y=None,
        )
        self._lines.append(label)
        self.add_widget(label)
        return label

    def _fit(self, *_: Any) -> None:
        for label in self._lines:
            width = int(self.width - 2 * _PADDING)
            high = height_in_lines(label.text, int(self.word), label.bold, width) or 0
            label.height = max(self.word * _LINE_HEIGHT, high + 2)


Builder.load_string("""
#:import rounded companion.screens.widgets.rounded
<ChoiceCard>:
    orientation: 'vertical'
    padding: 8
    canvas.before:
        Color:
            rgba: self.ground_down if self.state == 'down' else self.ground
        Rounded:
            pos: self.pos
            size: self.size
            radius: [12]
        Color:
            rgba: self.frame
        Line:
            rounded_rectangle: self.x + 3, self.y + 3, self.width - 6, self.height - 6, 10
            width: 3
""")
