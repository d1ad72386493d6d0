"""A set on paper: its drafts side by side, each with face, back and what it asks for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.draft.cloth import Surface
from companion.draft.facing import Facing
from companion.draft.model import Draft, Treadled
from companion.draft.units import counted
from companion.record.cloth_plate import cloth_plate
from companion.record.ink import GREY, SIZES, InkMark, InkPage, Letters, Paper, Rules, moved
from companion.record.letter_widths import fitted, wrapped
from companion.record.paper_flow import Paragraph, TextColumn, set_text, title_letters

_MARGIN = 40.0
_COLUMNS, _ROWS = 2, 4
_GAP = 16.0
_TITLE = 10.0
_HEAD = 44.0


def set_pages(
    title: str, words: Sequence[str], drafts: Sequence[tuple[str, Draft]], paper: Paper, facing: Facing
) -> tuple[InkPage, ...]:
    """Return the pages of a set; each draft comes with its name."""
    width, height = SIZES[paper]
    head = title_letters(title, _MARGIN, _MARGIN, width - 2 * _MARGIN)
    column = TextColumn(_MARGIN, _MARGIN + 24, width - 2 * _MARGIN, height / 4)
    said = set_text([Paragraph(line) for line in words], column, 10)
    top = said.bottom + 10
    cell = ((width - 2 * _MARGIN - _GAP) / _COLUMNS, (height - _MARGIN - top) / _ROWS)
    each = _COLUMNS * _ROWS
    pages = []
    for first in range(0, len(drafts), each):
        marks: list[InkMark] = [*head, *said.marks]
        for place, (name, draft) in enumerate(drafts[first : first + each]):
            left = _MARGIN + place % _COLUMNS * (cell[0] + _GAP)
            marks += moved(_one(name, draft, cell[0], cell[1], facing), left, top + place // _COLUMNS * cell[1])
        pages.append(InkPage(width, height, tuple(marks)))
    return tuple(pages)


def _one(name: str, draft: Draft, width: float, height: float, facing: Facing) -> Iterator[InkMark]:
    yield Rules(((0, 0, width, 0),), 0.6, GREY)
    # Bold letters take somewhat more room than those that lines are broken by; of two lines nothing is lost.
    for number, line in enumerate(list(wrapped(name, _TITLE, width * 0.92))[:2]):
        yield Letters(0, _TITLE + 3 + number * _TITLE * 1.2, fitted(line, _TITLE, width, bold=True), _TITLE, bold=True)
    asks = counted(draft.treadles, "treadle") if isinstance(draft.lifting, Treadled) else "lift plan"
    facts = f"{counted(draft.shafts, 'shaft')}, {asks}, {counted(draft.ends, 'end')}, {counted(draft.picks, 'pick')}"
    yield Letters(0, _HEAD - 6, fitted(facts, 8.5, width), 8.5)
    top, room = _HEAD, (width - _GAP) / 2
    for number, surface in enumerate(Surface):
        plate = cloth_plate(draft, surface, room, height - top - 12, facing)
        yield from moved(plate.marks, number * (room + _GAP), top)
