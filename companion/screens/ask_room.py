"""How many answers find room on a page of a question, in how many columns, and how high the rows of a list are."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from kivy.metrics import dp

from companion.present.asking import Answer, Asked
from companion.present.paging import Page
from companion.screens.theme import SMALLEST_TARGET_DP, Sizes
from companion.screens.widgets.glyphs import size_that_fits
from companion.screens.widgets.word_button import BESIDE_WORDS

MOST_PICTURED = 6
"""Answers with a picture of cloth on one page."""
MOST_ANSWERS = 9
"""Answers beside one another on one page: more are too small to be read from the bench."""
_TALLEST_ROW = 1.6
"""A row of a short list grows no taller than this many of its least height."""


@dataclass(frozen=True, slots=True)
class AnswerRoom:
    """The room for the answers to `asked` on a page so wide and high, `list_height` of it for a list; in pixels."""

    asked: Asked[Any]
    sizes: Sizes
    width: float
    height: float
    list_height: float

    @property
    def most(self) -> int:
        """How many answers one page holds."""
        if self.asked.as_list:
            return self._rows
        if self.shows_cloth:
            return MOST_PICTURED
        # In rows of three, or of two where the words need it, each high enough for two lines.
        return MOST_ANSWERS if self._pictured else min(MOST_ANSWERS, self._rows * self.across)

    @property
    def across(self) -> int:
        """How many answers stand side by side where there are many."""
        if any(answer.drawn for answer in self.asked.answers):
            return 2
        size, gap = (int(self.sizes.word),), self.sizes.gap
        room = int((self.width - 4 * gap) / 3 - BESIDE_WORDS)
        high = int(self._least_row)
        words = [answer.words for answer in self.asked.answers if answer.words]
        return 3 if all(size_that_fits(one, size, True, room, high) for one in words) else 2

    @property
    def shows_cloth(self) -> bool:
        """Whether cloth stands side by side to choose from."""
        return not self.asked.as_list and any(answer.picture is not None for answer in self.asked.answers)

    def columns(self, page: Page[Answer[Any]]) -> int:
        """Return in how many columns the answers of a page stand."""
        asked, count = self.asked, len(page.shown)
        if self.shows_cloth:
            return 2 if self.height > self.width else 3
        if all(answer.rows for answer in page.shown):
            return max(count, 1)
        if asked.as_list or asked.pad or (self._pictured and count <= 3):
            return 1
        in_twos = count <= (8 if self._pictured else min(2 * self._rows, 8))
        if in_twos and page.of == 1 and not asked.strips:
            return 2
        return 3 if self._pictured else self.across

    def row_height(self, page: Page[Answer[Any]]) -> float:
        """Return how high each row of a list is on a page that has some."""
        rows, gap = len(page.shown), self.sizes.gap
        room = self.list_height - (rows - 1) * gap
        full_page = self.list_height / self.most
        return min(room / rows, self._least_row * _TALLEST_ROW if page.of == 1 else full_page - gap)

    @property
    def _pictured(self) -> bool:
        return self.asked.with_cloth or self.asked.harness is not None

    @property
    def _rows(self) -> int:
        """How many rows of two lines of words stand one below the other."""
        gap = self.sizes.gap
        return max(int((self.list_height + gap) // (self._least_row + gap)), 1)

    @property
    def _least_row(self) -> float:
        # Two lines of words.
        return max(float(dp(SMALLEST_TARGET_DP)), self.sizes.word * 2.5)
