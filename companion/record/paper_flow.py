"""Text set in a column of paper: headings, paragraphs and lines, as far down as there is room; what is left goes on.

All places are points from the upper left corner of the page.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from companion.draft.model import Colour
from companion.record.ink import BLACK, GREY, Boxes, InkMark, Letters, Rules
from companion.record.letter_widths import fitted, text_width, wrapped

_TITLE_SIZES = (18, 15, 12)
"""Sizes of a title, in points, the usual one first."""
LEADING = 1.3
"""The distance of lines, in sizes of the letters."""


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading over what follows it: never the last thing in a column."""

    text: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Text that is wrapped; `label` stands before it in bold, and `swatch` is a patch of colour before that."""

    text: str
    label: str = ""
    swatch: Colour | None = None
    scale: float = 1.0
    bold: bool = False


TextBlock = Heading | Paragraph


@dataclass(frozen=True, slots=True)
class TextColumn:
    """Room for text: from `top` down to `bottom`, `width` wide."""

    left: float
    top: float
    width: float
    bottom: float


@dataclass(frozen=True, slots=True)
class SetText:
    """What was set of some text, where the next line would stand, and what found no room."""

    marks: tuple[InkMark, ...]
    bottom: float
    left_over: tuple[TextBlock, ...]


def title_letters(title: str, left: float, top: float, width: float) -> tuple[Letters, ...]:
    """Return the title of a page, 20 points high: smaller where it is long, on two lines where it is longer."""
    for size in _TITLE_SIZES:
        if text_width(title, size, bold=True) <= width:
            return (Letters(left, top + 14, title, size, bold=True),)
    size = _TITLE_SIZES[-1]
    first, *more = wrapped(title, size, width, bold=True)
    second = fitted(" ".join(more), size, width, bold=True)
    return tuple(
        Letters(left, top + below, line, size, bold=True) for line, below in ((first, 4), (second, 4 + size * 1.2))
    )


def set_text(blocks: Sequence[TextBlock], column: TextColumn, size: float) -> SetText:
    """Set blocks of text one under the other in letters of this size; a paragraph may be parted between lines."""
    blocks = tuple(_without_wide_labels(blocks, column.width, size))
    marks: list[InkMark] = []
    y = column.top
    for index, block in enumerate(blocks):
        rest = blocks[index + 1 :]
        if isinstance(block, Heading):
            if y + 3.6 * size > column.bottom:
                return SetText(tuple(marks), y, tuple(blocks[index:]))
            marks += _heading(block, column, y, size)
            y += 2.1 * size
            continue
        height = size * block.scale * LEADING
        lines = list(_lines(block, column.width, size)) or ([""] if block.label else [])
        fits = max(0, int((column.bottom - y) / height + 1e-6))
        marks += _paragraph(block, lines[:fits], column, y, size)
        y += height * min(fits, len(lines))
        if fits < len(lines):
            remaining = replace(block, text=" ".join(lines[fits:]), label="", swatch=None) if fits else block
            return SetText(tuple(marks), y, (remaining, *rest))
        y += 0.25 * size
    return SetText(tuple(marks), y, ())


def _lines(block: Paragraph, width: float, size: float) -> Iterator[str]:
    letters = size * block.scale
    return wrapped(block.text, letters, width - _indent(block, size), _label_width(block, letters), block.bold)


def _without_wide_labels(blocks: Sequence[TextBlock], width: float, size: float) -> Iterator[TextBlock]:
    """Yield the blocks, a label that is wider than the column as bold text of its own above what belongs to it."""
    for block in blocks:
        if isinstance(block, Paragraph) and _indent(block, size) + _label_width(block, size * block.scale) > width:
            yield Paragraph(f"{block.label}:", swatch=block.swatch, scale=block.scale, bold=True)
            if block.text:
                yield replace(block, label="", swatch=None)
        else:
            yield block


def _indent(block: Paragraph, size: float) -> float:
    return 1.6 * size if block.swatch is not None else 0.0


def _label_width(block: Paragraph, letters: float) -> float:
    return text_width(f"{block.label}: ", letters, bold=True) if block.label else 0.0


def _heading(block: Heading, column: TextColumn, y: float, size: float) -> Iterator[InkMark]:
    yield Rules(((column.left, y + 0.3 * size, column.left + column.width, y + 0.3 * size),), 0.8, BLACK)
    yield Letters(column.left, y + 1.55 * size, block.text, size * 1.15, bold=True)


def _paragraph(block: Paragraph, lines: Sequence[str], column: TextColumn, y: float, size: float) -> Iterator[InkMark]:
    letters = size * block.scale
    left = column.left + _indent(block, size)
    if block.swatch is not None and lines:
        patch = ((column.left, y + 0.15 * size, 1.1 * size, 1.1 * size),)
        yield Boxes(patch, block.swatch)
        yield Boxes(patch, GREY, 0.4)
    if block.label and lines:
        yield Letters(left, y + letters, f"{block.label}:", letters, bold=True)
    for number, line in enumerate(lines):
        indent = _label_width(block, letters) if number == 0 else 0.0
        yield Letters(left + indent, y + letters * (1.0 + number * LEADING), line, letters, bold=block.bold)
