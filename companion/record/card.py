"""The tie-up card, one page to a tie-up: what is tied, large, with boxes to tick, and the treadling in order under it.

The cautions stand at its foot: the usual ones for working under a loom, common practice, no source; the maker's
instructions come first.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import product

from companion.draft.facing import Facing
from companion.draft.masks import Shed, print_shed
from companion.draft.model import Draft
from companion.draft.units import Units, counted, numbered
from companion.present.cautions import TYING_CAUTIONS
from companion.present.cords import change_words
from companion.present.feet_wish import wish_told
from companion.present.footing_in_words import foot_of_treadles, stage_footing_words
from companion.present.loom_kinds import loom_in_full
from companion.present.spare_words import spare_words
from companion.present.ties_said import to_change_words, to_make_words
from companion.present.trade_words import AS_WRITTEN, Trade, in_trade_words, names_in
from companion.present.wording import treadle_words
from companion.record.ink import SIZES, Anchor, InkMark, InkPage, Letters, moved, usual_paper
from companion.record.ink_svg import html_of
from companion.record.letter_widths import fitted
from companion.record.notation import BY_FEET, how_to_read
from companion.record.paper_flow import Heading, Paragraph, SetText, TextBlock, TextColumn, set_text, title_letters
from companion.record.project import LEGENDS, TieUpToDraw
from companion.record.tieup_plate import tieup_plate
from companion.record.treadling_told import TroddenStage, passages_by_feet
from companion.remap.feet.tied_stage import TiedStage
from companion.remap.loom.cords import cord_changes
from companion.remap.loom.loom import Action
from companion.remap.remapped import Remapping, Verdict

_MARGIN = 40.0
_CAUTION_SIZE = 8.0
_CAUTION_LINE = _CAUTION_SIZE * 1.3
_FOOT = _CAUTION_LINE * (len(TYING_CAUTIONS) + 1) + 8
_LARGEST_CELL = 36.0
_TIE_UP_SHARES = (0.42, 0.32, 0.24)
"""Of the page's height, what a tie-up takes at most: the first with which all stands on one page."""
_SIZES_OF_TEXT = (14.0, 13.0, 12.0, 11.0, 10.0, 9.0, 8.0, 7.2)
_BETWEEN_COLUMNS = 20.0
_BESIDE = 150.0
"""Points that cords to change need beside a tie-up; otherwise they stand under it."""
TICK = "[  ] "


def tieup_card(
    title: str, draft: Draft, answer: Remapping, facing: Facing, units: Units, trade: Trade = AS_WRITTEN
) -> str:
    """Return the card of an answer for a draft as a complete HTML page; `title` may hold anything."""
    return html_of(f"{title}: tie-up card", card_pages(title, draft, answer, facing, units, trade))


def card_pages(
    title: str, draft: Draft, answer: Remapping, facing: Facing, units: Units, trade: Trade = AS_WRITTEN
) -> tuple[InkPage, ...]:
    """Return the pages: one to a tie-up, more only where a treadling is too long for what is left of a page."""
    width, height = SIZES[usual_paper(units)]
    head = tuple(_head(title, answer, facing, width, trade))
    bodies: list[tuple[InkMark, ...]] = []
    for drawing, blocks in _parts(draft, answer, units):
        said = in_trade_words((drawing, tuple(blocks)), trade, names_in(draft))
        bodies += _laid_out(head, *said, width, height)
    return tuple(
        InkPage(width, height, (*marks, *_foot(width, height, number, len(bodies), answer.loom.action, trade)))
        for number, marks in enumerate(bodies, 1)
    )


_Part = tuple[TieUpToDraw | None, Sequence[TextBlock]]
"""A tie-up to draw, if there is one, and what stands beside and under it."""


def _parts(draft: Draft, answer: Remapping, units: Units) -> Iterator[_Part]:
    loom = answer.loom
    if answer.verdict in (Verdict.UNKNOWN, Verdict.TOO_FEW_SHAFTS):
        yield None, [Paragraph("There is no tie-up to show: this loom was not found to weave the draft.")]
        return
    if loom.action is Action.LEVERS:
        yield None, list(_levers(answer))
        return
    for number, stage in enumerate(answer.stages, 1):
        of = f", stage {number} of {len(answer.stages)}: {_picks(stage)}" if len(answer.stages) > 1 else ""
        left, right = foot_of_treadles(stage.footings)
        drawing = TieUpToDraw(f"Tie-up{of}", stage.tieup, loom.shafts, LEGENDS[loom.action], left, right)
        yield drawing, [*_cords(stage, loom.action), *_feet(answer, stage), *_treadling(draft, answer, stage, units)]


def _picks(stage: TiedStage) -> str:
    return numbered("pick", stage.first, stage.last)


def _cords(stage: TiedStage, action: Action) -> Iterator[TextBlock]:
    if stage.changes:
        yield Heading(f"{to_change_words(stage.cords_changed or 0)}, from the left")
        yield from (Paragraph(f"{TICK}{change_words(change, action)}") for change in stage.changes)
    elif stage.changes is not None:
        yield Heading(to_change_words(0).capitalize())
    else:
        ties = cord_changes((), stage.tieup)
        yield Heading(f"{to_make_words(sum(change.cords for change in ties))}, from the left")
        yield from (Paragraph(f"{TICK}{change_words(change, action)}") for change in ties)


def _feet(answer: Remapping, stage: TiedStage) -> Iterator[TextBlock]:
    yield Heading("Treadles for each shed")
    words = stage_footing_words(answer, stage)
    yield Paragraph(f"{words[0].upper()}{words[1:]}.", scale=0.85)
    if unkept := wish_told(answer):
        yield Paragraph(f"{unkept[0].upper()}{unkept[1:]}.", scale=0.85)
    if stage is answer.stages[0] and (spare := spare_words(answer)):
        yield Paragraph(f"{spare[0].upper()}{spare[1:]}.", scale=0.85)
    for feet in stage.sheds:
        yield Paragraph(
            f"left {treadle_words(feet.footing.left)}, right {treadle_words(feet.footing.right)}; "
            f"{counted(feet.picks, 'pick')}",
            f"shafts {print_shed(feet.shed)} up",
        )


def _treadling(draft: Draft, answer: Remapping, stage: TiedStage, units: Units) -> Iterator[TextBlock]:
    yield Heading("Treadling, in order")
    trodden = TroddenStage(stage.first, stage.tieup, stage.footings)
    told = tuple(passages_by_feet(draft, answer.loom, [trodden], units))
    yield Paragraph(how_to_read(BY_FEET, (passage.text for passage in told)), scale=0.8)
    for passage in told:
        yield Paragraph(passage.text, passage.heading)


def _levers(answer: Remapping) -> Iterator[TextBlock]:
    yield Heading("Levers to change before each pick")
    for pick, change in enumerate(answer.levers, 1):
        yield Paragraph(f"raise {_shafts(change.raise_)}, lower {_shafts(change.lower)}", f"pick {pick}")


def _shafts(shed: Shed) -> str:
    return print_shed(shed) if shed else "–"


def _head(title: str, answer: Remapping, facing: Facing, width: float, trade: Trade) -> Iterator[InkMark]:
    inner = width - 2 * _MARGIN
    yield from title_letters(title, _MARGIN, _MARGIN, inner)
    loom = f"{loom_in_full(answer.loom)}; first end at the {facing.first_end.value}, as you sit at the loom"
    yield Letters(_MARGIN, _MARGIN + 30, fitted(in_trade_words(loom, trade), 11, inner), 11)
    said = "Weaves the draft's cloth (checked pick by pick)." if answer.proven_cloth else ""
    if answer.face_down:
        said = f"Face down: the face of the cloth lies below on the loom, its back is up. {said}"
    yield Letters(_MARGIN, _MARGIN + 44, fitted(said, 10, inner, answer.face_down), 10, bold=answer.face_down)


def _laid_out(
    head: tuple[InkMark, ...], drawing: TieUpToDraw | None, blocks: Sequence[TextBlock], width: float, height: float
) -> list[tuple[InkMark, ...]]:
    """Return the pages of one tie-up: one page in the largest letters in which all of it finds room.

    The tie-up is drawn smaller only where no letters let it all stand on one page beside a large one.
    """
    tried: list[list[tuple[InkMark, ...]]] = []
    for share, size in product(_TIE_UP_SHARES, _SIZES_OF_TEXT):
        tried.append(list(_pages_at(head, drawing, blocks, width, height, size, share)))
        if len(tried[-1]) == 1:
            return tried[-1]
    return tried[len(_SIZES_OF_TEXT) - 1]


def _pages_at(
    head: tuple[InkMark, ...],
    drawing: TieUpToDraw | None,
    blocks: Sequence[TextBlock],
    width: float,
    height: float,
    size: float,
    share: float,
) -> Iterator[tuple[InkMark, ...]]:
    inner, bottom = width - 2 * _MARGIN, height - _MARGIN - _FOOT
    top = _MARGIN + 58
    marks: list[InkMark] = list(head)
    text = tuple(blocks)
    if drawing is not None:
        cell = min(_LARGEST_CELL, (inner - 20) / max(1, len(drawing.tieup)), height * share / drawing.shafts)
        plate = tieup_plate(drawing, cell, ticks=True)
        marks += moved(plate.marks, _MARGIN, top)
        left = _MARGIN + plate.width + 20
        if width - _MARGIN - left >= _BESIDE:
            beside = set_text(text, TextColumn(left, top, width - _MARGIN - left, top + plate.height), size)
            marks += beside.marks
            text = beside.left_over
        top += plate.height + 6
    while True:
        under = _under(text, TextColumn(_MARGIN, top, inner, bottom), size)
        yield (*marks, *under.marks)
        if not under.left_over or (under.left_over == text and not marks):
            return
        text, marks, top = under.left_over, [], _MARGIN


def _under(text: Sequence[TextBlock], room: TextColumn, size: float) -> SetText:
    """Set text as wide as the room, or in two columns where that would not hold all of it: most lines are short."""
    whole = set_text(text, room, size)
    half = (room.width - _BETWEEN_COLUMNS) / 2
    if not whole.left_over or half < _BESIDE:
        return whole
    one = set_text(text, replace(room, width=half), size)
    other = set_text(one.left_over, replace(room, left=room.left + half + _BETWEEN_COLUMNS, width=half), size)
    return SetText((*one.marks, *other.marks), room.bottom, other.left_over)


def _foot(width: float, height: float, number: int, of: int, action: Action, trade: Trade) -> Iterator[InkMark]:
    y = height - _MARGIN
    if action is not Action.LEVERS:
        y -= _CAUTION_LINE * (len(TYING_CAUTIONS) - 1)
        yield Letters(_MARGIN, y - _CAUTION_LINE, "Before you go under the loom", _CAUTION_SIZE + 1, bold=True)
        for caution in in_trade_words(TYING_CAUTIONS, trade):
            yield Letters(_MARGIN, y, caution, _CAUTION_SIZE)
            y += _CAUTION_LINE
    if of > 1:
        yield Letters(width - _MARGIN, height - _MARGIN, f"{number} of {of}", _CAUTION_SIZE, anchor=Anchor.END)
