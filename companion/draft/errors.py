"""Every exception that the draft room raises."""

from __future__ import annotations

from dataclasses import dataclass

_SHOWN_BESIDE = 40
"""Letters of a line shown on either side of the place: a line may hold ten thousand picks."""


@dataclass(frozen=True, slots=True)
class SourceLocation:
    """Where in a file something stands: `section` and `key` as written, `line` and `column` from 1."""

    section: str = ""
    key: str = ""
    line: int | None = None
    column: int | None = None

    def __str__(self) -> str:
        parts = []
        if self.section:
            parts.append(f"[{self.section}]")
        if self.key:
            parts.append(f"key {self.key}")
        if self.line is not None:
            parts.append(f"line {self.line}")
        if self.column is not None:
            parts.append(f"column {self.column}")
        return ", ".join(parts)


class DraftError(ValueError):
    """A draft that cannot be read as cloth: says what is wrong, where, and how to mend it, in one line."""

    def __init__(self, what: str, *, place: SourceLocation | None = None, mend: str = "") -> None:
        self.what = what
        self.place = place or SourceLocation()
        self.mend = mend
        where = str(self.place)
        super().__init__(": ".join(part for part in (where, what) if part) + (f"; {mend}" if mend else ""))


class ShorthandError(DraftError):
    """A shorthand draft that cannot be read; `caret` is the line with a mark before the place: `threading: 1 ^5`."""

    def __init__(self, what: str, *, place: SourceLocation, source_line: str, mend: str = "") -> None:
        super().__init__(what, place=place, mend=mend)
        at = (place.column or 1) - 1
        before, after = source_line[max(at - _SHOWN_BESIDE, 0) : at], source_line[at : at + _SHOWN_BESIDE]
        self.caret = f"{'…' * (at > _SHOWN_BESIDE)}{before}^{after}{'…' * (len(source_line) > at + _SHOWN_BESIDE)}"
