"""What the draft screen is at: which part of the draft is changed, what is marked, and which question stands.

`Desk` is a value, and whatever the weaver does leads to another one. The buttons follow from it (`draft_keys`).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum

from companion.draft.cloth import Surface
from companion.draft.edits import EditHistory
from companion.draft.errors import DraftError
from companion.draft.facts import floats_of
from companion.draft.floats import Threads
from companion.draft.model import Draft, Lifted
from companion.draft.stretches import Stretch, between, copied, number_of
from companion.present import draft_words as words
from companion.present.draft_sheet import DraftPart, Quarter, Square
from companion.present.draft_touch import changed, is_number
from companion.present.edit_words import edit_words

FLOATS_OVER = (None, 3, 5, 7)
"""What the floats button goes through: no floats marked, then those longer than so many threads."""


class DeskQuestion(Enum):
    """What is asked about the marked stretch before something is done with it."""

    TIMES = "how often"
    INSERT = "what to put in"
    PLACE = "where to put the copy"
    YARN = "which yarn"


@dataclass(frozen=True, slots=True)
class Desk:
    """A draft and what is done with it; `part` is None while it is only looked at.

    `goes_on`: only the first thread of `stretch` was touched, and the next number ends it. `before` is what was marked
    before the last edit, to be marked again when that is undone. `line` is to be read until something moves.
    """

    history: EditHistory
    surface: Surface = Surface.FACE
    floats_over: int | None = None
    part: DraftPart | None = None
    stretch: Stretch | None = None
    goes_on: bool = False
    question: DeskQuestion | None = None
    first_yarn: int = 0
    before: Stretch | None = None
    line: str = ""

    @property
    def draft(self) -> Draft:
        """The draft as it is now."""
        return self.history.now

    @property
    def undo_words(self) -> str:
        """What one undo would take back: `Undo: end 12 on shaft 3`; nothing where there is nothing to undo."""
        past = self.history.past
        return f"{words.UNDO}: {edit_words(past[-1], self.draft)}" if past else ""

    @property
    def standing_line(self) -> str:
        """What is to be read as long as a stretch is marked or a question stands; else nothing."""
        if self.stretch is None:
            return ""
        match self.question:
            case DeskQuestion.TIMES:
                return words.times_question(self.stretch)
            case DeskQuestion.INSERT:
                return words.insert_question(self.stretch)
            case DeskQuestion.PLACE:
                return words.place_question(self.stretch)
            case DeskQuestion.YARN:
                return words.yarn_question(self.stretch)
            case None:
                return words.marked_words(self.stretch, self.goes_on)


def begun(draft: Draft) -> Desk:
    """Return the desk with a draft on it to look at."""
    return Desk(EditHistory(draft))


def touched(desk: Desk, square: Square) -> Desk:
    """Return the desk after a touch on a square: a number marks, or says where a copy goes; other squares change."""
    if not is_number(square):
        return edited(desk, lambda draft: changed(draft, square), desk.stretch)
    ends = square.quarter is Quarter.END_NUMBERS
    threads, thread = (Threads.WARP, square.column) if ends else (Threads.WEFT, square.row)
    marked = desk.stretch
    if marked is not None and desk.question is DeskQuestion.PLACE:
        return with_copy(desk, marked, thread)
    if marked is None or not desk.goes_on:
        return _marking(desk, Stretch(threads, thread, thread + 1), goes_on=True)
    if thread == marked.first:
        return unmarked(desk)
    return _marking(desk, between(threads, marked.first, thread), goes_on=False)


def moved_on(desk: Desk) -> Desk:
    """Return the desk when the draft was moved under the eyes: what was said once need not be read any longer."""
    return replace(desk, line="") if desk.line else desk


def turned_over(desk: Desk) -> Desk:
    """Return the desk with the other side of the cloth to be seen."""
    return replace(desk, surface=Surface.BACK if desk.surface is Surface.FACE else Surface.FACE, line="")


def with_other_floats(desk: Desk) -> Desk:
    """Return the desk with only longer floats marked, or none after the longest, and how long they are to be read."""
    longer_than = FLOATS_OVER[(FLOATS_OVER.index(desk.floats_over) + 1) % len(FLOATS_OVER)]
    line = ""
    if longer_than is not None:
        line = words.longest_words(floats_of(desk.draft, places=0), desk.surface)
    return replace(desk, floats_over=longer_than, line=line)


def can_be_changed(part: DraftPart, draft: Draft) -> bool:
    """Tell whether the draft has this part; a lift plan has no tie-up."""
    return part is not DraftPart.TIE_UP or not isinstance(draft.lifting, Lifted)


def changing(desk: Desk, part: DraftPart | None = None) -> Desk:
    """Return the desk with this part to be changed, or the one where all quarters are seen."""
    if part is None:
        part = DraftPart.TIE_UP if can_be_changed(DraftPart.TIE_UP, desk.draft) else DraftPart.TREADLING
    return replace(desk, part=part, before=None, line=words.how_to_edit(part))


def looking(desk: Desk) -> Desk:
    """Return the desk with the draft only to be looked at again."""
    return replace(unmarked(desk), part=None)


def unmarked(desk: Desk) -> Desk:
    """Return the desk with nothing marked."""
    return replace(desk, stretch=None, goes_on=False, question=None, before=None, line="")


def asking(desk: Desk, question: DeskQuestion | None) -> Desk:
    """Return the desk with a question about what is marked, or none."""
    return replace(desk, question=question, goes_on=False, first_yarn=0, line="")


def edited(desk: Desk, edit: Callable[[Draft], Draft], stretch: Stretch | None) -> Desk:
    """Return the desk after an edit, with this stretch marked; as it was, and why to be read, where it cannot be."""
    try:
        history = desk.history.edited(edit(desk.draft))
    except DraftError as error:
        return replace(desk, question=None, line=str(error))
    return replace(_marking(desk, stretch, goes_on=False), history=history, before=desk.stretch)


def with_copy(desk: Desk, stretch: Stretch, before: int) -> Desk:
    """Return the desk with the stretch once more before this thread, or behind the last, and that copy marked."""
    copy = Stretch(stretch.threads, before, before + stretch.number)
    return edited(desk, lambda draft: copied(draft, stretch, before), copy)


def undone(desk: Desk) -> Desk:
    """Return the desk with the last edit taken back, and marked again what was marked then."""
    return _at(desk, desk.history.undo(), desk.before or desk.stretch)


def redone(desk: Desk) -> Desk:
    """Return the desk with the edit that was taken back last made again."""
    return _at(desk, desk.history.redo(), desk.stretch)


def _at(desk: Desk, history: EditHistory, stretch: Stretch | None) -> Desk:
    stays = stretch
    if stretch is not None and stretch is not desk.before:
        # Threads came or went: those marked may no longer be the ones that the weaver meant.
        number = number_of(stretch.threads, history.now)
        stays = stretch if number == number_of(stretch.threads, desk.draft) else None
    return replace(_marking(desk, stays, goes_on=False), history=history)


def _marking(desk: Desk, stretch: Stretch | None, goes_on: bool) -> Desk:
    return replace(desk, stretch=stretch, goes_on=goes_on, question=None, before=None, line="")
