"""The tie-up card, in large print, black on white: first what is needed under the loom, then the feet for the bench.

It is complete in itself: the tie-up is drawn as inline SVG, nothing is loaded and nothing runs (it says so in its
content security policy, W3C, "Content Security Policy Level 3"). The cautions are the usual ones for working under a
loom: common practice, no source; the maker's instructions come first.
"""

from __future__ import annotations

import html
from collections.abc import Iterable, Iterator

from companion.draft.facing import Facing
from companion.draft.masks import Shed, is_raised, print_shed
from companion.draft.units import counted
from companion.present.cautions import TYING_CAUTIONS
from companion.present.cords import change_words
from companion.present.footing_in_words import stage_footing_words
from companion.present.loom_kinds import loom_in_full
from companion.present.wording import treadle_words
from companion.remap.feet.tied_stage import TiedStage
from companion.remap.loom.cords import CordChange
from companion.remap.loom.loom import Action, Loom, TieUp
from companion.remap.remapped import Remapping, Verdict

_STYLE = """
@page { margin: 14mm; }
body { font: 18pt/1.35 "DejaVu Sans", Arial, Helvetica, sans-serif; color: #000; background: #fff; }
body { max-width: 46em; margin: 1em auto; padding: 0 .6em; }
h1 { font-size: 1.3em; margin: 0; overflow-wrap: anywhere; }
h2 { font-size: 1.1em; border-top: 3px solid #000; padding-top: .3em; margin: .8em 0 .3em; break-after: avoid; }
p { margin: .3em 0; }
table { border-collapse: collapse; margin: .4em 0; }
th, td { border: 2px solid #000; padding: .1em .6em; text-align: left; }
td.foot { font-weight: bold; font-size: 1.2em; text-align: center; min-width: 3em; }
li { margin: .25em 0; }
ul { margin: .3em 0; }
ul.cords { list-style: "☐  "; padding-left: 1.6em; }
svg { max-width: 100%; height: auto; display: block; margin: .4em 0; }
.tying { display: flex; flex-wrap: wrap; gap: 0 1.5em; break-inside: avoid; }
.tying > svg { flex: none; }
.tying > div { flex: 1 1 12em; }
.cautions { font-size: .8em; }
.tying h2 { border: 0; margin-top: 0; }
.several { column-width: 13em; }
svg text { font: bold 20px "DejaVu Sans", Arial, sans-serif; fill: #000; }
small { font-size: .75em; }
thead { display: table-header-group; }
tr, li, svg, table.feet { break-inside: avoid; }
section.stage { break-before: page; }
"""
_LEGENDS = {
    Action.RISING: "A square is a cord that makes the shaft rise.",
    Action.SINKING: "A hollow square is a cord that makes the shaft sink.",
    Action.COUNTERMARCHE: "A full square is a cord that makes the shaft rise, a hollow one a cord that makes it sink.",
}
_CELL = 40
_LABEL = 48


def tieup_card(title: str, answer: Remapping, facing: Facing) -> str:
    """Return the card of an answer as a complete HTML page; `title` names the draft and may hold anything."""
    name = html.escape(title, quote=True)
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta http-equiv="Content-Security-Policy" '
        "content=\"default-src 'none'; style-src 'unsafe-inline'\">\n"
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{name}: tie-up card</title>\n<style>{_STYLE}</style>\n</head>\n<body>\n"
        + "\n".join(_body(name, answer, facing))
        + "\n</body>\n</html>\n"
    )


def _body(name: str, answer: Remapping, facing: Facing) -> Iterator[str]:
    loom = answer.loom
    yield f"<h1>{name}</h1>"
    yield f"<p>{loom_in_full(loom)}; the first end is at the {facing.first_end.value}, as you sit at the loom.</p>"
    if answer.proven_cloth:
        yield "<p>Woven both ways and compared pick by pick: the same cloth.</p>"
    if answer.face_down:
        yield "<p><strong>Face down: the face of the cloth lies below on the loom, its back is up.</strong></p>"
    if answer.verdict is Verdict.TOO_FEW_SHAFTS:
        yield "<p><strong>There is no tie-up to show: this loom was not found to weave the draft.</strong></p>"
        return
    if loom.action is Action.LEVERS:
        yield from _levers(answer)
        return
    yield f"<p><small>{_LEGENDS[loom.action]} Treadle 1 is on the left, shaft 1 nearest the weaver.</small></p>"
    yield "<h2>Before you go under the loom</h2>"
    yield _list(TYING_CAUTIONS, "cautions")
    for number, stage in enumerate(answer.stages, 1):
        if len(answer.stages) > 1:
            yield '<section class="stage">'
            yield f"<h2>Stage {number} of {len(answer.stages)}: {_picks(stage)}</h2>"
        else:
            yield "<section>"
            yield "<h2>Tie-up</h2>"
        yield from _stage(stage, loom, stage_footing_words(answer, stage))
        yield "</section>"


def _picks(stage: TiedStage) -> str:
    first, last = stage.first + 1, stage.last + 1
    return f"pick {first}" if first == last else f"picks {first} to {last}"


def _stage(stage: TiedStage, loom: Loom, footing: str) -> Iterator[str]:
    yield f'<div class="tying">{tieup_picture(stage.tieup, loom)}<div>'
    if stage.changes:
        yield f"<h2>{counted(stage.cords_changed or 0, 'cord')} to change, from the left</h2>"
        yield _list((_change(change, loom.action) for change in stage.changes), "cords")
    elif stage.changes is not None:
        yield "<h2>No cord to change</h2>"
    yield "</div></div>"
    yield "<h2>Feet for each shed</h2>"
    yield f"<p>{footing[0].upper()}{footing[1:]}.</p>"
    yield _table_head("feet", "shafts up", "left foot", "right foot", "picks")
    for feet in stage.sheds:
        star = "" if feet.steady else " *"
        yield (
            f"<tr><td>{print_shed(feet.shed)}</td>"
            f'<td class="foot">{treadle_words(feet.footing.left)}</td>'
            f'<td class="foot">{treadle_words(feet.footing.right)}</td><td>{feet.picks}{star}</td></tr>'
        )
    yield "</table>"
    if not all(feet.steady for feet in stage.sheds):
        yield "<p><small>* mostly so; at some picks another footing is lighter, follow the screen there.</small></p>"


def _levers(answer: Remapping) -> Iterator[str]:
    yield "<h2>Levers to change before each pick</h2>"
    yield '<div class="several">' + _table_head("levers", "pick", "raise", "lower")
    for pick, change in enumerate(answer.levers, 1):
        yield f"<tr><td>{pick}</td><td>{_levers_words(change.raise_)}</td><td>{_levers_words(change.lower)}</td></tr>"
    yield "</table></div>"


def _levers_words(shed: Shed) -> str:
    return print_shed(shed) if shed else "–"


def _table_head(kind: str, *headings: str) -> str:
    cells = "".join(f"<th>{heading}</th>" for heading in headings)
    return f'<table class="{kind}"><thead><tr>{cells}</tr></thead>'


def _list(lines: Iterable[str], kind: str = "") -> str:
    opening = f'<ul class="{kind}">' if kind else "<ul>"
    return opening + "".join(f"<li>{line}</li>" for line in lines) + "</ul>"


def _change(change: CordChange, action: Action) -> str:
    treadle, _, what = change_words(change, action).partition(": ")
    return f"<strong>{treadle}</strong>: {what}"


def tieup_picture(tieup: TieUp, loom: Loom) -> str:
    """Return the tie-up as SVG: treadle 1 on the left, shaft 1 (nearest the weaver) lowest.

    A full square is a cord that raises, a hollow one a cord that sinks: told apart by shape, not by colour.
    """
    width, height = _LABEL + len(tieup) * _CELL, loom.shafts * _CELL + _LABEL
    shapes = []
    for shaft in range(loom.shafts):
        top = (loom.shafts - 1 - shaft) * _CELL
        shapes.append(f'<text x="{_LABEL - 10}" y="{top + 27}" text-anchor="end">{shaft + 1}</text>')
        for treadle, tie in enumerate(tieup):
            left = _LABEL + treadle * _CELL
            shapes.append(_box(left, top, _CELL, "none", 1))
            if is_raised(tie.up, shaft):
                shapes.append(_box(left + 7, top + 7, _CELL - 14, "#000", 2, 'class="up"'))
            if is_raised(tie.down, shaft):
                shapes.append(_box(left + 9, top + 9, _CELL - 18, "#fff", 4, 'class="down"'))
    for treadle in range(len(tieup)):
        centre = _LABEL + treadle * _CELL + _CELL // 2
        shapes.append(f'<text x="{centre}" y="{height - 18}" text-anchor="middle">{treadle + 1}</text>')
    # As wide as the page allows, but no square larger than a thumb.
    return (
        f'<svg viewBox="0 -1 {width + 2} {height + 1}" width="{width + 2}" role="img" '
        f'aria-label="tie-up, treadle 1 on the left, shaft 1 lowest">{"".join(shapes)}</svg>'
    )


def _box(left: int, top: int, size: int, fill: str, line: int, more: str = "") -> str:
    return (
        f'<rect x="{left}" y="{top}" width="{size}" height="{size}" fill="{fill}" '
        f'stroke="#000" stroke-width="{line}" {more}/>'
    )
