"""The trade's words in Britain and in North America: the program writes British ones, and puts them here into others.

The pairs are common practice, from memory, no source. Names and notes are the weaver's own words and stay as they are.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import fields, is_dataclass, replace
from enum import Enum
from typing import Any, TypeVar

from companion.present.note import PHRASES
from companion.weaving.dressing_events import DressingMistake, ShedFoundWrong
from companion.weaving.events import Entry, FaultNoted, FaultSettled, NoteWritten
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

Said = TypeVar("Said")


class Trade(Enum):
    """Whose words the screens say."""

    BRITISH = "british"
    NORTH_AMERICAN = "north_american"


_PAIRS = {
    "shaft": "harness",
    "shafts": "harnesses",
    "colour": "color",
    "colours": "colors",
    "coloured": "colored",
    "countermarche": "countermarch",
    "metre": "meter",
    "metres": "meters",
}
_WORD = re.compile(rf"\b(?:{'|'.join(sorted(_PAIRS, key=len, reverse=True))})\b", re.IGNORECASE)

_QUOTED = re.compile(r"'[^']*'|\"[^\"]*\"")


def in_trade_words(said: Said, trade: Trade, own: Iterable[str] = ()) -> Said:
    """Return a line, or a value with all its lines, in the words of a trade: `harnesses up: 1 3`.

    `own` are words of the weaver's own that may stand in it; they and answers that are `own` stay as they are.
    """
    if trade is Trade.BRITISH:
        return said
    at_risk = sorted({words for words in own if _WORD.search(words)}, key=len, reverse=True)
    kept = re.compile("|".join(map(re.escape, at_risk))) if at_risk else None
    put: Said = _put(said, kept)
    return put


def own_words(warp: Warp, progress: Progress) -> tuple[str, ...]:
    """Return the names in a warp and the notes on it: what the weaver wrote and the screens may say."""
    names = [warp.name, warp.loom.name]
    for piece in warp.pieces:
        names += [piece.name, *(section.name for section in piece.sections), *(one.name for one in piece.draft.yarns)]
    notes = [note.text for note in progress.now.notes if note.text not in PHRASES]
    return (*names, *notes, *(fault.note for fault in progress.now.open_faults))


def words_written(entries: Iterable[Entry]) -> tuple[str, ...]:
    """Return what the weaver wrote in these entries: notes, and words about faults."""
    events = (entry.event for entry in entries)
    written = (
        event.text if isinstance(event, NoteWritten) else event.note
        for event in events
        if isinstance(event, NoteWritten | FaultNoted | FaultSettled | DressingMistake | ShedFoundWrong)
    )
    return tuple(words for words in written if words and words not in PHRASES)


def words_quoted(line: str) -> tuple[str, ...]:
    """Return what stands in quotation marks in a line, which are names: `("'Four shaft hem'",)`."""
    return tuple(_QUOTED.findall(line))


def _put(said: Any, kept: re.Pattern[str] | None) -> Any:
    if isinstance(said, Enum):
        return said
    if isinstance(said, str):
        return _put_line(said, kept)
    if isinstance(said, tuple) and type(said) is tuple:
        return tuple(_put(part, kept) for part in said)
    if is_dataclass(said) and not isinstance(said, type):
        own = getattr(said, "own", False) is True
        changes = {
            field.name: _put(getattr(said, field.name), kept)
            for field in fields(said)
            if not (own and field.name == "words")
        }
        return replace(said, **changes)
    return said


def _put_line(line: str, kept: re.Pattern[str] | None) -> str:
    if kept is None:
        return _WORD.sub(_other_word, line)
    parts, end = [], 0
    for found in kept.finditer(line):
        parts += [_WORD.sub(_other_word, line[end : found.start()]), found.group()]
        end = found.end()
    return "".join((*parts, _WORD.sub(_other_word, line[end:])))


def _other_word(found: re.Match[str]) -> str:
    word = found.group()
    other = _PAIRS[word.lower()]
    return other.capitalize() if word[0].isupper() else other
