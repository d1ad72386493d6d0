"""Printed pages as one HTML page: each an inline SVG of the paper's size, sharp at any size, with text to search.

The page loads nothing and runs nothing, and says so itself (W3C, "Content Security Policy Level 3").
"""

from __future__ import annotations

import html
from collections.abc import Iterable, Sequence

from companion.draft.colours import print_colour
from companion.record.ink import Boxes, InkMark, InkPage, Letters, Rules
from companion.record.letter_widths import text_width

_STYLE = """
@page { size: %s; margin: 0; }
body { margin: 0; background: #777; }
svg { display: block; margin: 12px auto; background: #fff; max-width: 100%%; height: auto; break-after: page; }
svg:last-child { break-after: auto; }
text { font-family: Helvetica, Arial, "Liberation Sans", "DejaVu Sans", sans-serif; fill: #000; white-space: pre; }
@media print { body { background: #fff; } svg { margin: 0; } }
"""


def html_of(title: str, pages: Sequence[InkPage]) -> str:
    """Return the pages, all of one size, as a complete HTML page; title and texts may hold anything."""
    size = f"{pages[0].width:g}pt {pages[0].height:g}pt" if pages else "auto"
    body = "\n".join(_page(page) for page in pages)
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta http-equiv="Content-Security-Policy" '
        "content=\"default-src 'none'; style-src 'unsafe-inline'\">\n"
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{_text(title)}</title>\n<style>{_STYLE % size}</style>\n</head>\n<body>\n{body}\n</body>\n</html>\n"
    )


def svg_of(width: float, height: float, marks: Iterable[InkMark], label: str) -> str:
    """Return marks as an SVG of so many points, to stand in another page."""
    return (
        f'<svg role="img" aria-label="{_text(label)}" width="{width:g}pt" height="{height:g}pt" '
        f'viewBox="0 0 {width:g} {height:g}">{"".join(map(_mark, marks))}</svg>'
    )


def _page(page: InkPage) -> str:
    return (
        f'<svg width="{page.width:g}pt" height="{page.height:g}pt" viewBox="0 0 {page.width:g} {page.height:g}">'
        f"{''.join(map(_mark, page.marks))}</svg>"
    )


def _mark(mark: InkMark) -> str:
    match mark:
        case Boxes(places, colour, line):
            path = "".join(f"M{_n(x)} {_n(y)}h{_n(across)}v{_n(down)}h{_n(-across)}z" for x, y, across, down in places)
            fill = f'fill="none" stroke="{print_colour(colour)}" stroke-width="{_n(line)}"'
            return f'<path d="{path}" {fill if line else f"""fill="{print_colour(colour)}" """.rstrip()}/>'
        case Rules(places, width, colour):
            path = "".join(f"M{_n(x)} {_n(y)}L{_n(to_x)} {_n(to_y)}" for x, y, to_x, to_y in places)
            return f'<path d="{path}" stroke="{print_colour(colour)}" stroke-width="{_n(width)}" fill="none"/>'
        case Letters():
            return _letters(mark)


def _letters(mark: Letters) -> str:
    if not mark.text:
        return ""
    weight = ' font-weight="bold"' if mark.bold else ""
    turn = f' transform="rotate(-90 {_n(mark.x)} {_n(mark.y)})"' if mark.turned else ""
    # Said, so that another sans-serif takes no more room than there is.
    length = _n(text_width(mark.text, mark.size, mark.bold))
    return (
        f'<text x="{_n(mark.x)}" y="{_n(mark.y)}" font-size="{_n(mark.size)}" text-anchor="{mark.anchor.value}"'
        f'{weight}{turn} textLength="{length}" lengthAdjust="spacingAndGlyphs">{_text(mark.text)}</text>'
    )


def _n(number: float) -> str:
    return f"{number:.2f}".rstrip("0").rstrip(".") or "0"


def _text(text: str) -> str:
    return html.escape(text, quote=True)
