"""The ask screen: one question, a few large answers, and the cloth beside them where it helps."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from kivy.lang import Builder
from kivy.properties import NumericProperty, ObjectProperty
from kivy.uix.boxlayout import BoxLayout

from companion.present.asking import Answer, Asked
from companion.screens.look import Look
from companion.screens.theme import Sizes
from companion.screens.widgets.fit_label import FitLabel
from companion.screens.widgets.word_button import WordButton


class AskScreen(BoxLayout):  # type: ignore[misc]
    """Shows `asked` and says `on_answer` when one of its answers is touched."""

    # rebind: the rules of ask.kv read parts of these, and follow only so.
    asked = ObjectProperty(None, rebind=True)
    look = ObjectProperty(None, rebind=True)
    sizes = ObjectProperty(None, rebind=True)
    cloth = ObjectProperty(None, allownone=True)
    columns = NumericProperty(2)
    lines_height = NumericProperty(0)

    __events__ = ("on_answer",)

    def __init__(self, asked: Asked[Any], look: Look, sizes: Sizes, **rest: Any) -> None:
        super().__init__(asked=asked, look=look, sizes=sizes, **rest)
        # Kivy's ids are weak: out of the body, the picture would be gone for good.
        self._cloth = self.ids.cloth.__self__
        self.bind(asked=self._ask, look=self._ask, sizes=self._ask)
        self._ask()

    def on_answer(self, answer: Answer[Any]) -> None:
        """The weaver touched an answer."""

    def button(self, words: str) -> WordButton:
        """Return the button with these words; StopIteration where there is none."""
        buttons: list[WordButton] = self.ids.answers.children
        return next(button for button in buttons if button.text == words)

    def _ask(self, *_: Any) -> None:
        body, cloth = self.ids.body, self._cloth
        if self.asked.with_cloth and cloth.parent is None:
            body.add_widget(cloth, index=len(body.children))
        elif not self.asked.with_cloth and cloth.parent is not None:
            body.remove_widget(cloth)
        self._write_lines()
        number = len(self.asked.answers)
        self.columns = 1 if self.asked.with_cloth and number <= 3 else 2 if number <= 8 else 3
        grid = self.ids.answers
        grid.clear_widgets()
        for answer in self.asked.answers:
            grid.add_widget(self._button(answer))

    def _write_lines(self) -> None:
        lines = self.ids.lines
        lines.clear_widgets()
        self.lines_height = self.sizes.line * len(self.asked.lines)
        for text in self.asked.lines:
            lines.add_widget(FitLabel(text=text, wanted_size=self.sizes.word, color=self.look.text, valign="middle"))

    def _button(self, answer: Answer[Any]) -> WordButton:
        look = self.look
        button = WordButton(
            text=answer.words,
            wanted_size=self.sizes.word * (1.3 if answer.main else 1.0),
            ground=look.left_foot if answer.main else look.button,
            ground_down=look.button_down,
            color=look.on_foot if answer.main else look.text,
        )
        button.bind(on_release=lambda _button: self.dispatch("on_answer", answer))
        return button


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
