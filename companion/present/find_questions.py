"""The questions of the place-finder in words and pictures, each with what its answers lead to.

"Not sure" is the first answer at the foot of every one of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

import numpy as np

from companion.draft.facing import Side
from companion.draft.unit_readings import length_reading
from companion.draft.units import counted, numbered
from companion.present.asking import Answer, Asked, AtLoom, ByNumber, FlowStep, PointedAt
from companion.present.cloth_end import NOT_SURE, foot_of_place
from companion.present.number_pad import Wanted, ask_amount, ask_number
from companion.present.piece_map import PieceMap, map_picture, map_signs
from companion.present.place_search import FurtherOn, PlaceSearch
from companion.weaving.finder import SeenRow
from companion.weaving.narrowing import MOST_REPEATS_TOUCHED, SHOWN_AT_ONCE, within_length
from companion.weaving.questions import MOST_COUNTED, About, Ask, PlaceQuestion

NONE_OF_THESE = "None of these"
WHAT_FITS = "Show what fits"
WHERE_IN_PIECE = "Where in the piece does your cloth end?"
NEWEST_ROW: About = (Ask.ROW, 0, None, None)
_SINCE_CHANGE = "How many picks since the shuttle changed"
_MOST_SINCE_CHANGE, _LONGEST_CM = 999, 100_000


def ask_about(search: PlaceSearch, question: PlaceQuestion, then: FurtherOn, show: FurtherOn) -> Asked[AtLoom]:
    """Ask a question; what is left after its answer goes on to `then`, or to `show`, which shows the places."""
    if question.ask is Ask.ROW:
        return _ask_newest_row(search, then, show)
    foot = foot_of(search, question.about, then, show)
    if question.ask is Ask.POINT:
        return _ask_where(search, then, foot)
    if question.ask is Ask.REPEAT:
        return ask_repeat(search, then, foot)
    if question.ask is Ask.SINCE_CHANGE and search.table.lasts_unknown:
        return _ask_since_change(search, then, foot)
    if question.ask is Ask.LENGTH:
        return _ask_length(search, question.about, then, foot)
    wefts = [search.piece.draft.yarns[yarn] for yarn in search.piece.shuttles] if question.ask is Ask.WEFT else []
    colours = {yarn.name: yarn.colour for yarn in wefts}
    answers = tuple(
        Answer(words, partial(then, further), own=question.ask in (Ask.SECTION, Ask.WEFT), yarn=colours.get(words))
        for words, further in _answers(search, question)
    )
    return Asked(_words(search, question), answers, detail=_fits(search), foot=foot)


def foot_of(
    search: PlaceSearch, about: About, then: FurtherOn, show: FurtherOn, none: Answer[AtLoom] | None = None
) -> tuple[Answer[AtLoom], ...]:
    """Return the answers at the foot: every one has its place on every page."""
    unsure: Answer[AtLoom] = Answer(NOT_SURE, partial(then, search.not_sure_of(about)))
    return foot_of_place(unsure, none, Answer(WHAT_FITS, partial(show, search)))


def rows_to_touch(search: PlaceSearch, rows: Sequence[int], then: FurtherOn) -> tuple[Answer[AtLoom], ...]:
    """Return the newest row as it looks at the first of these places (indices), three at the most, to point at."""
    shown = rows[:SHOWN_AT_ONCE]
    wefts = [search.piece.draft.yarns[int(search.table.weft[place])].name for place in shown]
    return tuple(
        Answer(weft, partial(then, search.saw_newest_like(place)), rows=(int(search.table.pick[place]),), own=True)
        for weft, place in zip(wefts, shown, strict=True)
    )


def _ask_newest_row(search: PlaceSearch, then: FurtherOn, show: FurtherOn) -> Asked[AtLoom]:
    """Ask how the newest row looks, three ways at a time."""
    rows = search.newest_rows()
    none: Answer[AtLoom] | None = None
    if len(rows) > SHOWN_AT_ONCE:
        none = Answer(NONE_OF_THESE, partial(then, search.saw_newest_like_none_of(rows[:SHOWN_AT_ONCE])))
    return Asked(
        "Which of these is the newest row?",
        (),
        strips=rows_to_touch(search, rows, then),
        detail=f"{min(SHOWN_AT_ONCE, len(rows))} of the {len(rows)} ways that it may look",
        foot=foot_of(search, NEWEST_ROW, then, show, none),
    )


def ask_repeat(search: PlaceSearch, then: FurtherOn, foot: tuple[Answer[AtLoom], ...]) -> Asked[AtLoom]:
    """Ask in which repeat of its section the newest row lies; of many repeats the number is typed."""
    repeats = np.unique(search.clues.repeat[search.likely]).tolist()
    section = search.piece.sections[int(search.clues.section[search.likely[0]])].name
    words = f"Which repeat of {section} is the newest row in" if section else "Which repeat is the newest row in"

    def counted_to(number: int) -> FlowStep[AtLoom]:
        return then(search.within(search.clues.repeat == number - 1))

    if len(repeats) <= MOST_REPEATS_TOUCHED:
        answers = tuple(Answer(str(repeat + 1), partial(counted_to, repeat + 1)) for repeat in repeats)
        return Asked(f"{words}?", answers, detail=_fits(search), foot=foot, own=(section,))
    return replace(ask_number(words, repeats[-1] + 1, counted_to, foot), own=(section,))


def _ask_where(search: PlaceSearch, then: FurtherOn, foot: tuple[Answer[AtLoom], ...]) -> Asked[AtLoom]:
    """Ask for a touch where the cloth ends in a picture of the piece, or of the part that may be meant."""
    picks = search.table.pick[search.likely]
    first, last = int(picks.min()), int(picks.max())
    drawn = PieceMap(first, last - first + 1)

    def ends_near(pick: int) -> FlowStep[AtLoom]:
        return then(search.pointed_at(pick, drawn.picks))

    def pointed(across: float, down: float) -> FlowStep[AtLoom]:
        return ends_near(drawn.pick_at(across, down))

    signs = map_signs(drawn, search.clues)
    detail = "Touch the place: upwards, column after column" if drawn.columns > 1 else "Touch the place"
    return Asked(
        WHERE_IN_PIECE,
        (),
        detail=detail + ("; numbers count repeats" if signs else ""),
        foot=foot,
        pointed=PointedAt(
            partial(map_picture, search.piece, drawn, search.table, search.clues, search.facing),
            pointed,
            signs,
        ),
        by_number=ByNumber(
            first + 1,
            last + 1,
            lambda number: (Answer("Near it", partial(ends_near, round(number) - 1)),),
            lines=_what_lies_where(search),
        ),
    )


def _ask_since_change(search: PlaceSearch, then: FurtherOn, foot: tuple[Answer[AtLoom], ...]) -> Asked[AtLoom]:
    """Ask for a number of picks where nobody knows how often a section of one weft was woven."""

    def counted_to(number: int) -> FlowStep[AtLoom]:
        return then(replace(search, evidence=replace(search.evidence, since_change=number)))

    return ask_number(_SINCE_CHANGE, _MOST_SINCE_CHANGE, counted_to, foot)


def _what_lies_where(search: PlaceSearch) -> tuple[str, ...]:
    """Return a line for each section: its picks, and how many repeats it has."""
    lines = []
    for section in range(len(search.piece.sections)):
        picks = search.piece.section_picks(section)
        repeats = int(search.clues.repeats[picks.start])
        name = search.piece.sections[section].name or f"section {section + 1}"
        repeated = f", {counted(repeats, 'repeat')}" if repeats > 1 else ""
        lines.append(f"{name}: {numbered('pick', picks.start, picks.stop - 1)}{repeated}")
    return tuple(lines)


def _ask_length(search: PlaceSearch, about: About, then: FurtherOn, foot: tuple[Answer[AtLoom], ...]) -> Asked[AtLoom]:
    reading = length_reading(search.units)
    wanted = Wanted(
        "Woven since the piece began",
        reading.sign,
        reading.least(0.1),
        reading.most(_LONGEST_CM),
        reading.decimals,
        meaning="as the tape says, under tension",
    )

    def measured(number: float) -> FlowStep[AtLoom]:
        return then(search.not_sure_of(about).within(within_length(search.clues, reading.amount(number))))

    return ask_amount(wanted, measured, besides=foot)


def _fits(search: PlaceSearch) -> str:
    return f"{len(search.likely)} places fit so far"


def _words(search: PlaceSearch, question: PlaceQuestion) -> str:
    row = "the newest row" if question.row == 0 else f"the row {question.row} below the newest"
    match question.ask:
        case Ask.WEFT:
            return f"Which weft lies in {row}?"
        case Ask.SINCE_CHANGE:
            return f"{_SINCE_CHANGE}?"
        case Ask.SECTION:
            return "In which section is the newest row?"
        case Ask.SIDE:
            return f"Where does the {search.piece.draft.yarns[question.yarn or 0].name} shuttle lie?"
        case _:
            end = (question.end or 0) + 1
            return f"In {row}: where does end {end} from the {search.facing.first_end.value} lie?"


def _answers(search: PlaceSearch, question: PlaceQuestion) -> list[tuple[str, PlaceSearch]]:
    likely, evidence, draft = search.likely, search.evidence, search.piece.draft
    match question.ask:
        case Ask.SINCE_CHANGE:
            counts = sorted({int(count) for count in search.table.since_change[likely] if count <= MOST_COUNTED})
            few = [(str(count), replace(search, evidence=replace(evidence, since_change=count))) for count in counts]
            more = search.table.since_change > MOST_COUNTED
            question_done = search.not_sure_of(question.about)
            return [*few, (f"More than {MOST_COUNTED}", question_done.within(more))] if more[likely].any() else few
        case Ask.SIDE:
            yarn = question.yarn or 0
            seen = [(side, replace(evidence, sides=(*evidence.sides, (yarn, side)))) for side in Side]
            return [(f"On the {side.value}", replace(search, evidence=more)) for side, more in seen]
        case Ask.SECTION:
            sections = np.unique(search.clues.section[likely]).tolist()
            return [(section_words(search, one), search.within(search.clues.section == one)) for one in sections]
        case Ask.WEFT:
            wefts = [(draft.yarns[yarn].name, SeenRow(frozenset({yarn}))) for yarn in draft.shuttles()]
            return [(name, search.saw(question.row, seen)) for name, seen in wefts]
        case _:
            end = (question.end or 0,)
            lies = (("Over the weft", SeenRow(up=end)), ("Under the weft", SeenRow(down=end)))
            return [(words, search.saw(question.row, seen)) for words, seen in lies]


def section_words(search: PlaceSearch, section: int) -> str:
    """Return a section by its name, with its picks where others are called the same, or it has none."""
    picks = search.piece.section_picks(section)
    name = search.piece.sections[section].name or f"section {section + 1}"
    same = sum(one.name == name for one in search.piece.sections) > 1
    return f"{name}, {numbered('pick', picks.start, picks.stop - 1)}" if same else name
