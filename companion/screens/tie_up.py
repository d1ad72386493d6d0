"""The tie-up screen: the search as it goes on, then the answer, drawn and in words, to take or to leave."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from kivy.lang import Builder
from kivy.properties import ObjectProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from companion.present import help_topics
from companion.present.button_words import (
    BACK,
    LOOK_CLOSER,
    MORE_WAYS,
    SAVE_CARD,
    SIDE_BY_SIDE,
    STOP,
    TELL_MORE,
    more_words,
)
from companion.present.paging import Page, page_of
from companion.present.tie_up import (
    ChooseWay,
    LookClosely,
    TieUpCard,
    TieUpDeed,
    searching_signs,
)
from companion.screens.place import Place
from companion.screens.surroundings import Surroundings
from companion.screens.theme import Sizes
from companion.screens.widgets import harness_picture, page_head
from companion.screens.widgets.choice_card import ChoiceCard
from companion.screens.widgets.fit_label import FitLabel
from companion.screens.widgets.foot_row import FootKey, FootRow
from companion.screens.widgets.glyphs import height_in_lines
from companion.screens.widgets.word_button import WordButton

_DRAWN_WITH = (harness_picture, page_head)
"""Imported for the kv rules, which find these widgets by name."""
FEWEST_CARDS, MOST_CARDS = 2, 4
"""How many ways stand side by side: as many as can be read, and at least two, or there is nothing to compare."""
CARD_WORDS = 10.5
"""How wide a card is at least, in sizes of a word: 20 letters or so."""


class TieUpScreen(BoxLayout, Place):  # type: ignore[misc]
    """Shows `signs`, and tells `wanted` what the weaver asks for."""

    # rebind: the rules of tie_up.kv read parts of these, and follow only so.
    signs = ObjectProperty(None, rebind=True)
    look = ObjectProperty(None, rebind=True)
    sizes = ObjectProperty(None, rebind=True)

    def __init__(
        self,
        around: Surroundings,
        wanted: Callable[[TieUpDeed | ChooseWay | LookClosely], None],
        **rest: Any,
    ) -> None:
        super().__init__(signs=searching_signs(None), look=around.look, sizes=around.sizes, **rest)
        self._wanted = wanted
        self._page = 0
        self._line_page, self._line_pages = 0, [list[tuple[str, int]]()]
        self.foot = FootRow(around.mirrored)
        self.add_widget(self.foot)
        # The ids are weak, and one of these is not on the screen.
        self._views = (self.ids.answer.__self__, self.ids.cards.__self__)
        self.bind(signs=self._show_from_the_first_line, sizes=self._write, width=self._write)
        self.ids.lines.bind(size=lambda *_: self._write_answer())
        self._write()

    @property
    def topics(self) -> tuple[str, ...]:
        """The help of a search, an answer, ways side by side, or of a message."""
        if self.signs.cards:
            return (help_topics.SIDE_BY_SIDE, help_topics.TIE_UP)
        told = self.signs.searching or self.signs.harness is not None
        return (help_topics.TIE_UP if told else help_topics.MESSAGE,)

    def go_on(self) -> None:
        """Take the answer, where there is one."""
        if self.signs.accept:
            self._wanted(TieUpDeed.ACCEPT)

    def go_back(self) -> None:
        """Leave the search or the answer; from one of several, to all side by side."""
        if self.signs.several and not self.signs.cards:
            self._wanted(LookClosely(False))
        else:
            self._wanted(TieUpDeed.LEAVE)

    def fit(self, sizes: Sizes) -> None:
        """Take on the sizes of a changed window."""
        self.sizes = sizes

    def button(self, words: str) -> WordButton:
        """Return the button with these words; StopIteration where there is none."""
        return self.foot.button(words)

    def card(self, first_line: str) -> ChoiceCard:
        """Return the card whose name begins with this line; StopIteration where it is not on the screen."""
        cards: list[ChoiceCard] = self.ids.cards.children
        return next(card for card in cards if isinstance(card, ChoiceCard) and card.name[0] == first_line)

    def _show_from_the_first_line(self, *_: Any) -> None:
        self._line_page = 0
        self._write()

    def _write(self, *_: Any) -> None:
        answer, cards = self._views
        self.ids.middle.clear_widgets()
        self.ids.middle.add_widget(cards if self.signs.cards else answer)
        self._write_cards()
        self._write_answer()
        self._write_buttons()

    def _write_cards(self) -> None:
        cards = self._views[1]
        cards.clear_widgets()
        page = self._cards_page()
        for card in page.shown:
            button = ChoiceCard(card, self.look, self.sizes.word)
            button.bind(on_release=lambda _button, way=card.way: self._wanted(ChooseWay(way)))
            cards.add_widget(button)
        for _ in range(self._cards_on_page() - len(page.shown) if page.of > 1 else 0):
            # So that a card is as large on the last page as on the others.
            cards.add_widget(Widget())

    def _cards_page(self) -> Page[TieUpCard]:
        return page_of(self.signs.cards, self._page, self._cards_on_page())

    def _cards_on_page(self) -> int:
        """Return how many cards fit side by side, as many on each page as on the others."""
        most = max(FEWEST_CARDS, min(MOST_CARDS, int(self.width / (self.sizes.word * CARD_WORDS))))
        pages = max(-(-len(self.signs.cards) // most), 1)
        return max(-(-len(self.signs.cards) // pages), 1)

    def _turn_page(self) -> None:
        self._page += 1
        self._write()

    def _write_answer(self) -> None:
        lines, size = self.ids.lines.__self__, int(self.sizes.word)
        before = len(self._line_pages)
        self._line_pages = self._lines_in_pages(int(lines.width), lines.height)
        self._line_page %= len(self._line_pages)
        lines.clear_widgets()
        for text, height in self._line_pages[self._line_page]:
            lines.add_widget(
                FitLabel(
                    text=text,
                    wanted_size=size,
                    color=self.look.text,
                    halign="left",
                    valign="middle",
                    size_hint_y=height,
                )
            )
        if len(self._line_pages) != before:
            self._write_buttons()

    def _lines_in_pages(self, width: int, room: float) -> list[list[tuple[str, int]]]:
        """Return what is said of the answer, each line with its height: as many on a page as stand in this room."""
        size, used = int(self.sizes.word), 0.0
        pages: list[list[tuple[str, int]]] = [[]]
        for text in (*self.signs.cords, *self.signs.feet):
            height = height_in_lines(text, size, False, width) or size
            if pages[-1] and used + height > room:
                pages.append([])
                used = 0.0
            pages[-1].append((text, height))
            used += height
        return pages

    def _turn_lines(self) -> None:
        self._line_page = (self._line_page + 1) % len(self._line_pages)
        self._write_answer()
        self._write_buttons()

    def _write_buttons(self) -> None:
        signs = self.signs
        others: list[FootKey] = []
        if signs.searching:
            others.append(self._deed(STOP, TieUpDeed.STOP, main=True))
        if signs.cards:
            if self._cards_page().of > 1:
                others.append(FootKey(MORE_WAYS, self._turn_page))
            if signs.harness:
                others.append(self._deed(LOOK_CLOSER, LookClosely(True)))
        else:
            if len(self._line_pages) > 1:
                others.append(FootKey(more_words(self._line_page, len(self._line_pages)), self._turn_lines))
            if signs.others:
                others.append(self._deed(SIDE_BY_SIDE, LookClosely(False)))
            if signs.harness and (signs.accept or signs.on_loom):
                others.append(self._deed(SAVE_CARD, TieUpDeed.SAVE))
            if signs.accept:
                others.append(self._deed(TELL_MORE, TieUpDeed.TELL_MORE))
        if signs.tied:
            others.append(self._deed(signs.tied, TieUpDeed.ACCEPT_TIED))
        done = self._deed(signs.accept, TieUpDeed.ACCEPT, main=True) if signs.accept else None
        self.foot.fill(self.look, self.sizes, back=FootKey(BACK, self.go_back), others=others, done=done)

    def _deed(self, words: str, deed: TieUpDeed | ChooseWay | LookClosely, main: bool = False) -> FootKey:
        return FootKey(words, lambda: self._wanted(deed), main)


Builder.load_file(str(Path(__file__).with_suffix(".kv")))
