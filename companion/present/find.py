"""The find flow: where the cloth truly ends, told at once or by questions, the likeliest places first.

The first page answers most cases in a touch or two: a few picks further or back than the journal has it, or the newest
row as it may look, to point at. What is asked after that is chosen by `weaving.narrowing`. Places that a shuttle speaks
against are shown last, not left out: a pick missed or woven twice turns the sides over.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import numpy as np
from numpy.typing import NDArray

from companion.draft.facing import Facing
from companion.draft.units import Units, numbered
from companion.present.asking import Answer, Asked, AtLoom, empty_slot
from companion.present.cloth_end import (
    MORE_OFF,
    NOT_SURE,
    ask_how_many,
    ask_sides,
    ask_to_count,
    end_at,
    few_picks_answers,
    foot_of_place,
    further_words,
)
from companion.present.fell import MOST_ROWS_DRAWN
from companion.present.find_questions import (
    NEWEST_ROW,
    NONE_OF_THESE,
    WHAT_FITS,
    ask_about,
    ask_repeat,
    foot_of,
    rows_to_touch,
)
from companion.present.place_search import PlaceSearch, begin_search
from companion.present.wording import BETWEEN
from companion.weaving.finder import rows_that_tell_place
from companion.weaving.narrowing import SHOWN_AT_ONCE, STEPS
from companion.weaving.progress import Progress
from companion.weaving.questions import Ask
from companion.weaving.sides import speak_against
from companion.weaving.warp import Warp

NO_PLACE = "The draft has no picks, so there is no place to find"


def ask_place(warp: Warp, progress: Progress, facing: Facing, units: Units) -> Asked[AtLoom]:
    """Ask where the cloth truly ends: a few picks further or back, how its newest row looks, or a number.

    The answer is about the cloth: what was woven or taken out meanwhile is told, in one event that one undo takes back.
    """
    if not warp.pieces[progress.now.piece].picks:
        return Asked(NO_PLACE, (), topic="Finding the place")
    search = begin_search(warp, progress, facing, units)
    rows = search.newest_rows()
    shown = rows_to_touch(search, rows, ask_on) if len(rows) > 1 else ()
    unsure: Answer[AtLoom] = Answer(NOT_SURE, partial(ask_on, search.not_sure_of(NEWEST_ROW)))
    none: Answer[AtLoom] = Answer(NONE_OF_THESE, partial(ask_on, search.saw_newest_like_none_of(rows[:SHOWN_AT_ONCE])))
    more: Answer[AtLoom] = Answer(MORE_OFF, partial(ask_how_many, warp, progress, unsure))
    section: Answer[AtLoom] = Answer("A section", partial(_ask_which_section, search))
    shuttles: Answer[AtLoom] = Answer("Shuttle sides", partial(ask_sides, warp, progress))
    return Asked(
        "Where does your cloth end?",
        few_picks_answers(warp, progress),
        detail="Touch its newest row, or how far your cloth is from the picture",
        with_cloth=True,
        strips=shown,
        foot=(
            replace(unsure, main=True),
            none if len(rows) > SHOWN_AT_ONCE else empty_slot(),
            more,
            section if len(search.piece.sections) > 1 else empty_slot(),
            shuttles,
        ),
        topic="Finding the place",
    )


def _ask_which_section(search: PlaceSearch) -> Asked[AtLoom]:
    """Ask for the section that the cloth ends in, then for its repeat, before anything is looked at."""
    rows = []
    for number, section in enumerate(search.piece.sections):
        picks = search.piece.section_picks(number)
        chosen = partial(_in_section, search, number)
        name = section.name or f"section {number + 1}"
        detail = numbered("pick", picks.start, picks.stop - 1)
        rows.append(Answer(name, chosen, detail=detail, own=bool(section.name)))
    foot = foot_of(search, (Ask.SECTION, 0, None, None), ask_on, _show)
    return Asked("In which section is the newest row?", tuple(rows), as_list=True, foot=foot)


def _in_section(search: PlaceSearch, section: int) -> Asked[AtLoom]:
    within = search.within(search.clues.section == section)
    if len(within.likely) <= 2 * SHOWN_AT_ONCE or len(np.unique(search.clues.repeat[within.likely])) < 2:
        return ask_on(within)
    return ask_repeat(within, ask_on, foot_of(within, (Ask.REPEAT, 0, None, None), ask_on, _show))


def ask_on(search: PlaceSearch) -> Asked[AtLoom]:
    """Ask what is easiest to answer next, or show the places where that is quicker."""
    if not len(search.found):
        again: Answer[AtLoom] = Answer("Begin again", partial(ask_on, search.begun_again()))
        # What could not be told then is not asked again either.
        unsure: Answer[AtLoom] = Answer(NOT_SURE, partial(ask_on, replace(search.begun_again(), unsure=search.unsure)))
        return Asked(
            "No place in this piece looks like that",
            (again,),
            detail="Something told does not match",
            foot=foot_of_place(unsure),
        )
    question = search.question()
    return _show(search) if question is None else ask_about(search, question, ask_on, _show)


def _ask_however_few(search: PlaceSearch) -> Asked[AtLoom]:
    question = search.question(however_few=True)
    if question is None:
        likeliest = search.found[:SHOWN_AT_ONCE]
        return ask_to_count(
            search.warp,
            search.progress,
            _again(search),
            _to_point_at(search, likeliest, _are_parted(search, likeliest)),
            _none_of_these(search, SHOWN_AT_ONCE),
        )
    return ask_about(search, question, ask_on, _show)


def _again(search: PlaceSearch) -> Answer[AtLoom]:
    return Answer(NOT_SURE, partial(ask_on, search.begun_again()))


def _show(search: PlaceSearch) -> Asked[AtLoom]:
    """Show the places that fit: the likeliest with how far off it is, or some side by side."""
    if search.is_seen_how_far_off:
        return _ask_how_far_off(search, int(search.table.pick[search.likely[0]]))
    return _side_by_side(search, 0)


def _ask_how_far_off(search: PlaceSearch, pick: int) -> Asked[AtLoom]:
    """Show the cloth as it is with this pick (index) newest, and ask how far off that is."""
    last = search.piece.picks - 1

    def ends(off: int) -> Answer[AtLoom]:
        if not 0 <= pick + off <= last:
            return empty_slot()
        words = further_words(off) if off else "This is it"
        return Answer(words, partial(end_at, search.warp, search.progress, pick + off, _again(search)), main=not off)

    def moves(words: str, by: int) -> Answer[AtLoom]:
        if not 0 <= pick + (by // abs(by)) * (STEPS + 1) <= last:
            return empty_slot()
        return Answer(words, partial(_ask_how_far_off, search, min(max(pick + by, 0), last)))

    lying = next((place for place in search.likely.tolist() if search.table.pick[place] == pick), pick)
    steps = range(1, STEPS + 1)
    return Asked(
        "How far is your cloth from this picture?",
        (
            ends(0),
            moves("Further still", 2 * STEPS + 1),
            moves("Further back", -2 * STEPS - 1),
            *(ends(step) for step in steps),
            *(ends(-step) for step in steps),
        ),
        detail=f"Pick {pick + 1} is its newest row",
        with_cloth=True,
        rows=search.table.rows(lying, MOST_ROWS_DRAWN),
        foot=foot_of_place(
            Answer(NOT_SURE, partial(_ask_however_few, search)),
            third=Answer(WHAT_FITS, partial(_side_by_side, search, 0)),
        ),
    )


def _side_by_side(search: PlaceSearch, first: int) -> Asked[AtLoom]:
    """Show places side by side to point at, the likeliest first, never more than three at a time."""
    found = search.found
    shown = found[first : first + SHOWN_AT_ONCE]
    parted = _are_parted(search, shown)
    last = first + len(shown)
    numbers = f"place {last}" if len(shown) == 1 else f"places {first + 1} to {last}"
    detail = (
        "" if parted else search.piece.sections[int(search.clues.section[shown[0]])].name,
        f"{numbers} of {len(found)}",
        _shown_words(search, shown.tolist()),
    )
    return Asked(
        "Is this your cloth?" if len(shown) == 1 else "Which of these is your cloth?",
        _to_point_at(search, shown, parted, main=len(found) == 1),
        detail=BETWEEN.join(part for part in detail if part),
        foot=foot_of_place(Answer(NOT_SURE, partial(_ask_however_few, search)), _none_of_these(search, last)),
    )


def _to_point_at(
    search: PlaceSearch, shown: NDArray[np.int64], parted: bool, main: bool = False
) -> tuple[Answer[AtLoom], ...]:
    """Return these places (indices) with their cloth, and with their sections where these are `parted`."""
    table, unsure = search.table, _again(search)
    return tuple(
        Answer(
            _place_words(search, place, parted),
            partial(end_at, search.warp, search.progress, int(table.pick[place]), unsure),
            main=main,
            own=parted,
            rows=table.rows(place, MOST_ROWS_DRAWN),
        )
        for place in shown.tolist()
    )


def _are_parted(search: PlaceSearch, shown: NDArray[np.int64]) -> bool:
    return len(np.unique(search.clues.section[shown])) > 1


def _none_of_these(search: PlaceSearch, last: int) -> Answer[AtLoom] | None:
    """Return the way to the places after so many; None where there are no more."""
    return Answer(NONE_OF_THESE, partial(_side_by_side, search, last)) if last < len(search.found) else None


def _place_words(search: PlaceSearch, place: int, with_section: bool) -> str:
    """Return a place in words: `Pick 45, repeat 4`, where its section is repeated; `Pick 45, border`."""
    section, repeats = int(search.clues.section[place]), int(search.clues.repeats[place])
    parts = [f"Pick {int(search.table.pick[place]) + 1}"]
    if with_section:
        parts.append(search.piece.sections[section].name or f"section {section + 1}")
    if repeats > 1:
        parts.append(f"repeat {int(search.clues.repeat[place]) + 1}")
    return ", ".join(parts)


def _shown_words(search: PlaceSearch, shown: list[int]) -> str:
    if speak_against(search.table, search.evidence.sides, np.array(shown, dtype=np.int64)).any():
        return "a shuttle should lie on the other side"
    return _rows_words(rows_that_tell_place(search.table, shown[0])) if len(shown) == 1 else "the newest row is on top"


def _rows_words(rows: int | None) -> str:
    if rows is None:
        return "looks the same in other repeats"
    return "told by its newest row" if rows == 1 else f"told by its newest {rows} rows"
