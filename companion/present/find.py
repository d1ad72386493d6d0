"""The find flow: questions about the rows at the fell until one place is left, nearest to the journal's first.

The side of a shuttle is asked for only where the rows tell less. Places that it speaks against are shown last, not left
out: a pick missed or woven twice turns the sides over.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

import numpy as np
from numpy.typing import NDArray

from companion.draft.facing import Facing, Side
from companion.present.asking import Answer, Asked, AtLoom, FlowStep, empty_slot
from companion.present.cloth_end import ask_sides, end_at, pad_answers
from companion.present.elsewhere import ask_elsewhere, possible_moves
from companion.present.fell import MOST_ROWS_DRAWN
from companion.present.number_pad import ask_number
from companion.present.wording import BETWEEN
from companion.weaving.finder import Evidence, SeenRow, positions, rows_that_tell_place
from companion.weaving.narrowing import Clues, clues_of, easiest_question
from companion.weaving.pick_table import PickTable, pick_table
from companion.weaving.progress import Progress
from companion.weaving.questions import MOST_COUNTED, About, Ask, PlaceQuestion
from companion.weaving.sides import speak_against
from companion.weaving.warp import Piece, Warp

NOT_SURE = "Not sure"
SHOWN_BEFORE_ASKING = 3
"""So many places are shown at a time, side by side."""
FEW_ENOUGH = 6
"""So few places are shown rather than told apart by more questions."""
MOST_POINTED_AT = 9
"""So many repeats are offered to touch; of more the number is typed."""


def ask_place(warp: Warp, progress: Progress, facing: Facing) -> Asked[AtLoom]:
    """Ask where the cloth truly ends: a few picks further or back, a pick number, or by looking at the newest rows.

    The answer is about the cloth: what was woven or taken out meanwhile is told, in one event that one undo takes back.
    """
    piece = warp.pieces[progress.now.piece]
    table = pick_table(piece, progress.now)
    everywhere = np.ones(table.places, dtype=np.bool_)
    search = _PlaceSearch(warp, progress, table, facing, clues_of(piece, table), everywhere)
    number: Answer[AtLoom] = Answer(
        "At a pick",
        partial(ask_number, "Where does your cloth end? Pick", search.piece.picks, partial(_tell_pick, search)),
    )
    look: Answer[AtLoom] = Answer("See rows", partial(_ask, search, Evidence()), main=True)
    shuttles: Answer[AtLoom] = Answer("Where shuttles lie", partial(ask_sides, warp, progress))
    elsewhere: Answer[AtLoom] = Answer("Weave on elsewhere", partial(ask_elsewhere, warp, progress))
    section: Answer[AtLoom] = Answer("A section", partial(_ask_which_section, search))
    moves = next(possible_moves(warp, progress), None) is not None
    return Asked(
        "Where does your cloth end?",
        (look, number, *pad_answers(warp, progress)),
        detail="2 further: your cloth has 2 picks more than the picture; its newest row is on top",
        with_cloth=True,
        foot=(*((section,) if len(piece.sections) > 1 else ()), shuttles, *((elsewhere,) if moves else ())),
    )


def _ask_which_section(search: _PlaceSearch) -> Asked[AtLoom]:
    """Ask for the section that the cloth ends in, then for its repeat, before anything is looked at."""
    rows = []
    for number, section in enumerate(search.piece.sections):
        picks = search.piece.section_picks(number)
        chosen = partial(_in_section, search, number)
        name = section.name or f"section {number + 1}"
        detail = f"picks {picks.start + 1} to {picks.stop}"
        rows.append(Answer(name, chosen, detail=detail, own=bool(section.name)))
    everywhere = positions(search.table, Evidence())
    foot = _foot(search, Evidence(), everywhere, (Ask.SECTION, 0, None, None))
    return Asked("In which section is the newest row?", tuple(rows), as_list=True, foot=foot)


def _in_section(search: _PlaceSearch, section: int) -> Asked[AtLoom]:
    within = _within(search, search.clues.section, section)
    there = positions(search.table, Evidence())
    there = there[within.among[there]]
    if len(there) <= FEW_ENOUGH or len(np.unique(search.clues.repeat[there])) < 2:
        return _ask(within, Evidence())
    return _ask_repeat(within, Evidence(), there, _foot(within, Evidence(), there, (Ask.REPEAT, 0, None, None)))


def _tell_pick(search: _PlaceSearch, number: int) -> FlowStep[AtLoom]:
    return end_at(search.warp, search.progress, number - 1)


@dataclass(frozen=True, slots=True)
class _PlaceSearch:
    """What stays from question to question; `unsure` is what the weaver could not tell.

    `among` (places, bool) are those of the section and the repeat that were said.
    """

    warp: Warp
    progress: Progress
    table: PickTable
    facing: Facing
    clues: Clues
    among: NDArray[np.bool_]
    unsure: frozenset[About] = frozenset()

    @property
    def piece(self) -> Piece:
        """The piece on the loom."""
        return self.warp.pieces[self.progress.now.piece]


def _ask(search: _PlaceSearch, evidence: Evidence) -> Asked[AtLoom]:
    found = positions(search.table, evidence)
    found = found[search.among[found]]
    if len(found) == 0:
        begun = replace(search, unsure=frozenset(), among=np.ones_like(search.among))
        again: Answer[AtLoom] = Answer("Begin again", lambda: _ask(begun, Evidence()))
        return Asked("No place in this piece looks so", (again,))
    likely = found[~speak_against(search.table, evidence.sides, found)]
    question = easiest_question(search.table, search.clues, likely, known=evidence, unsure=search.unsure)
    if question is None or len(likely) <= FEW_ENOUGH:
        return _show(search, evidence, found, 0)
    foot = _foot(search, evidence, found, question.about)
    if question.ask is Ask.REPEAT:
        return _ask_repeat(search, evidence, likely, foot)
    answers: list[Answer[AtLoom]] = [
        Answer(words, partial(_ask, search, more)) for words, more in _answers(search, evidence, question, likely)
    ]
    if question.ask is Ask.SECTION:
        answers = [
            Answer(
                _section_words(search, section), partial(_ask, _within(search, search.clues.section, section), evidence)
            )
            for section in np.unique(search.clues.section[likely]).tolist()
        ]
    return Asked(
        _words(search, question),
        tuple(answers),
        detail=f"{len(likely)} places fit so far",
        foot=foot,
    )


def _foot(
    search: _PlaceSearch, evidence: Evidence, found: NDArray[np.int64], about: About
) -> tuple[Answer[AtLoom], ...]:
    unsure = replace(search, unsure=search.unsure | {about})
    return (
        Answer(NOT_SURE, partial(_ask, unsure, evidence)),
        Answer("Show what fits", partial(_show, search, evidence, found, 0)),
    )


def _within(search: _PlaceSearch, codes: NDArray[np.int64], code: int) -> _PlaceSearch:
    """Return the search among the places with this code of section or repeat."""
    return replace(search, among=search.among & (codes == code))


def _section_words(search: _PlaceSearch, section: int) -> str:
    picks = search.piece.section_picks(section)
    name = search.piece.sections[section].name
    same = sum(one.name == name for one in search.piece.sections) > 1
    return f"{name}, picks {picks.start + 1} to {picks.stop}" if same else name


def _ask_repeat(
    search: _PlaceSearch, evidence: Evidence, likely: NDArray[np.int64], foot: tuple[Answer[AtLoom], ...]
) -> Asked[AtLoom]:
    """Ask in which repeat of its section the newest row lies."""
    repeats = np.unique(search.clues.repeat[likely]).tolist()
    section = search.piece.sections[int(search.clues.section[likely[0]])].name
    words = f"Which repeat of {section} is the newest row in"
    if len(repeats) <= MOST_POINTED_AT:
        answers = tuple(
            Answer(str(repeat + 1), partial(_ask, _within(search, search.clues.repeat, repeat), evidence))
            for repeat in repeats
        )
        return Asked(f"{words}?", answers, detail=f"{len(likely)} places fit so far", foot=foot)

    def counted_to(number: int) -> FlowStep[AtLoom]:
        return _ask(_within(search, search.clues.repeat, number - 1), evidence)

    asked = ask_number(words, repeats[-1] + 1, counted_to)
    return replace(asked, answers=foot)


def _show(search: _PlaceSearch, evidence: Evidence, found: NDArray[np.int64], first: int) -> Asked[AtLoom]:
    """Show places side by side to point at, the likeliest first, never more than three at a time."""
    table, shown = search.table, found[first : first + SHOWN_BEFORE_ASKING]
    alone = len(found) == 1
    answers = []
    for place in shown.tolist():
        pick = int(table.pick[place])
        here = partial(end_at, search.warp, search.progress, pick)
        answers.append(Answer(f"Pick {pick + 1}", here, main=alone, rows=table.rows(place, MOST_ROWS_DRAWN)))

    def places_from(words: str, number: int) -> Answer[AtLoom]:
        return Answer(words, partial(_show, search, evidence, found, number))

    step, last = SHOWN_BEFORE_ASKING, first + len(shown)
    numbers = f"place {last}" if len(shown) == 1 else f"places {first + 1} to {last}"
    detail = (
        search.piece.sections[search.piece.section_at(int(table.pick[shown[0]]))].name,
        f"{numbers} of {len(found)}",
        _shown_words(table, evidence, shown),
    )
    return Asked(
        "Is this your cloth?" if len(shown) == 1 else "Which of these is your cloth?",
        tuple(answers),
        detail=BETWEEN.join(part for part in detail if part),
        foot=(
            places_from("None of these", first + step) if first + step < len(found) else empty_slot(),
            places_from("Those before", first - step) if first else empty_slot(),
        ),
    )


def _shown_words(table: PickTable, evidence: Evidence, shown: NDArray[np.int64]) -> str:
    if speak_against(table, evidence.sides, shown).any():
        return "a shuttle should lie on the other side"
    return _rows_words(rows_that_tell_place(table, int(shown[0]))) if len(shown) == 1 else "the newest row is on top"


def _rows_words(rows: int | None) -> str:
    if rows is None:
        return "looks the same in other repeats"
    return "told by its newest row" if rows == 1 else f"told by its newest {rows} rows"


def _words(search: _PlaceSearch, question: PlaceQuestion) -> str:
    row = "the newest row" if question.row == 0 else f"the row {question.row} below the newest"
    if question.ask is Ask.WEFT:
        return f"Which weft lies in {row}?"
    if question.ask is Ask.SINCE_CHANGE:
        return "How many picks since the shuttle changed?"
    if question.ask is Ask.SECTION:
        return "In which section is the newest row?"
    if question.ask is Ask.SIDE:
        return f"Where does the {search.piece.draft.yarns[question.yarn or 0].name} shuttle lie?"
    end = (question.end or 0) + 1
    return f"In {row}: where does end {end} from the {search.facing.first_end.value} lie?"


def _answers(
    search: _PlaceSearch, evidence: Evidence, question: PlaceQuestion, likely: NDArray[np.int64]
) -> list[tuple[str, Evidence]]:
    if question.ask is Ask.SINCE_CHANGE:
        counts = sorted({int(count) for count in search.table.since_change[likely] if count <= MOST_COUNTED})
        return [(str(count), replace(evidence, since_change=count)) for count in counts]
    if question.ask is Ask.SIDE:
        yarn = question.yarn or 0
        return [(f"On the {side.value}", replace(evidence, sides=(*evidence.sides, (yarn, side)))) for side in Side]
    if question.ask is Ask.SECTION:
        return []
    if question.ask is Ask.WEFT:
        return [
            (search.piece.draft.yarns[yarn].name, _with_row(evidence, question.row, SeenRow(frozenset({yarn}))))
            for yarn in search.piece.draft.shuttles()
        ]
    end = question.end or 0
    return [
        ("Over the weft", _with_row(evidence, question.row, SeenRow(up=(end,)))),
        ("Under the weft", _with_row(evidence, question.row, SeenRow(down=(end,)))),
    ]


def _with_row(evidence: Evidence, row: int, seen: SeenRow) -> Evidence:
    rows = list(evidence.rows) + [SeenRow()] * (row + 1 - len(evidence.rows))
    before = rows[row]
    rows[row] = SeenRow(seen.yarns or before.yarns, before.up + seen.up, before.down + seen.down)
    return replace(evidence, rows=tuple(rows))
