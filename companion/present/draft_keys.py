"""The buttons of the draft screen as values: their words, and the desk that each of them leads to.

One row of buttons stands at a time: to look at the draft, to change a part of it, to do something with a marked
stretch, or to answer the one question that this takes. What leads one step back is the first
button, what undoes the second wherever there is one, and what ends the work at hand is the last.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum

from companion.draft.floats import Threads
from companion.draft.model import Colour, Draft
from companion.draft.stretches import Stretch, number_of, of_yarn, repeated, taken_out, turned, with_empty
from companion.present import draft_words as words
from companion.present.draft_desk import (
    Desk,
    DeskQuestion,
    asking,
    can_be_changed,
    changing,
    edited,
    looking,
    redone,
    turned_over,
    undone,
    unmarked,
    with_copy,
    with_other_floats,
)
from companion.present.draft_sheet import DraftPart

TIMES = (2, 3, 4, 5, 6, 10)
"""How often a stretch can be had by one touch; 8 times is 2 times 4."""
YARNS_IN_A_ROW = 5


class Way(Enum):
    """Where a button leads that leads away from the desk; SECTION to that of the marked picks."""

    LEAVE = "leave"
    WEAVE = "weave"
    PLAN = "plan"
    SECTION = "section"


@dataclass(frozen=True, slots=True)
class DeskKey:
    """One button: its words and what it leads to.

    `lit`: what it says is on; `main`: most weavers go this way; `yarn` is the colour of the yarn that it stands for.
    """

    words: str
    leads_to: Callable[[], Desk | Way]
    possible: bool = True
    lit: bool = False
    main: bool = False
    yarn: Colour | None = None


def keys(desk: Desk) -> tuple[DeskKey, ...]:
    """Return the row of buttons, from left to right."""
    if desk.part is None:
        return _to_look(desk)
    if desk.stretch is None:
        return _to_change(desk, desk.part)
    match desk.question:
        case DeskQuestion.TIMES:
            return _times(desk, desk.stretch)
        case DeskQuestion.INSERT:
            return _insert(desk, desk.stretch)
        case DeskQuestion.PLACE:
            return _place(desk, desk.stretch)
        case DeskQuestion.YARN:
            return _yarns(desk, desk.stretch)
        case None:
            return _with_stretch(desk, desk.stretch)


def _to_look(desk: Desk) -> tuple[DeskKey, ...]:
    floats = desk.floats_over
    return (
        DeskKey(words.BACK, lambda: Way.LEAVE),
        _undo(desk),
        _redo(desk),
        _turn_over(desk),
        DeskKey(words.floats_words(floats), lambda: with_other_floats(desk), lit=floats is not None),
        DeskKey(words.EDIT, lambda: changing(desk)),
        DeskKey(words.PLAN, lambda: Way.PLAN),
        DeskKey(words.WEAVE, lambda: Way.WEAVE, main=True),
    )


def _to_change(desk: Desk, part: DraftPart) -> tuple[DeskKey, ...]:
    def choose(other: DraftPart) -> DeskKey:
        name, there = words.part_words(other, desk.draft), can_be_changed(other, desk.draft)
        return DeskKey(name, lambda: changing(desk, other), possible=there, lit=other is part)

    done = DeskKey(words.DONE, lambda: looking(desk), main=True)
    return _turn_over(desk), _undo(desk), _redo(desk), *map(choose, DraftPart), done


def _with_stretch(desk: Desk, stretch: Stretch) -> tuple[DeskKey, ...]:
    def ask(name: str, question: DeskQuestion, possible: bool = True) -> DeskKey:
        return DeskKey(name, lambda: asking(desk, question), possible)

    return (
        DeskKey(words.BACK, lambda: unmarked(desk)),
        _undo(desk),
        DeskKey(words.REVERSE, lambda: edited(desk, lambda draft: turned(draft, stretch), stretch), stretch.number > 1),
        ask(words.REPEAT, DeskQuestion.TIMES),
        ask(words.INSERT, DeskQuestion.INSERT),
        ask(words.YARN, DeskQuestion.YARN, possible=len(desk.draft.yarns) > 1),
        *([DeskKey(words.SECTION, lambda: Way.SECTION)] if stretch.threads is Threads.WEFT else []),
        DeskKey(words.DELETE, lambda: edited(desk, lambda draft: taken_out(draft, stretch), None)),
    )


def _times(desk: Desk, stretch: Stretch) -> tuple[DeskKey, ...]:
    def repeat(times: int) -> DeskKey:
        longer = replace(stretch, last=stretch.first + times * stretch.number)
        return DeskKey(
            words.times_words(times), lambda: edited(desk, lambda draft: repeated(draft, stretch, times), longer)
        )

    return _back(desk), *map(repeat, TIMES)


def _insert(desk: Desk, stretch: Stretch) -> tuple[DeskKey, ...]:
    def empty(name: str, at: int, like: int) -> DeskKey:
        def put_in(draft: Draft) -> Draft:
            return with_empty(draft, stretch.threads, at, like)

        return DeskKey(name, lambda: edited(desk, put_in, Stretch(stretch.threads, at, at + 1)))

    return (
        _back(desk),
        empty(words.EMPTY_BEFORE, stretch.first, stretch.first),
        empty(words.EMPTY_AFTER, stretch.last, stretch.last - 1),
        DeskKey(words.COPY, lambda: asking(desk, DeskQuestion.PLACE)),
    )


def _place(desk: Desk, stretch: Stretch) -> tuple[DeskKey, ...]:
    end = number_of(stretch.threads, desk.draft)
    return _back(desk), DeskKey(words.AT_THE_END, lambda: with_copy(desk, stretch, end))


def _yarns(desk: Desk, stretch: Stretch) -> tuple[DeskKey, ...]:
    def paint(yarn: int) -> DeskKey:
        name, colour = words.yarn_words(desk.draft, yarn), desk.draft.yarns[yarn].colour
        return DeskKey(name, lambda: edited(desk, lambda draft: of_yarn(draft, stretch, yarn), stretch), yarn=colour)

    number = len(desk.draft.yarns)
    if number <= YARNS_IN_A_ROW + 1:
        return _back(desk), *map(paint, range(number))
    shown = range(number)[desk.first_yarn : desk.first_yarn + YARNS_IN_A_ROW]
    more = DeskKey(words.MORE_YARNS, lambda: replace(desk, first_yarn=shown.stop % number))
    return _back(desk), *map(paint, shown), more


def _turn_over(desk: Desk) -> DeskKey:
    return DeskKey(words.surface_words(desk.surface), lambda: turned_over(desk))


def _undo(desk: Desk) -> DeskKey:
    return DeskKey(words.UNDO, lambda: undone(desk), possible=bool(desk.history.past))


def _redo(desk: Desk) -> DeskKey:
    return DeskKey(words.REDO, lambda: redone(desk), possible=bool(desk.history.future))


def _back(desk: Desk) -> DeskKey:
    return DeskKey(words.BACK, lambda: asking(desk, None))
