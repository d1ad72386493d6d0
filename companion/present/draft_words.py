"""Every word on the draft screen, in one place."""

from __future__ import annotations

import re

from companion.draft.cloth import Surface
from companion.draft.floats import LongestFloats, Threads
from companion.draft.model import Draft, Lifted
from companion.draft.stretches import Stretch
from companion.present.draft_sheet import DraftPart, DraftSheet, Quarter, Shown, Square
from companion.present.wording import BETWEEN

BACK = "Back"
WEAVE = "Weave it"
PLAN = "Plan it"
UNDO = "Undo"
REDO = "Redo"
EDIT = "Edit"
DONE = "Done"
REPEAT = "Repeat"
REVERSE = "Reverse"
INSERT = "Put in"
YARN = "Yarn"
DELETE = "Delete"
SECTION = "Section"
EMPTY_BEFORE = "Empty before"
EMPTY_AFTER = "Empty after"
COPY = "A copy"
AT_THE_END = "At the end"
MORE_YARNS = "More"
TOUCH_A_SQUARE = "Touch a square, slide, lift"
TOO_SMALL = "The squares are too small to touch"

_TO, _OF = re.compile(r"(\d) to (\d)"), re.compile(r" of \d+")
_PART = {DraftPart.THREADING: "Threading", DraftPart.TIE_UP: "Tie-up", DraftPart.TREADLING: "Treadling"}
_THREAD = {Threads.WARP: "end", Threads.WEFT: "pick"}


def square_words(draft: Draft, square: Square) -> str:
    """Return what a square of the draft stands for: `end 12 on shaft 3`, or `pick 5 with indigo`."""
    column, row = square.column + 1, square.row + 1
    match square.quarter:
        case Quarter.THREADING:
            return f"end {column} on shaft {row}"
        case Quarter.TIE_UP:
            return f"treadle {column}, shaft {row}"
        case Quarter.TREADLING:
            return f"pick {row}, {_beside(draft)} {column}"
        case Quarter.CLOTH:
            return f"end {column}, pick {row}"
        case Quarter.WARP_COLOURS:
            return f"end {column} of {yarn_words(draft, draft.warp[square.column])}"
        case Quarter.WEFT_COLOURS:
            return f"pick {row} with {yarn_words(draft, draft.weft[square.row])}"
        case Quarter.END_NUMBERS:
            return f"end {column}"
        case Quarter.PICK_NUMBERS:
            return f"pick {row}"


def sheet_words(draft: Draft, sheet: DraftSheet) -> str:
    """Return which part of a draft is shown: `ends 1 to 38 of 40 · picks 1 to 20 of 304`."""
    threads = (("end", sheet.ends), ("pick", sheet.picks))
    parts = [_shown_words(what, shown) for what, shown in threads if shown.number or shown.whole]
    # Shafts and treadles are worth a word only where some are out of sight.
    for what, shown in (("shaft", sheet.shafts), (_beside(draft), sheet.treadles)):
        if not shown.whole:
            parts.append(_shown_words(what, shown))
    if not draft.rising:
        parts.append("ties sink")
    return BETWEEN.join(parts)


def line_wordings(line: str, undo: str = "", at_last: str = "") -> tuple[str, ...]:
    """Return ways to say a line of `sheet_words`, the fullest first: `ends 1–38 of 40`, then `ends 1–38`.

    With what `undo` would take back each has it behind it, and the shortest of all is what stays `at_last`.
    """
    brief = _TO.sub(r"\1–\2", line)
    wordings = line, brief, _OF.sub("", brief)
    return (*(f"{one}{BETWEEN}{undo}" for one in wordings if one), at_last) if undo else wordings


def surface_words(surface: Surface) -> str:
    """Return what turning the cloth over leads to: `See back`."""
    return "See back" if surface is Surface.FACE else "See face"


def floats_words(longer_than: int | None) -> str:
    """Return which floats are marked: `Floats > 3`, or only `Floats` where none are."""
    return "Floats" if longer_than is None else f"Floats > {longer_than}"


def longest_words(longest: tuple[LongestFloats, ...], surface: Surface) -> str:
    """Return how long floats get on one side of the cloth: `longest floats: warp 3, weft 5`."""
    parts = [f"{one.threads.value} {one.length}" for one in longest if one.surface is surface]
    return f"longest floats: {', '.join(parts)}"


def part_words(part: DraftPart, draft: Draft) -> str:
    """Return the name of a part: `Treadling`, or `Lift plan` where there is one instead."""
    return "Lift plan" if part is DraftPart.TREADLING and isinstance(draft.lifting, Lifted) else _PART[part]


def yarn_words(draft: Draft, yarn: int) -> str:
    """Return what a yarn (index) is called: `indigo`, or `yarn 2` where it has no name."""
    return draft.yarns[yarn].name or f"yarn {yarn + 1}"


def times_words(times: int) -> str:
    """Return how often a stretch is to be there: `3 times`."""
    return f"{times} times"


def how_to_edit(part: DraftPart) -> str:
    """Return what a finger does in a part: where there are numbers, they are touched to mark a stretch."""
    if part is DraftPart.TIE_UP:
        return TOUCH_A_SQUARE
    return "Touch a square, or a number"


def stretch_words(stretch: Stretch) -> str:
    """Return which threads a stretch has: `picks 5 to 8`, or `pick 5`."""
    thread = _THREAD[stretch.threads]
    if stretch.number == 1:
        return f"{thread} {stretch.first + 1}"
    return f"{thread}s {stretch.first + 1} to {stretch.last}"


def marked_words(stretch: Stretch, goes_on: bool) -> str:
    """Return what is marked; `goes_on`: the next number touched ends the stretch."""
    return f"{stretch_words(stretch)}{f'{BETWEEN}now touch the last one' if goes_on else ' marked'}"


def times_question(stretch: Stretch) -> str:
    """Return the question how often a stretch is to be there in all."""
    return f"{stretch_words(stretch)}: how often in all?"


def insert_question(stretch: Stretch) -> str:
    """Return the question what is to be put in."""
    return f"{stretch_words(stretch)}: put in what?"


def place_question(stretch: Stretch) -> str:
    """Return the question where a copy is to go."""
    return f"Touch the {_THREAD[stretch.threads]} it goes before"


def yarn_question(stretch: Stretch) -> str:
    """Return the question of which yarn a stretch is to be."""
    return f"{stretch_words(stretch)}: which yarn?"


def _beside(draft: Draft) -> str:
    return "shaft" if isinstance(draft.lifting, Lifted) else "treadle"


def _shown_words(what: str, shown: Shown) -> str:
    if shown.whole:
        return f"{shown.number} {what}s"
    return f"{what}s {shown.first + 1} to {shown.first + shown.number} of {shown.all}"
