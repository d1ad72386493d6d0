"""What stands at the foot of a question: its own answers there, what turns the pages, and what ends the row."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from companion.present.asking import Answer, Asked
from companion.present.button_words import EARLIER, MORE
from companion.present.paging import Page
from companion.screens.widgets.foot_row import FootKey


def foot_keys(
    asked: Asked[Any],
    page: Page[Answer[Any]],
    key: Callable[[Answer[Any]], FootKey | None],
    turn: Callable[[int], None],
) -> tuple[list[FootKey | None], FootKey | None]:
    """Return the keys between the ways back and the end of the row, None for a place that is kept, and the last one.

    `key` makes the key of an answer, None of one without words; `turn` shows a page so many further on or back.
    """
    given = _answers(asked, page)
    # What stands last and is main, or may be so later on, ends the row.
    done = given[-1] if given and (given[-1].main or (asked.pad and not given[-1].words)) else None
    others = [key(answer) for answer in given if answer is not done]
    last = None if done is None else key(done)
    turning: list[FootKey | None] = []
    if page.of > 2:
        turning.append(FootKey(EARLIER, lambda: turn(-1)))
    if page.of > 1:
        more = FootKey(MORE, lambda: turn(1))
        if done is None and not asked.bit_by_bit:
            # Whoever pages on leaves the finger where it is: where nothing is done with the page, this ends the row.
            last = more
        else:
            turning.append(more)
    if turning:
        # They stand where a slot is empty, or behind what may come and go: what is before them keeps its place.
        free = len(others) if asked.bit_by_bit else others.index(None) if None in others else 0
        others = [*others[:free], *turning, *(other for other in others[free:] if other is not None)]
    return others, last


def _answers(asked: Asked[Any], page: Page[Answer[Any]]) -> tuple[Answer[Any], ...]:
    main = asked.main
    if main is None or asked.as_list or page.of == 1 or main in asked.foot:
        return tuple(asked.foot)
    # What most weavers answer stays within reach, whatever page is shown.
    return (*asked.foot, main)
