"""The flow of a sheet for somebody else: the teacher's own words and the finishing, paragraph by paragraph."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

from companion.present.asking import Answer, Answered, Asked, AskedToWrite
from companion.weaving.sheet_words import MOST_PARAGRAPHS, SheetWords

ITS_SHEET = "Its sheet"
SAVE_SHEET = "Save the sheet"
ADD_WORDS, ADD_FINISHING = "Add words", "Add finishing"
ANEW, TAKE_AWAY = "Write it again", "Take it away"
WORDS_KEPT = "Kept, for every sheet of it"
_WORDS, _FINISHING = "your words", "finishing"


@dataclass(frozen=True, slots=True)
class KeepWords:
    """Keep these words for the sheet."""

    words: SheetWords


@dataclass(frozen=True, slots=True)
class SaveSheet:
    """Write the sheet."""


SheetDeed = KeepWords | SaveSheet


def ask_sheet(title: str, words: SheetWords, done: str = "") -> Asked[SheetDeed]:
    """Ask what is to be said on the sheet of a warp or draft; `done` says what was done last."""
    rows: list[Answer[SheetDeed]] = [
        Answer(paragraph, partial(_ask_paragraph, words, kind, number), detail=kind, own=True)
        for kind in (_WORDS, _FINISHING)
        for number, paragraph in enumerate(_said(words, kind))
    ]
    more: list[Answer[SheetDeed]] = [
        Answer(button, partial(_write, words, kind, None))
        for kind, button in ((_WORDS, ADD_WORDS), (_FINISHING, ADD_FINISHING))
        if len(_said(words, kind)) < MOST_PARAGRAPHS
    ]
    save: Answer[SheetDeed] = Answer(SAVE_SHEET, lambda: Answered(SaveSheet()), main=True)
    hint = "Touch a paragraph to change it" if rows else "Nothing of your own is on it yet"
    return Asked(
        title,
        tuple(rows),
        detail=done or hint,
        foot=(*more, save),
        as_list=True,
        own=(title, *words.words, *words.finishing),
        topic="Its sheet",
    )


def _said(words: SheetWords, kind: str) -> tuple[str, ...]:
    return words.words if kind == _WORDS else words.finishing


def _with(words: SheetWords, kind: str, paragraphs: tuple[str, ...]) -> SheetWords:
    return replace(words, words=paragraphs) if kind == _WORDS else replace(words, finishing=paragraphs)


def _ask_paragraph(words: SheetWords, kind: str, number: int) -> Asked[SheetDeed]:
    said = _said(words, kind)
    left = _with(words, kind, said[:number] + said[number + 1 :])
    away: Answer[SheetDeed] = Answer(TAKE_AWAY, lambda: Answered(KeepWords(left)))
    anew: Answer[SheetDeed] = Answer(ANEW, partial(_write, words, kind, number))
    return Asked(kind.capitalize(), (anew, away), lines=(said[number],), own=(said[number],))


def _write(words: SheetWords, kind: str, number: int | None) -> AskedToWrite[SheetDeed]:
    said = _said(words, kind)
    place = len(said) if number is None else number

    def then(paragraph: str) -> Answered[SheetDeed]:
        return Answered(KeepWords(_with(words, kind, (*said[:place], paragraph, *said[place + 1 :]))))

    asks = "Words of your own for the sheet" if kind == _WORDS else "How the cloth is finished"
    return AskedToWrite(asks, then, "" if number is None else said[number])
