"""A draft drawn in its quarters: threading above, tie-up in the corner, treadling beside the cloth, with numbers.

The rows beyond threading and treadling are the colours of ends and picks. Long repeats are drawn once under a bracket
that says how often (`folding`). Treadle 1 is on the left, as on the loom; shaft 1 and pick 1 are next to each other.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from companion.draft.cloth import weave
from companion.draft.facing import Facing, FirstPick, Side
from companion.draft.masks import bits_of
from companion.draft.model import Colour, Draft, Section, Treadled
from companion.draft.throws import throws_of
from companion.record.folding import Folded, folded
from companion.record.ink import BLACK, DARK, GREY, Anchor, Boxes, InkMark, Letters, Rules
from companion.record.letter_widths import fitted, text_width, wrapped

_LARGEST_CELL = 11.0
_SMALLEST_CELL = 4.4
"""Points to a square: below some 1.5 mm nobody counts them on paper."""
_EVERY = 10
"""Threads from one stronger line to the next."""
_GUTTER = 12.0
"""Between the quarters, where the numbers of shafts and treadles stand."""
_EDGE = 9.0
"""A row of numbers or of brackets along an edge."""
_GAP = 2.0
_NAMES = 62.0
"""Room for the names of sections."""
_SMALL = 6.0
_LEAST_NUMBER, _APART = 5.0, 0.45
"""The smallest number of a treadle, in points, and the room between two, in their height: programs that read a page
take evenly spaced letters that stand nearer for one word."""

Item = TypeVar("Item", bound=Hashable)


@dataclass(frozen=True, slots=True)
class Plate:
    """A drawing of so many points from its own upper left corner, and what it leaves out, in words; mostly nothing.

    `drawn` are the ends and the picks that it draws.
    """

    width: float
    height: float
    marks: tuple[InkMark, ...]
    left_out: str = ""
    drawn: tuple[int, int] = (0, 0)


def draft_plate(draft: Draft, width: float, height: float, facing: Facing) -> Plate:
    """Return the draft drawn in at most so much room; what finds no room is said in `left_out`.

    With the first pick at the bottom it stands on its head, the threading at the bottom too.
    """
    on_its_head = facing.first_pick is FirstPick.AT_BOTTOM
    plate = _laid_out(draft, width, height, facing.first_end is Side.RIGHT, on_its_head)
    return replace(plate, marks=tuple(_turned_over(plate))) if on_its_head else plate


def _laid_out(draft: Draft, width: float, height: float, leftwards: bool, on_its_head: bool) -> Plate:
    columns = draft.treadles if isinstance(draft.lifting, Treadled) else draft.shafts
    named = any(section.name for section in draft.sections)
    across = width - _GUTTER - _GAP - 2 * _EDGE - (_NAMES if named else 0.0)
    down = height - _GUTTER - _GAP - 2 * _EDGE
    ends = folded(_by_block(draft), max(8, int(across / _SMALLEST_CELL) - columns - 1))
    picks = folded(_by_section(draft), max(8, int(down / _SMALLEST_CELL) - draft.shafts - 1))
    cell = min(
        _LARGEST_CELL,
        across / (len(ends.threads) + columns + 1),
        down / (len(picks.threads) + draft.shafts + 1),
    )
    return _PlateLayout(draft, ends, picks, columns, cell, leftwards, named, on_its_head).plate()


def _by_block(draft: Draft) -> list[Sequence[tuple[int | None, int]]]:
    threads = list(zip(draft.threading, draft.warp, strict=True))
    return list(_cut(threads, [block.ends for block in draft.blocks] or [draft.ends]))


def _by_section(draft: Draft) -> list[Sequence[Hashable]]:
    return list(_cut(throws_of(draft), [section.picks for section in draft.sections] or [draft.picks]))


def _cut(threads: Sequence[Item], counts: Iterable[int]) -> Iterator[Sequence[Item]]:
    first = 0
    for count in counts:
        yield threads[first : first + count]
        first += count


@dataclass(frozen=True, slots=True)
class _PlateLayout:
    draft: Draft
    ends: Folded
    picks: Folded
    columns: int
    cell: float
    leftwards: bool
    named: bool
    on_its_head: bool

    @property
    def _top(self) -> float:
        """Where the threading begins."""
        return _EDGE * max(1, self.ends.depth) + self.cell + _GAP

    @property
    def _cloth_top(self) -> float:
        return self._top + self.draft.shafts * self.cell + _GUTTER

    @property
    def _right(self) -> float:
        """Where the tie-up begins."""
        return len(self.ends.threads) * self.cell + _GUTTER

    @property
    def _colours_left(self) -> float:
        return self._right + self.columns * self.cell + _GAP

    def plate(self) -> Plate:
        edge = self._colours_left + self.cell + _EDGE * max(1, self.picks.depth)
        left_out = [
            f"the first {len(some.threads)} of {some.there} {what} are drawn"
            for some, what in ((self.ends, "ends"), (self.picks, "picks"))
            if some.cut
        ]
        return Plate(
            edge + (_NAMES if self.named else 0.0),
            self._cloth_top + len(self.picks.threads) * self.cell,
            tuple(self._marks(edge)),
            "; ".join(left_out),
            (len(self.ends.threads), len(self.picks.threads)),
        )

    def _x(self, place: int) -> float:
        """Return where the column of a drawn end begins."""
        return (len(self.ends.threads) - 1 - place if self.leftwards else place) * self.cell

    def _marks(self, edge: float) -> Iterator[InkMark]:
        draft, cell, shafts = self.draft, self.cell, self.draft.shafts
        ends, picks = self.ends.threads, self.picks.threads
        yield from self._grid(0, self._top, len(ends), shafts, along_ends=True)
        yield from self._grid(0, self._cloth_top, len(ends), len(picks), along_ends=True, along_picks=True)
        yield from self._grid(self._right, self._cloth_top, self.columns, len(picks), along_picks=True)
        filled = [
            (self._x(place), self._top + (shafts - 1 - shaft) * cell)
            for place, end in enumerate(ends)
            if (shaft := draft.threading[end]) is not None
        ]
        if isinstance(draft.lifting, Treadled):
            yield from self._grid(self._right, self._top, self.columns, shafts)
            filled += [
                (self._right + treadle * cell, self._top + (shafts - 1 - shaft) * cell)
                for treadle, tie in enumerate(draft.lifting.tieup)
                for shaft in bits_of(tie)
            ]
        throws = throws_of(draft)
        filled += [
            (self._right + column * cell, self._cloth_top + row * cell)
            for row, pick in enumerate(picks)
            for column in bits_of(throws[pick].moved)
        ]
        sheds = draft.sheds()
        up = weave([draft.threading[end] for end in ends], [sheds[pick] for pick in picks])
        filled += [
            (self._x(place), self._cloth_top + row * cell)
            for row, line in enumerate(up.tolist())
            for place, raised in enumerate(line)
            if raised
        ]
        inset = cell * 0.08
        yield Boxes(tuple((x + inset, y + inset, cell - 2 * inset, cell - 2 * inset) for x, y in filled), DARK)
        yield from self._colours()
        yield from self._numbers()
        yield from self._edges(edge)

    def _grid(
        self,
        left: float,
        top: float,
        columns: int,
        rows: int,
        along_ends: bool = False,
        along_picks: bool = False,
    ) -> Iterator[Rules]:
        """Yield the lines of a quarter; where threads run along it, every tenth line is stronger."""
        right, bottom = left + columns * self.cell, top + rows * self.cell
        fine: list[tuple[float, float, float, float]] = []
        strong: list[tuple[float, float, float, float]] = []
        for step in range(columns + 1):
            x = left + step * self.cell
            counted = columns - step if self.leftwards else step
            tenth = along_ends and counted % _EVERY == 0 and not self.ends.brackets
            (strong if tenth else fine).append((x, top, x, bottom))
        for step in range(rows + 1):
            y = top + step * self.cell
            tenth = along_picks and step % _EVERY == 0 and not self.picks.brackets
            (strong if tenth else fine).append((left, y, right, y))
        yield Rules(tuple(fine), 0.3, GREY)
        if strong:
            yield Rules(tuple(strong), 0.8, DARK)

    def _colours(self) -> Iterator[Boxes]:
        bars: dict[Colour, list[tuple[float, float, float, float]]] = defaultdict(list)
        yarns, cell = self.draft.yarns, self.cell
        frames = []
        for place, end in enumerate(self.ends.threads):
            frames.append((self._x(place), self._top - _GAP - cell, cell, cell))
            bars[yarns[self.draft.warp[end]].colour].append(frames[-1])
        for row, pick in enumerate(self.picks.threads):
            frames.append((self._colours_left, self._cloth_top + row * cell, cell, cell))
            bars[yarns[self.draft.weft[pick]].colour].append(frames[-1])
        for colour, places in bars.items():
            yield Boxes(tuple(places), colour)
        yield Boxes(tuple(frames), GREY, 0.3)

    def _numbers(self) -> Iterator[Letters]:
        """Yield the numbers of shafts and treadles; of narrow ones only every second."""
        size = min(_SMALL + 1, self.cell + 1)
        for shaft in range(self.draft.shafts):
            y = self._top + (self.draft.shafts - 1 - shaft) * self.cell + self.cell / 2 + size * 0.36
            yield Letters(self._right - _GUTTER / 2, y, str(shaft + 1), size, anchor=Anchor.MIDDLE)
        # Two numbers side by side are not to be read as one, by eyes or by programs.
        size, each = min(size, self.cell / (text_width("9" * len(str(self.columns)), 1.0) + _APART)), 1
        if size < _LEAST_NUMBER:
            size, each = _LEAST_NUMBER, 2
        for column in range(0, self.columns, each):
            x = self._right + (column + 0.5) * self.cell
            yield Letters(x, self._cloth_top - 3, str(column + 1), size, anchor=Anchor.MIDDLE)

    def _edges(self, edge: float) -> Iterator[InkMark]:
        """Yield brackets with their times, or the numbers of threads; then the names of sections."""
        if self.ends.brackets:
            yield from self._end_brackets()
        else:
            y = _EDGE - 2
            for place in _numbered(len(self.ends.threads)):
                x = self._x(place) + self.cell / 2
                yield Letters(x, y, str(self.ends.threads[place] + 1), _SMALL, anchor=Anchor.MIDDLE)
        if self.picks.brackets:
            yield from self._pick_brackets()
        else:
            for row in _numbered(len(self.picks.threads)):
                y = self._cloth_top + (row + 0.5) * self.cell + _SMALL * 0.36
                yield Letters(self._colours_left + self.cell + 2, y, str(self.picks.threads[row] + 1), _SMALL)
        if self.named:
            yield from self._section_names(edge)

    def _end_brackets(self) -> Iterator[InkMark]:
        for bracket in self.ends.brackets:
            one, other = self._x(bracket.first), self._x(bracket.last - 1)
            left, right = min(one, other) + 1, max(one, other) + self.cell - 1
            y = _EDGE * (bracket.depth + 1) - 1
            yield Rules(((left, y, right, y), (left, y, left, y + 2), (right, y, right, y + 2)), 0.6, DARK)
            yield Letters((left + right) / 2, y - 1.5, f"x{bracket.times}", _SMALL, anchor=Anchor.MIDDLE)

    def _pick_brackets(self) -> Iterator[InkMark]:
        for bracket in self.picks.brackets:
            top = self._cloth_top + bracket.first * self.cell + 1
            bottom = self._cloth_top + bracket.last * self.cell - 1
            x = self._colours_left + self.cell + 3 + _EDGE * (self.picks.depth - 1 - bracket.depth)
            yield Rules(((x, top, x, bottom), (x - 2, top, x, top), (x - 2, bottom, x, bottom)), 0.6, DARK)
            y = (top + bottom) / 2 + _SMALL * 0.36
            yield Letters(x + 1.5, y, f"x{bracket.times}", _SMALL)

    def _section_names(self, edge: float) -> Iterator[InkMark]:
        first = 0
        rows = {pick: row for row, pick in reversed(list(enumerate(self.picks.threads)))}
        for section in self.draft.sections:
            row = rows.get(first)
            if row is not None and section.picks:
                y = self._cloth_top + row * self.cell
                yield Rules(((edge + 2, y, edge + _NAMES, y),), 0.4, BLACK)
                yield from self._section_name(section, first, edge + 4, y)
            first += section.picks

    def _section_name(self, section: Section, first: int, x: float, y: float) -> Iterator[Letters]:
        """Yield the name of a section, which begins with pick `first`, in as many lines as stand beside its rows."""
        size, room = _SMALL + 0.5, _NAMES - 5
        rows = sum(first <= pick < first + section.picks for pick in self.picks.threads)
        lines = list(wrapped(section.name, size, room))
        most = max(1, int(rows * self.cell / (size * 1.15)))
        if len(lines) > most:
            lines = [*lines[: most - 1], fitted(" ".join(lines[most - 1 :]), size, room)]
        # Turned over, the last line comes to lie on top.
        for number, line in enumerate(reversed(lines) if self.on_its_head else lines):
            yield Letters(x, y + _SMALL + 1 + number * size * 1.15, line, size)


def _numbered(threads: int) -> Iterator[int]:
    """Yield which of so many drawn threads have their number beside them: the first and every tenth."""
    yield from range(min(threads, 1))
    yield from range(_EVERY - 1, threads, _EVERY)


def _turned_over(plate: Plate) -> Iterator[InkMark]:
    """Yield the marks with what was on top at the bottom, letters upright still."""
    for mark in plate.marks:
        match mark:
            case Boxes(places):
                flipped = tuple((x, plate.height - y - down, across, down) for x, y, across, down in places)
                yield replace(mark, places=flipped)
            case Rules(places):
                yield replace(
                    mark,
                    places=tuple((x, plate.height - y, to_x, plate.height - to_y) for x, y, to_x, to_y in places),
                )
            case Letters():
                yield replace(mark, y=plate.height - mark.y + mark.size * 0.72)
