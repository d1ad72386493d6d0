"""The record as one page of HTML that needs nothing else: words, tables and drawings, made for paper and screen.

Whatever a person typed passes through `_text`, which escapes it. The page loads nothing and runs nothing: it says so
itself in its content security policy (W3C, "Content Security Policy Level 3").
"""

from __future__ import annotations

import html
from collections.abc import Callable, Iterable, Iterator
from datetime import UTC, tzinfo
from functools import partial
from typing import Any

from companion.draft.cloth import Surface
from companion.draft.colours import print_colour
from companion.draft.facing import Facing
from companion.draft.model import Colour, Draft
from companion.draft.units import Units
from companion.present.trade_words import AS_WRITTEN, Trade, in_trade_words, own_words, words_written
from companion.record.chapters import Chapter, ChapterPart, Drawing, Table, TieUpDrawing, Value, View, Words
from companion.record.cloth_plate import cloth_plate
from companion.record.drawings import newest_words, tieup_drawing
from companion.record.ink import Letters
from companion.record.ink_svg import svg_of
from companion.record.outline import outline
from companion.record.quarters import draft_plate
from companion.record.sheet import PieceSheet, Sheet

_WIDTH, _DRAFT_HEIGHT = 480.0, 250.0
"""Points that a draft takes at most: below the summary it still finds room on the first page."""
_CLOTH_WIDTH, _CLOTH_HEIGHT = 225.0, 190.0
_STYLE = """
body { font: 11pt/1.4 Georgia, "Liberation Serif", serif; color: #111; background: #fff; }
body { max-width: 46em; margin: 2em auto; padding: 0 1em; }
h1 { font-size: 1.7em; margin: 0 0 .2em; }
h2 { font-size: 1.25em; border-bottom: 1px solid #777; margin-top: 1.8em; }
h3 { font-size: 1em; margin: 1.2em 0 .3em; }
table { border-collapse: collapse; margin: .4em 0 1em; }
svg text { font-family: Helvetica, Arial, "Liberation Sans", sans-serif; }
th, td { border: 1px solid #999; padding: .15em .55em; text-align: left; vertical-align: top; }
td { overflow-wrap: anywhere; min-width: 4em; }
th { background: #eee; }
td.number { text-align: right; min-width: 0; font-variant-numeric: tabular-nums; }
figure { margin: .6em 1.4em .8em 0; display: inline-block; vertical-align: top; }
figcaption { font-size: .85em; max-width: 30em; }
svg { max-width: 100%; height: auto; }
@media print {
  body { margin: 0; max-width: none; font-size: 10pt; orphans: 1; widows: 1; }
  h2, h3 { break-after: avoid; }
  tr, figure { break-inside: avoid; }
  thead { display: table-header-group; }
}
"""


Say = Callable[[Any], Any]
"""Puts a line, or a value with lines, into the words of the weaver's trade."""


def to_html(sheet: Sheet, units: Units, facing: Facing, zone: tzinfo | None = UTC, trade: Trade = AS_WRITTEN) -> str:
    """Return the record as a complete HTML page in these units, times as the clock of `zone` shows them.

    It is drawn as `facing` says, in the words of the `trade`.
    """
    name = _text(sheet.warp.name)
    own = (*own_words(sheet.warp, sheet.told.progress), *words_written(one.entry for one in sheet.told.happened))
    say: Say = partial(in_trade_words, trade=trade, own=own)
    first, *others = outline(sheet, units, facing, zone)
    body = [f"<h1>{name}</h1>", *(_part(part, facing, say) for part in first.parts)]
    body += [line for chapter in others for line in _chapter(chapter, facing, say)]
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta http-equiv="Content-Security-Policy" '
        "content=\"default-src 'none'; style-src 'unsafe-inline'\">\n"
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{name}: record</title>\n<style>{_STYLE}</style>\n</head>\n<body>\n"
        + "\n".join(body)
        + "\n</body>\n</html>\n"
    )


def _chapter(chapter: Chapter, facing: Facing, say: Say) -> Iterator[str]:
    yield f"<h2>{_text(say(chapter.title))}</h2>"
    yield from (_part(part, facing, say) for part in chapter.parts)


def _part(part: ChapterPart, facing: Facing, say: Say) -> str:
    match part:
        case Table():
            table: Table = say(part)
            heading = f"<h3>{_text(table.title)}</h3>" if table.title else ""
            return heading + _table(table)
        case Words(lines):
            return "".join(f"<p>{_text(say(line))}</p>" for line in lines)
        case TieUpDrawing(title, tieup, shafts):
            figure = _figure(tieup_drawing(tieup, shafts), say("Treadle 1 on the left, shaft 1 lowest."))
            return f"<h3>{_text(title)}</h3>{figure}"
        case Drawing(View.DRAFT, piece):
            return _draft_figure(piece.piece.draft, facing, say)
        case Drawing(view, piece):
            surface = Surface.FACE if view is View.FACE else Surface.BACK
            return _cloth_figure(piece, surface, facing)


def _draft_figure(draft: Draft, facing: Facing, say: Say) -> str:
    plate = draft_plate(draft, _WIDTH, _DRAFT_HEIGHT, facing)
    words = say(f"The draft: {draft.shafts} shafts, {draft.ends} ends, {draft.picks} picks listed.")
    if any(not mark.turned and mark.text.startswith("x") for mark in plate.marks if isinstance(mark, Letters)):
        words += " Under a bracket stands how often it comes."
    drawing = svg_of(plate.width + 1, plate.height + 1, plate.marks, "the draft")
    return _figure(drawing, words + (f" Of all of it, {plate.left_out}." if plate.left_out else ""))


def _cloth_figure(piece: PieceSheet, surface: Surface, facing: Facing) -> str:
    plate = cloth_plate(piece.piece.draft, surface, _CLOTH_WIDTH, _CLOTH_HEIGHT, facing, picks=piece.lying)
    drawing = svg_of(plate.width, plate.height, plate.marks, f"{surface.value} of the cloth, {newest_words(facing)}")
    words = _cloth_words(piece, surface, facing)
    return _figure(drawing, words + (f" Shown are {plate.left_out}." if plate.left_out else ""))


def _cloth_words(piece: PieceSheet, surface: Surface, facing: Facing) -> str:
    through = f" Read through the cloth: end 1 on the {facing.first_end.value}." if surface is Surface.BACK else ""
    where = "as its draft stands"
    if piece.piece.face_down:
        where = "which lies below on the loom" if surface is Surface.FACE else "which lies up on the loom"
    return f"The {surface.value}, {where}, {newest_words(facing)}.{through}"


def _figure(drawing: str, caption: str) -> str:
    return f"<figure>{drawing}<figcaption>{_text(caption)}</figcaption></figure>"


def _table(table: Table) -> str:
    head = "".join(f"<th>{_text(heading)}</th>" for heading in table.headings)
    lines = [f"<thead><tr>{head}</tr></thead>"] if head else []
    yarns = table.yarns or (None,) * len(table.rows)
    lines += [f"<tr{_stripe(yarn)}>{''.join(_cells(row))}</tr>" for row, yarn in zip(table.rows, yarns, strict=True)]
    return f"<table>{''.join(lines)}</table>"


def _stripe(yarn: Colour | None) -> str:
    return "" if yarn is None else f' style="border-left: .7em solid {print_colour(yarn)}"'


def _cells(row: Iterable[Value]) -> Iterator[str]:
    for value in row:
        if isinstance(value, str):
            yield f"<td>{_text(value)}</td>"
        else:
            yield f'<td class="number">{f"{value:.1f}" if isinstance(value, float) else value}</td>'


def _text(value: object) -> str:
    return html.escape(str(value), quote=True)
