"""The values of a Weaving Information File: whole numbers, measures, yes and no, lists, numbered tables.

Every number is bounded before it is used, so that no line, however mistaken, can ask for more than a loom has.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from companion.draft.deviations import Tolerated
from companion.draft.errors import DraftError, SourceLocation
from companion.draft.wif_text import KeyValueLine, quoted

_WHOLE = re.compile(r"\+?0*([0-9]{1,9})")
_MEASURE = re.compile(r"\+?[0-9]{0,400}(\.[0-9]{0,400})?([eE][+-]?[0-9]{1,3})?")
_WITH_COMMA = re.compile(r"\+?[0-9]{1,400},[0-9]{1,400}")
_YES = {"TRUE", "ON", "YES", "1"}
_NO = {"FALSE", "OFF", "NO", "0"}


def whole(text: str, place: SourceLocation, most: int) -> int:
    """Return a whole number from 0 to `most`: `"08"` is 8; raises DraftError."""
    match = _WHOLE.fullmatch(text)
    if match is None and re.fullmatch(r"\+?[0-9]+", text) is None:
        raise DraftError(f"{quoted(text)} is not a whole number", place=place, mend=f"write one from 0 to {most}")
    if match is None or int(match[1]) > most:
        raise DraftError(f"{quoted(text)} is more than this program takes", place=place, mend=f"at most {most}")
    return int(match[1])


def measure(text: str, place: SourceLocation, most: float, tolerated: Tolerated | None = None) -> float:
    """Return a number from 0 to `most`, decimal point allowed: `"2.5"` is 2.5; raises DraftError.

    Where the value is all that its line holds, a decimal comma is `tolerated`.
    """
    if tolerated is not None and _WITH_COMMA.fullmatch(text):
        tolerated.note("a decimal comma is read as a point", place)
        text = text.replace(",", ".")
    if not any(letter.isdigit() for letter in text) or _MEASURE.fullmatch(text) is None:
        raise DraftError(f"{quoted(text)} is not a number", place=place, mend="write digits and a decimal point")
    try:
        number = float(text)
    except ValueError as error:
        raise DraftError(f"{quoted(text)} is not a number", place=place, mend="write digits and a point") from error
    if number > most:
        raise DraftError(f"{quoted(text)} is more than this program takes", place=place, mend=f"at most {most:g}")
    return number


def yes_or_no(text: str, place: SourceLocation) -> bool:
    """Return the truth of true, on, yes, 1 or false, off, no, 0 in any case; raises DraftError."""
    word = text.upper()
    if word not in _YES | _NO:
        raise DraftError(f"{quoted(text)} is neither yes nor no", place=place, mend="write true or false")
    return word in _YES


def without_comment(value: str) -> str:
    """Return a value that holds numbers without a comment behind it: `"1,3 ; plain"` is `"1,3"`."""
    return value.partition(";")[0].rstrip()


def numbers(entry: KeyValueLine, most: int, tolerated: Tolerated) -> tuple[int, ...]:
    """Return a list of numbers as written, each once and without the zeros that stand for none; raises DraftError."""
    value = without_comment(entry.value)
    if not value:
        tolerated.note("a line without a value is read as none", entry.place)
        return ()
    parts = [part.strip() for part in value.split(",")]
    if "" in parts:
        tolerated.note("a comma too many is passed over", entry.place)
    place = entry.place
    found = (whole(part, place, most) for part in parts if part)
    return tuple(dict.fromkeys(number for number in found if number))


def numbered(
    entries: Iterable[KeyValueLine], most: int, what: str, tolerated: Tolerated, *, first: int = 1
) -> dict[int, KeyValueLine]:
    """Return a table by its number from `first`, 0 or 1; raises DraftError at a key that is none, or at a clash."""
    table: dict[int, KeyValueLine] = {}
    for entry in entries:
        number = _number_of(entry, most, what, first)
        if number in table:
            _same(table[number], entry, what, tolerated)
        else:
            table[number] = entry
    return table


def _number_of(entry: KeyValueLine, most: int, what: str, first: int) -> int:
    if not entry.key:
        raise DraftError(
            f"{quoted(entry.value)} is no line of this section", place=entry.place, mend=f"write {what} number=value"
        )
    try:
        number = whole(entry.key, entry.place, most)
    except DraftError as error:
        raise DraftError(
            f"the {what} number {error.what}", place=entry.place, mend=f"number the lines from 1 to at most {most}"
        ) from error
    if number < first:
        raise DraftError(f"there is no {what} 0", place=entry.place, mend="number the lines from 1")
    return number


def _same(first: KeyValueLine, again: KeyValueLine, what: str, tolerated: Tolerated) -> None:
    if without_comment(first.value) != without_comment(again.value):
        raise DraftError(
            f"this {what} stands twice, with {quoted(first.value)} in line {first.line}"
            f" and with {quoted(again.value)} here",
            place=again.place,
            mend="delete one of the two lines",
        )
    tolerated.note("a line stands twice", again.place)
