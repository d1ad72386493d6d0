"""A project sheet on paper: one page where it finds room, mostly two, more only for a very long treadling.

On the first page the title, the cloth, what is put on the loom, and the draft in quarters; then the tie-up with the
treadling beside it, in order, and the words; the cautions last and short.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from companion.draft.cloth import Surface
from companion.draft.facing import Facing
from companion.record.cloth_plate import cloth_plate
from companion.record.ink import BLACK, SIZES, Anchor, InkMark, InkPage, Letters, Paper, Rules, moved
from companion.record.letter_widths import fitted
from companion.record.notation import signs_told
from companion.record.paper_flow import Heading, Paragraph, TextBlock, TextColumn, set_text, title_letters
from companion.record.project import ProjectSheet
from companion.record.quarters import draft_plate
from companion.record.tieup_plate import tieup_plate, tieup_width

_MARGIN = 40.0
_FOOT = 34.0
"""Room at the foot for the cautions and the number of the page."""
_CLOTH_HEIGHT = 190.0
_BETWEEN = 16.0
_SIZES_OF_TEXT = (13.0, 12.0, 11.0, 10.0, 9.0, 8.2, 7.4)
"""Sizes of letters tried, the largest first; smaller ones nobody reads at a bench."""
_SIZES_ON_ONE_PAGE = (11.0, 10.0, 9.0)
"""Sizes tried where all of a short sheet may stand on one page."""
_DRAFT_HEAD, _LEAST_OF_A_DRAFT = 22.0, 60.0
"""Room for the words over a draft, and the least for a draft itself."""
_CAUTION_SIZE = 7.5
_TIE_CELL = 15.0
NO_CLOTH = "No picks are written, so there is no cloth to show."
_OTHER_TREADLES = "The treadles that they tell of are those of the draft as it was written, not of this loom."


def project_pages(sheet: ProjectSheet, paper: Paper, facing: Facing) -> tuple[InkPage, ...]:
    """Return the pages of a sheet, its drawings as `facing` says."""
    width, height = SIZES[paper]
    head = _head(sheet, width, facing)
    bodies = _on_one_page(sheet, head, width, height, facing)
    if not bodies:
        for size in _SIZES_OF_TEXT:
            later = list(_later_pages(sheet, width, height, size))
            if len(later) == 1:
                break
        room = height - _MARGIN - _FOOT - head.bottom - _DRAFT_HEAD
        first = (*head.marks, *_draft(sheet, width, head.bottom, room, facing).marks)
        bodies = [first, *(part.marks for part in later)]
    return tuple(
        InkPage(width, height, (*marks, *_foot(sheet, width, height, number, len(bodies))))
        for number, marks in enumerate(bodies, 1)
    )


@dataclass(frozen=True, slots=True)
class _OnPaper:
    """A part of a page: its marks, how far down it reaches, and of a draft the ends and picks that are drawn."""

    marks: tuple[InkMark, ...]
    bottom: float
    drawn: tuple[int, int] = (0, 0)


def _on_one_page(
    sheet: ProjectSheet, head: _OnPaper, width: float, height: float, facing: Facing
) -> list[tuple[InkMark, ...]]:
    """Return all of a short sheet as one page, where no less of its draft is drawn than on two; else none."""
    room = height - _MARGIN - _FOOT - head.bottom - _DRAFT_HEAD
    whole = _draft(sheet, width, head.bottom, room, facing)
    for size in _SIZES_ON_ONE_PAGE:
        words, *more = _later_pages(sheet, width, height, size)
        left = room - (words.bottom - _MARGIN) - _BETWEEN
        if more or left < _LEAST_OF_A_DRAFT:
            continue
        draft = _draft(sheet, width, head.bottom, left, facing)
        if draft.drawn == whole.drawn:
            return [(*head.marks, *draft.marks, *moved(words.marks, 0, draft.bottom + _BETWEEN - _MARGIN))]
    return []


def _head(sheet: ProjectSheet, width: float, facing: Facing) -> _OnPaper:
    """Return the title, the cloth, and what is put on the loom."""
    marks: list[InkMark] = []
    inner = width - 2 * _MARGIN
    marks += title_letters(sheet.title, _MARGIN, _MARGIN, inner)
    marks.append(Letters(_MARGIN, _MARGIN + 28, fitted(sheet.subtitle, 9, inner), 9))
    top = _MARGIN + 40
    # Two pictures of the cloth, and what is put on the loom beside them.
    picture = (inner * 0.58 - _BETWEEN) / 2
    bottom = top
    if not sheet.draft.picks:
        marks.append(Letters(_MARGIN, top + 7, NO_CLOTH, 8))
    for number, surface in enumerate(Surface if sheet.draft.picks else ()):
        left = _MARGIN + number * (picture + _BETWEEN / 2)
        plate = cloth_plate(sheet.draft, surface, picture, _CLOTH_HEIGHT, facing)
        marks += moved(plate.marks, left, top + 11)
        below = " (through the cloth)" if surface is Surface.BACK else ""
        marks.append(Letters(left, top + 7, f"{surface.value.capitalize()}{below}", 8, bold=True))
        if plate.left_out:
            marks.append(Letters(left, top + 20 + plate.height, fitted(plate.left_out, 6.5, picture), 6.5))
        bottom = max(bottom, top + 24 + plate.height)
    left = _MARGIN + inner * 0.58 + _BETWEEN / 2
    facts = set_text(list(_facts(sheet)), TextColumn(left, top - 4, width - _MARGIN - left, top + 330), 8.5)
    return _OnPaper((*marks, *facts.marks), max(bottom, facts.bottom) + 10)


def _draft(sheet: ProjectSheet, width: float, top: float, room: float, facing: Facing) -> _OnPaper:
    """Return the draft in quarters, from `top` down, as large as the room lets it be."""
    inner = width - 2 * _MARGIN
    plate = draft_plate(sheet.drawn, inner, room, facing)
    lies = f"first end {facing.first_end.value}, first pick {facing.first_pick.value}"
    words = f"{sheet.drawn_as}{lies}; filled: warp up."
    if plate.left_out:
        words += f" {plate.left_out[0].upper()}{plate.left_out[1:]}."
    marks = (
        Rules(((_MARGIN, top, width - _MARGIN, top),), 0.8, BLACK),
        Letters(_MARGIN, top + 13, "Draft", 10.5, bold=True),
        Letters(_MARGIN + 36, top + 13, fitted(words, 7.5, inner - 40), 7.5),
        *moved(plate.marks, _MARGIN + max(0.0, (inner - plate.width) / 2), top + _DRAFT_HEAD),
    )
    return _OnPaper(marks, top + _DRAFT_HEAD + plate.height, plate.drawn)


def _facts(sheet: ProjectSheet) -> Iterator[TextBlock]:
    yield Heading("On the loom")
    for label, words in sheet.facts:
        yield Paragraph(words, label)
    yield Heading("Yarns")
    for yarn in sheet.yarns:
        size = f"{yarn.size}; " if yarn.size else ""
        yield Paragraph(f"{size}{'; '.join(yarn.amounts)}", yarn.name, yarn.colour)


def _later_pages(sheet: ProjectSheet, width: float, height: float, size: float) -> Iterator[_OnPaper]:
    """Yield tie-up, threading, treadling and words, page by page."""
    inner = width - 2 * _MARGIN
    bottom = height - _MARGIN - _FOOT
    narrow = min(inner * 0.42, max((tieup_width(one, _TIE_CELL) for one in sheet.tieups), default=0.0))
    narrow = max(narrow, inner * 0.34)
    wide = inner - narrow - _BETWEEN
    left_text, right_text = list(_left_text(sheet)), list(_treadling(sheet))
    drawn = list(sheet.tieups)
    while left_text or right_text or drawn:
        marks: list[InkMark] = []
        top = _MARGIN
        while drawn:
            plate = tieup_plate(drawn[0], min(_TIE_CELL, (narrow - 20) / max(1, len(drawn[0].tieup))))
            if top > _MARGIN and top + plate.height > bottom:
                break
            marks += moved(plate.marks, _MARGIN, top)
            top += plate.height + 8
            drawn.pop(0)
        left = set_text(left_text, TextColumn(_MARGIN, top, narrow, bottom), size)
        right = set_text(right_text, TextColumn(_MARGIN + narrow + _BETWEEN, _MARGIN, wide, bottom), size)
        yield _OnPaper((*marks, *left.marks, *right.marks), max(left.bottom, right.bottom))
        if left.left_over == tuple(left_text) and right.left_over == tuple(right_text) and not marks:
            break
        left_text, right_text = list(left.left_over), list(right.left_over)


def _left_text(sheet: ProjectSheet) -> Iterator[TextBlock]:
    yield Heading("Threading")
    if signs := signs_told(passage.text for passage in sheet.threading):
        yield Paragraph(signs, scale=0.85)
    for passage in sheet.threading:
        yield Paragraph(passage.text, passage.heading)
    if sheet.handout.finishing:
        yield Heading("Finishing")
        yield from (Paragraph(line) for line in sheet.handout.finishing)
    if sheet.handout.words:
        yield Heading("From your teacher")
        yield from (Paragraph(line) for line in sheet.handout.words)
    if sheet.notes:
        yield Heading("Notes of the draft")
        if sheet.handout.on_loom and any("treadle" in note.lower() for note in sheet.notes):
            yield Paragraph(_OTHER_TREADLES, scale=0.85)
        yield from (Paragraph(note) for note in sheet.notes)


def _treadling(sheet: ProjectSheet) -> Iterator[TextBlock]:
    yield Heading("Treadling, in order")
    yield Paragraph(sheet.treadling_key, scale=0.85)
    for passage in sheet.treadling:
        yield Paragraph(passage.text, passage.heading)


def _foot(sheet: ProjectSheet, width: float, height: float, number: int, of: int) -> Iterator[InkMark]:
    y = height - _MARGIN + 4
    if number == of:
        room = width - 2 * _MARGIN - 50
        for line, words in enumerate(reversed(sheet.cautions)):
            yield Letters(_MARGIN, y - line * _CAUTION_SIZE * 1.25, fitted(words, _CAUTION_SIZE, room), _CAUTION_SIZE)
    yield Letters(width - _MARGIN, y, f"{number} of {of}", _CAUTION_SIZE, anchor=Anchor.END)
