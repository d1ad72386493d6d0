"""The buttons of the draft screen as values: their words, and the desk that each of them leads to.

One row of buttons stands at a time: to look at the draft, to change a part of it, to do something with a marked
stretch, or to answer the one question that this takes. What undoes is the second button wherever there is one, and what
leads back is the last.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum

from companion.draft.model import Colour, Draft
from companion.draft.stretches import Stretch, number_of, of_yarn, repeated, taken_out, turned, with_empty
from companion.present import draft_words as words
from companion.present.draft_desk import (
    Desk,
    Question,
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
from companion.present.draft_sheet import Part

TIMES = (2, 3, 4, 5, 6, 10)
"""How often a stretch can be had by one touch; 8 times is 2 times 4."""
YARNS_IN_A_ROW = 5


class Way(Enum):
    """Where a button leads that leads away from the desk."""

    LEAVE = "leave"
    WEAVE = "weave"


@dataclass(frozen=True, slots=True)
class Key:
    """One button: its words and what it leads to.

    `lit`: what it says is on; `main`: most weavers go this way; `yarn` is the colour of the yarn that it stands for.
    """

    words: str
    leads_to: Callable[[], Desk | Way]
    possible: bool = True
    lit: bool = False
    main: bool = False
    yarn: Colour | None = None


def keys(desk: Desk) -> tuple[Key, ...]:
    """Return the row of buttons, from left to right."""
    if desk.part is None:
        return _to_look(desk)
    if desk.stretch is None:
        return _to_change(desk, desk.part)
    match desk.question:
        case Question.TIMES:
            return _times(desk, desk.stretch)
        case Question.INSERT:
            return _insert(desk, desk.stretch)
        case Question.PLACE:
            return _place(desk, desk.stretch)
        case Question.YARN:
            return _yarns(desk, desk.stretch)
        case None:
            return _with_stretch(desk, desk.stretch)


def _to_look(desk: Desk) -> tuple[Key, ...]:
    floats = desk.floats_over
    return (
        Key(words.LEAVE, lambda: Way.LEAVE),
        _undo(desk),
        _redo(desk),
        _turn_over(desk),
        Key(words.floats_words(floats), lambda: with_other_floats(desk), lit=floats is not None),
        Key(words.WEAVE, lambda: Way.WEAVE, main=True),
        Key(words.EDIT, lambda: changing(desk)),
    )


def _to_change(desk: Desk, part: Part) -> tuple[Key, ...]:
    def choose(other: Part) -> Key:
        name, there = words.part_words(other, desk.draft), can_be_changed(other, desk.draft)
        return Key(name, lambda: changing(desk, other), possible=there, lit=other is part)

    done = Key(words.DONE, lambda: looking(desk), main=True)
    return _turn_over(desk), _undo(desk), _redo(desk), *map(choose, Part), done


def _with_stretch(desk: Desk, stretch: Stretch) -> tuple[Key, ...]:
    def ask(name: str, question: Question, possible: bool = True) -> Key:
        return Key(name, lambda: asking(desk, question), possible)

    return (
        Key(words.REVERSE, lambda: edited(desk, lambda draft: turned(draft, stretch), stretch), stretch.number > 1),
        _undo(desk),
        ask(words.REPEAT, Question.TIMES),
        ask(words.INSERT, Question.INSERT),
        ask(words.YARN, Question.YARN, possible=len(desk.draft.yarns) > 1),
        Key(words.DELETE, lambda: edited(desk, lambda draft: taken_out(draft, stretch), None)),
        Key(words.UNMARK, lambda: unmarked(desk)),
    )


def _times(desk: Desk, stretch: Stretch) -> tuple[Key, ...]:
    def repeat(times: int) -> Key:
        longer = replace(stretch, last=stretch.first + times * stretch.number)
        return Key(
            words.times_words(times), lambda: edited(desk, lambda draft: repeated(draft, stretch, times), longer)
        )

    return *map(repeat, TIMES), _cancel(desk)


def _insert(desk: Desk, stretch: Stretch) -> tuple[Key, ...]:
    def empty(name: str, at: int, like: int) -> Key:
        def put_in(draft: Draft) -> Draft:
            return with_empty(draft, stretch.threads, at, like)

        return Key(name, lambda: edited(desk, put_in, Stretch(stretch.threads, at, at + 1)))

    return (
        empty(words.EMPTY_BEFORE, stretch.first, stretch.first),
        empty(words.EMPTY_AFTER, stretch.last, stretch.last - 1),
        Key(words.COPY, lambda: asking(desk, Question.PLACE)),
        _cancel(desk),
    )


def _place(desk: Desk, stretch: Stretch) -> tuple[Key, ...]:
    end = number_of(stretch.threads, desk.draft)
    return Key(words.AT_THE_END, lambda: with_copy(desk, stretch, end)), _cancel(desk)


def _yarns(desk: Desk, stretch: Stretch) -> tuple[Key, ...]:
    def paint(yarn: int) -> Key:
        name, colour = words.yarn_words(desk.draft, yarn), desk.draft.yarns[yarn].colour
        return Key(name, lambda: edited(desk, lambda draft: of_yarn(draft, stretch, yarn), stretch), yarn=colour)

    number = len(desk.draft.yarns)
    if number <= YARNS_IN_A_ROW + 1:
        return *map(paint, range(number)), _cancel(desk)
    shown = range(number)[desk.first_yarn : desk.first_yarn + YARNS_IN_A_ROW]
    more = Key(words.MORE_YARNS, lambda: replace(desk, first_yarn=shown.stop % number))
    return *map(paint, shown), more, _cancel(desk)


def _turn_over(desk: Desk) -> Key:
    return Key(words.surface_words(desk.surface), lambda: turned_over(desk))


def _undo(desk: Desk) -> Key:
    return Key(words.UNDO, lambda: undone(desk), possible=bool(desk.history.past))


def _redo(desk: Desk) -> Key:
    return Key(words.REDO, lambda: redone(desk), possible=bool(desk.history.future))


def _cancel(desk: Desk) -> Key:
    return Key(words.CANCEL, lambda: asking(desk, None))
