"""The words of the person's own trade: the program writes British ones with shaft and fault, and puts others here.

The pairs are common practice, from memory, no source. Names and notes are the weaver's own words and stay as they are.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, fields, is_dataclass, replace
from enum import Enum
from functools import cache, partial
from typing import Any, TypeVar

from companion.draft.model import Draft
from companion.present.note import PHRASES
from companion.weaving.dressing_events import DressingMistake, ShedFoundWrong, ShedPutRight
from companion.weaving.events import Entry, FaultNoted, FaultSettled, NoteWritten
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

Said = TypeVar("Said")


@dataclass(frozen=True, slots=True)
class Trade:
    """Which words are said: American spelling or British; harness for shaft; mistake for fault."""

    american: bool = False
    harness: bool = False
    mistake: bool = False


AS_WRITTEN = Trade()
"""The words that the program is written in: nothing is put into others."""

_SPELLING = {
    "centre": "center",
    "centred": "centered",
    "colour": "color",
    "colours": "colors",
    "coloured": "colored",
    "countermarche": "countermarch",
    "fibre": "fiber",
    "fibres": "fibers",
    "metre": "meter",
    "metres": "meters",
    "neighbour": "neighbor",
    "neighbours": "neighbors",
    "neighbouring": "neighboring",
    "woollen": "woolen",
}
_HARNESS = {"shaft": "harness", "shafts": "harnesses"}
_MISTAKE = {"fault": "mistake", "faults": "mistakes"}


@cache
def _pairs(trade: Trade) -> dict[str, str]:
    chosen = ((trade.american, _SPELLING), (trade.harness, _HARNESS), (trade.mistake, _MISTAKE))
    return {word: other for wanted, pairs in chosen if wanted for word, other in pairs.items()}


@cache
def _word(trade: Trade) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{'|'.join(sorted(_pairs(trade), key=len, reverse=True))})\b", re.IGNORECASE)


_OWN = (("words", "own"), ("detail", "own_detail"))
"""What a value says in the weaver's own words, and what marks that it does."""
_QUOTED = re.compile(r"'[^']*'|\"[^\"]*\"")


def in_trade_words(said: Said, trade: Trade, own: Iterable[str] = ()) -> Said:
    """Return a line, or a value with all its lines, in the words of a trade: `harnesses up: 1 3`.

    `own` are words of the weaver's own that may stand in it; they and answers that are `own` stay as they are.
    """
    if trade == AS_WRITTEN:
        return said
    word = _word(trade)
    at_risk = sorted({words for words in own if word.search(words)}, key=len, reverse=True)
    kept = re.compile("|".join(map(re.escape, at_risk))) if at_risk else None
    put: Said = _put(said, trade, kept)
    return put


def own_words(warp: Warp, progress: Progress) -> tuple[str, ...]:
    """Return the names in a warp and the notes on it: what the weaver wrote and the screens may say."""
    names = [warp.name, warp.loom.name]
    for piece in warp.pieces:
        names += [piece.name, *(section.name for section in piece.sections), *names_in(piece.draft)]
    notes = [note.text for note in progress.now.notes if note.text not in PHRASES]
    notes += [fault.note for fault in progress.now.open_faults]
    return (*names, *notes, *(one.note for one in progress.now.dressing.waiting))


def names_in(draft: Draft) -> tuple[str, ...]:
    """Return the names in a draft that papers and screens may say."""
    yarns, blocks = (yarn.name for yarn in draft.yarns), (block.name for block in draft.blocks)
    return tuple(filter(None, (draft.title, draft.author, *yarns, *blocks, *(one.name for one in draft.sections))))


def words_written(entries: Iterable[Entry]) -> tuple[str, ...]:
    """Return what the weaver wrote in these entries: notes, and words about faults."""
    events = (entry.event for entry in entries)
    written = (
        event.text if isinstance(event, NoteWritten) else event.note
        for event in events
        if isinstance(event, NoteWritten | FaultNoted | FaultSettled | DressingMistake | ShedFoundWrong | ShedPutRight)
    )
    return tuple(words for words in written if words and words not in PHRASES)


def words_quoted(line: str) -> tuple[str, ...]:
    """Return what stands in quotation marks in a line, which are names: `("'Four shaft hem'",)`."""
    return tuple(_QUOTED.findall(line))


def _put(said: Any, trade: Trade, kept: re.Pattern[str] | None) -> Any:
    if isinstance(said, Enum):
        return said
    if isinstance(said, str):
        return _put_line(said, trade, kept)
    if isinstance(said, tuple) and type(said) is tuple:
        return tuple(_put(part, trade, kept) for part in said)
    if is_dataclass(said) and not isinstance(said, type):
        own = {words for words, mark in _OWN if getattr(said, mark, False) is True}
        changes = {
            field.name: _put(getattr(said, field.name), trade, kept) for field in fields(said) if field.name not in own
        }
        return replace(said, **changes)
    return said


def _put_line(line: str, trade: Trade, kept: re.Pattern[str] | None) -> str:
    word, other = _word(trade), partial(_other_word, _pairs(trade))
    if kept is None:
        return word.sub(other, line)
    parts, end = [], 0
    for found in kept.finditer(line):
        parts += [word.sub(other, line[end : found.start()]), found.group()]
        end = found.end()
    return "".join((*parts, word.sub(other, line[end:])))


def _other_word(pairs: dict[str, str], found: re.Match[str]) -> str:
    word = found.group()
    other = pairs[word.lower()]
    return other.capitalize() if word[0].isupper() else other
