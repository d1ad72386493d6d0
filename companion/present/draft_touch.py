"""What a touch on a square of the draft changes."""

from __future__ import annotations

from companion.draft.edits import set_lift, set_thread, set_tie, set_treadles, set_warp, set_weft
from companion.draft.masks import is_raised, treadle_set, treadles_of, with_shaft
from companion.draft.model import Draft, Lifted
from companion.present.draft_sheet import DraftSheet, Quarter, Square

SMALLEST_TO_TOUCH = 8
"""Squares of fewer pixels are not edited: a finger could not say which is meant, even by sliding."""


def can_edit(sheet: DraftSheet) -> bool:
    """Tell whether the squares are large enough for a finger that slides to the one it means."""
    return sheet.cell >= SMALLEST_TO_TOUCH


def can_change(square: Square, draft: Draft) -> bool:
    """Tell whether a touch there changes the draft: the cloth follows from the rest, and one yarn leaves no choice."""
    match square.quarter:
        case Quarter.WARP_COLOURS | Quarter.WEFT_COLOURS:
            return len(draft.yarns) > 1
        case Quarter.THREADING | Quarter.TIE_UP | Quarter.TREADLING:
            return True
        case _:
            return False


def is_number(square: Square) -> bool:
    """Tell whether the square holds the number of a thread, touched to mark it."""
    return square.quarter in (Quarter.END_NUMBERS, Quarter.PICK_NUMBERS)


def changed(draft: Draft, square: Square) -> Draft:
    """Return the draft with this square changed: a mark set or taken away, or a thread of the next yarn.

    An end has one shaft at most: it moves to the one touched, and off it when it is there already.
    """
    column, row = square.column, square.row
    lifting = draft.lifting
    match square.quarter:
        case Quarter.THREADING:
            return set_thread(draft, column, None if draft.threading[column] == row else row)
        case Quarter.WARP_COLOURS:
            return set_warp(draft, column, (draft.warp[column] + 1) % len(draft.yarns))
        case Quarter.WEFT_COLOURS:
            return set_weft(draft, row, (draft.weft[row] + 1) % len(draft.yarns))
        case Quarter.TREADLING:
            return _moved(draft, row, column)
        case Quarter.TIE_UP if not isinstance(lifting, Lifted):
            return set_tie(draft, column, row, not is_raised(lifting.tieup[column], row))
        case _:
            return draft


def _moved(draft: Draft, pick: int, column: int) -> Draft:
    lifting = draft.lifting
    if isinstance(lifting, Lifted):
        lift = lifting.plan[pick]
        return set_lift(draft, pick, with_shaft(lift, column, not is_raised(lift, column)))
    pressed = set(treadles_of(lifting.treadling[pick])) ^ {column + 1}
    return set_treadles(draft, pick, treadle_set(pressed))
