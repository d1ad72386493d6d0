"""Printed pages as a PDF document (ISO 32000-1): a writer for what `ink` knows, and nothing else.

Text is set in the fonts that every reader has (9.6.2.2, "Standard Type 1 Fonts"), encoded as Windows code page 1252
(annex D, WinAnsiEncoding), and can be searched. Letters beyond it are written as their base letter, or as `?`;
`letters_missing` tells them, so that nobody is surprised.
"""

from __future__ import annotations

import unicodedata
import zlib
from collections.abc import Iterable, Iterator, Sequence

from companion.draft.model import Colour
from companion.record.ink import Anchor, Boxes, InkMark, InkPage, Letters, Rules
from companion.record.letter_widths import text_width

_HEAD = b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n"
"""The version, and a line of bytes above 127 that marks the file as binary (7.5.2)."""
_FONTS = (b"Helvetica", b"Helvetica-Bold")
_ENCODING = "cp1252"
_MOVE_TO, _LINE_TO = "m", "l"
"""Operators that begin and go on with a path (8.5.2)."""


def pdf_of(title: str, pages: Sequence[InkPage]) -> bytes:
    """Return the pages as a PDF document of this title."""
    # Objects 1 and 2 are the catalogue and the tree of pages, 3 and 4 the fonts, 5 the title; then two to a page.
    first = 6
    kids = b" ".join(b"%d 0 R" % (first + 2 * index) for index in range(len(pages)))
    objects = [
        b"<< /Type /Catalog /Pages 2 0 R >>",
        b"<< /Type /Pages /Kids [%b] /Count %d >>" % (kids, len(pages)),
        *(b"<< /Type /Font /Subtype /Type1 /BaseFont /%b /Encoding /WinAnsiEncoding >>" % name for name in _FONTS),
        b"<< /Title <%b> /Producer (Fellside) >>" % ("\ufeff" + title).encode("utf-16-be").hex().encode(),
    ]
    for index, page in enumerate(pages):
        drawn = zlib.compress("\n".join(_drawn(page)).encode(_ENCODING), 9)
        objects.append(
            b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 %b %b] /Contents %d 0 R "
            b"/Resources << /Font << /F0 3 0 R /F1 4 0 R >> >> >>"
            % (_n(page.width).encode(), _n(page.height).encode(), first + 2 * index + 1)
        )
        objects.append(b"<< /Length %d /Filter /FlateDecode >>\nstream\n%b\nendstream" % (len(drawn), drawn))
    return _document(objects)


def letters_missing(pages: Iterable[InkPage]) -> str:
    """Return the letters of the pages that the PDF's fonts have no shape for, each once."""
    texts = (mark.text for page in pages for mark in page.marks if isinstance(mark, Letters))
    return "".join(dict.fromkeys(letter for text in texts for letter in text if not _has_shape(letter)))


def _document(objects: Sequence[bytes]) -> bytes:
    written = bytearray(_HEAD)
    places = []
    for number, body in enumerate(objects, 1):
        places.append(len(written))
        written += b"%d 0 obj\n%b\nendobj\n" % (number, body)
    table = len(written)
    written += b"xref\n0 %d\n0000000000 65535 f \n" % (len(objects) + 1)
    written += b"".join(b"%010d 00000 n \n" % place for place in places)
    written += b"trailer\n<< /Size %d /Root 1 0 R /Info 5 0 R >>\nstartxref\n%d\n%%%%EOF\n" % (len(objects) + 1, table)
    return bytes(written)


def _drawn(page: InkPage) -> Iterator[str]:
    for mark in page.marks:
        yield from _mark(mark, page.height)


def _mark(mark: InkMark, height: float) -> Iterator[str]:
    match mark:
        case Boxes(places, colour, line):
            yield f"{_colour(colour)} {'RG' if line else 'rg'}" + (f" {_n(line)} w" if line else "")
            yield " ".join(
                f"{_n(x)} {_n(height - y - down)} {_n(across)} {_n(down)} re" for x, y, across, down in places
            )
            yield "S" if line else "f"
        case Rules(places, width, colour):
            yield f"{_colour(colour)} RG {_n(width)} w"
            yield " ".join(
                f"{_n(x)} {_n(height - y)} {_MOVE_TO} {_n(to_x)} {_n(height - to_y)} {_LINE_TO}"
                for x, y, to_x, to_y in places
            )
            yield "S"
        case Letters():
            yield from _letters(mark, height)


def _letters(mark: Letters, height: float) -> Iterator[str]:
    if not mark.text:
        return
    share = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}[mark.anchor]
    back = share * text_width(mark.text, mark.size, mark.bold)
    x, y = (mark.x, height - mark.y - back) if mark.turned else (mark.x - back, height - mark.y)
    turn = "0 1 -1 0" if mark.turned else "1 0 0 1"
    yield f"0 0 0 rg BT /F{int(mark.bold)} {_n(mark.size)} Tf {turn} {_n(x)} {_n(y)} Tm ({_escaped(mark.text)}) Tj ET"


def _escaped(text: str) -> str:
    return "".join(f"\\{shown}" if shown in "\\()" else shown for letter in text for shown in _shown(letter))


def _shown(letter: str) -> str:
    if _has_shape(letter):
        return letter
    base = unicodedata.normalize("NFKD", letter)[0]
    return base if _has_shape(base) else "?"


def _has_shape(letter: str) -> bool:
    try:
        return letter.isprintable() and bool(letter.encode(_ENCODING))
    except UnicodeEncodeError:
        return False


def _colour(colour: Colour) -> str:
    return " ".join(_n(part / 255) for part in colour)


def _n(number: float) -> str:
    return f"{number:.3f}".rstrip("0").rstrip(".") or "0"
