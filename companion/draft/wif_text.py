"""A Weaving Information File as text: bytes to sections of numbered lines, before anything is understood.

Source: R. Nielsen (ed.), *Weaving Information File (WIF) Specification, Version 1.1*, 20 April 1997. The form is that
of a Windows .INI file. Case, order, line ends, encoding and blank space are taken as they come: there files differ.
"""

from __future__ import annotations

import codecs
import re
import unicodedata
from dataclasses import dataclass, field

from companion.draft.deviations import Tolerated
from companion.draft.errors import DraftError, SourceLocation

_LINE_ENDS = re.compile("\r\n|\r|\n")
_WIDE_MARKS = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


@dataclass(frozen=True, slots=True)
class KeyValueLine:
    """One `key=value` line; key and value as written, without the blanks around them."""

    key: str
    value: str
    section: str
    line: int

    @property
    def place(self) -> SourceLocation:
        """Where the line stands."""
        return SourceLocation(section=self.section, key=_short(self.key), line=self.line)


@dataclass(slots=True)
class RawSection:
    """One section as it stands: its name as written, its lines, and those of them that are `key=value`."""

    name: str
    place: SourceLocation
    lines: list[str] = field(default_factory=list)
    entries: list[KeyValueLine] = field(default_factory=list)


def canonical(name: str) -> str:
    """Return a section name or key as it is compared: `canonical(" Rising  shed ")` is `"RISING SHED"`."""
    return " ".join(name.upper().split())


def one_line(text: str) -> str:
    """Return a text as one line of a file can hold it: control characters become blanks, none at the ends."""
    kept = (" " if unicodedata.category(letter) in ("Cc", "Cs", "Zl", "Zp") else letter for letter in text)
    return "".join(kept).strip()


def quoted(text: str) -> str:
    """Return a piece of a file short enough to be part of one line of complaint."""
    return repr(text if len(text) <= 40 else text[:37] + "...")


def decode(data: bytes, tolerated: Tolerated) -> str:
    """Return the text of a file in UTF-8, UTF-16 with a byte-order mark, or else Latin-1; raises DraftError."""
    if data.startswith(_WIDE_MARKS):
        tolerated.note("the file is UTF-16; the standard asks for plain text")
        try:
            return data.decode("utf-16")
        except UnicodeDecodeError as error:
            raise DraftError("the file starts as UTF-16 text but is not", mend="save it as plain text") from error
    if data.startswith(codecs.BOM_UTF8):
        tolerated.note("the file starts with a byte-order mark")
        data = data.removeprefix(codecs.BOM_UTF8)
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        tolerated.note("the file is not UTF-8; read as Latin-1")
        return data.decode("latin-1")


def sections_in(text: str, tolerated: Tolerated) -> list[RawSection]:
    """Return the sections in file order; raises DraftError at a section head without its closing bracket."""
    sections: list[RawSection] = []
    for number, line in enumerate(_LINE_ENDS.split(text), 1):
        stripped = line.strip()
        if stripped.startswith("["):
            sections.append(_head(stripped, number, tolerated))
        elif sections:
            _take(sections[-1], line, number)
        elif stripped and not stripped.startswith(";"):
            tolerated.note("text before the first section is passed over", SourceLocation(line=number))
    return sections


def _head(line: str, number: int, tolerated: Tolerated) -> RawSection:
    name, bracket, rest = line[1:].partition("]")
    place = SourceLocation(section=_short(name.strip()), line=number)
    if not bracket:
        raise DraftError("a section name without its closing bracket", place=place, mend="write ] after the name")
    if rest.strip() and not rest.lstrip().startswith(";"):
        tolerated.note("text after a section name is passed over", place)
    return RawSection(name.strip(), place)


def _take(section: RawSection, line: str, number: int) -> None:
    section.lines.append(line)
    stripped = line.strip()
    if stripped and not stripped.startswith(";"):
        key, equals, value = stripped.partition("=")
        key = key.rstrip() if equals else ""
        section.entries.append(KeyValueLine(key, value.lstrip() if equals else stripped, section.place.section, number))


def _short(name: str) -> str:
    return name if len(name) <= 60 else name[:57] + "..."
