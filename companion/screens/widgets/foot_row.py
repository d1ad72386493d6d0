"""The row of buttons at the foot of a page: what leads back at one end, what is done with the page at the other.

Both ends are the same on every page, so that a hand finds them without looking: Back is the first slot, which stays
empty where no way leads back; Cancel is the one beside it, and what most weavers touch is the last. The others stand
between them, or in a row of their own above where their words have no room there; the first of them stays below, at the
same place as on pages with few.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from companion.screens.look import Look
from companion.screens.theme import Sizes
from companion.screens.widgets.glyphs import extents, size_that_fits
from companion.screens.widgets.word_button import BESIDE_WORDS, WordButton

_WAY, _LAST = 4, 5.5
"""Widths of what leads back and of what is done with the page, in sizes of a word."""


@dataclass(frozen=True, slots=True)
class FootKey:
    """One button: its words, and what a touch does; `main`: it stands out, as what most weavers touch here."""

    words: str
    act: Callable[[], None]
    main: bool = False


@dataclass(frozen=True, slots=True)
class _Filling:
    """What stands in a foot; None is a place that is kept."""

    look: Look
    sizes: Sizes
    back: FootKey | None
    cancel: FootKey | None
    others: tuple[FootKey | None, ...]
    done: FootKey | None


class FootRow(BoxLayout):  # type: ignore[misc]
    """A foot to be filled by `fill`; for the left hand it lies the other way round (`mirrored`)."""

    def __init__(self, mirrored: bool = False, **properties: object) -> None:
        super().__init__(orientation="vertical", size_hint_y=None, **properties)
        self.mirrored = mirrored
        self._filling: _Filling | None = None
        self._keys: dict[WordButton, FootKey] = {}
        self._spare: dict[WordButton, FootKey] = {}
        self.bind(width=self._write)

    @property
    def buttons(self) -> list[WordButton]:
        """The buttons that stand there, row by row from left to right."""
        rows: list[BoxLayout] = self.children
        return [one for row in reversed(rows) for one in reversed(row.children) if isinstance(one, WordButton)]

    def button(self, words: str) -> WordButton:
        """Return the button with these words; StopIteration where there is none."""
        return next(button for button in self.buttons if button.text == words)

    def fill(
        self,
        look: Look,
        sizes: Sizes,
        back: FootKey | None = None,
        cancel: FootKey | None = None,
        others: Sequence[FootKey | None] = (),
        done: FootKey | None = None,
    ) -> None:
        """Put these buttons there; None among `others` only keeps a place."""
        self._filling = _Filling(look, sizes, back, cancel, tuple(others), done)
        self._write()

    def _write(self, *_: object) -> None:
        filling = self._filling
        if filling is None:
            return
        sizes = filling.sizes
        between = self.width - 3 * sizes.gap
        between -= sum(sizes.word * _WAY for way in (filling.back, filling.cancel) if way is not None)
        # Who finds no way back or out there finds nothing else there either, unless the others need the room.
        kept = self._keeps_way(filling, between)
        between -= sizes.word * _WAY if kept else 0
        others, till_last = filling.others, between - sizes.word * _LAST
        if len(others) == 1 and filling.done is None and self._in_a_line(till_last, (*others, None), sizes):
            # One alone is a button, not a bar.
            others = (*others, None)
        beside = self._fit_in(till_last, others, sizes)
        # Rather than be parted or take a row from the page, the others stand where nothing is done with it.
        to_the_end = filling.done is None and (
            (not beside and self._fit_in(between, others, sizes))
            or (self._in_a_line(between, others, sizes) and not self._in_a_line(till_last, others, sizes))
        )
        above: tuple[FootKey | None, ...] = ()
        if not beside and not to_the_end:
            stays = len(others) > 1 and self._fit_in(till_last, others[:1], sizes)
            above = self._with_room(others[1:] if stays else others, sizes)
        # The same words keep their button, and the finger that may lie on it.
        for row in self.children:
            row.clear_widgets()
        self._spare, self._keys = self._keys, {}
        below = others[: len(others) - len(above)]
        rows = [self._row(above, sizes, filling.look)] if above else []
        rows.append(self._ends(filling, below, kept, keep_last=not to_the_end))
        self.spacing = sizes.gap
        self.height = len(rows) * sizes.action + (len(rows) - 1) * sizes.gap
        self.clear_widgets()
        for row in rows:
            if self.mirrored:
                row.children.reverse()
            self.add_widget(row)

    def _keeps_way(self, filling: _Filling, between: float) -> bool:
        """Tell whether the place of Back or Cancel is kept where it leads nowhere: that takes no row from the page."""
        way, last = (filling.sizes.word * width for width in (_WAY, _LAST))
        if filling.back is None:
            return self._fit_in(between - way - last, filling.others, filling.sizes)
        if filling.cancel is not None or not filling.others:
            return False
        room = between if filling.done is None else between - last
        one_row = self._fit_in(room, filling.others, filling.sizes)
        return self._fit_in(room - way, filling.others if one_row else filling.others[:1], filling.sizes)

    def _with_room(self, keys: tuple[FootKey | None, ...], sizes: Sizes) -> tuple[FootKey | None, ...]:
        """Return the last of these keys: all that stand whole in one row, and one at least."""
        first = next((at for at in range(len(keys)) if self._fit_in(self.width, keys[at:], sizes)), len(keys) - 1)
        return keys[first:]

    def _fit_in(self, width: float, keys: Sequence[FootKey | None], sizes: Sizes) -> bool:
        share = width / max(len(keys), 1) - sizes.gap
        return all(self._fits(key, share, sizes) for key in keys)

    def _in_a_line(self, width: float, keys: Sequence[FootKey | None], sizes: Sizes) -> bool:
        """Tell whether these find room in so much width, the words of each in one line."""
        room = width / max(len(keys), 1) - sizes.gap - BESIDE_WORDS
        return all(extents(key.words, int(sizes.word), True)[0] <= room for key in keys if key is not None)

    @staticmethod
    def _fits(key: FootKey | None, width: float, sizes: Sizes) -> bool:
        room = int(width - BESIDE_WORDS)
        return key is None or size_that_fits(key.words, (int(sizes.word),), True, room, int(sizes.action)) is not None

    def _row(self, keys: Sequence[FootKey | None], sizes: Sizes, look: Look) -> BoxLayout:
        row = BoxLayout(spacing=sizes.gap)
        for key in keys:
            row.add_widget(self._slot(key, sizes, look))
        return row

    def _ends(self, filling: _Filling, others: Sequence[FootKey | None], keep_way: bool, keep_last: bool) -> BoxLayout:
        look, sizes = filling.look, filling.sizes
        row = self._row(others or (None,), sizes, look)
        ways = [way for way in (filling.back, filling.cancel) if way is not None]
        for key in reversed([*ways, None] if keep_way else ways):
            row.add_widget(self._slot(key, sizes, look, sizes.word * _WAY), index=len(row.children))
        if keep_last:
            row.add_widget(self._slot(filling.done, sizes, look, sizes.word * _LAST))
        return row

    def _slot(self, key: FootKey | None, sizes: Sizes, look: Look, width: float | None = None) -> Widget:
        slot = Widget() if key is None else self._button(key, look, sizes.word)
        if width is None:
            slot.size_hint_x = 1
        else:
            slot.size_hint_x, slot.width = None, width
        return slot

    def _button(self, key: FootKey, look: Look, size: float) -> WordButton:
        button = next((one for one, before in self._spare.items() if before.words == key.words), None)
        if button is None:
            button = WordButton(text=key.words)
            button.bind(on_release=self._released)
        else:
            del self._spare[button]
        self._keys[button] = key
        button.wanted_size = size
        button.ground = look.accent if key.main else look.button
        button.ground_down = look.accent_down if key.main else look.button_down
        button.color = look.on_accent if key.main else look.text
        return button

    def _released(self, button: WordButton) -> None:
        # A finger may still lie on a button that is gone.
        if button in self._keys:
            self._keys[button].act()
