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
from companion.weaving.finder import MOST_ROWS, Evidence, SeenRow, positions, rows_that_tell_place
from companion.weaving.pick_table import PickTable, pick_table
from companion.weaving.progress import Progress
from companion.weaving.questions import MOST_COUNTED, About, Ask, PlaceQuestion, best_question
from companion.weaving.sides import speak_against
from companion.weaving.warp import Piece, Warp

SHOWN_BEFORE_ASKING = 3
"""So few places are shown one by one rather than told apart by more questions."""


def ask_place(warp: Warp, progress: Progress, facing: Facing) -> Asked[AtLoom]:
    """Ask where the cloth truly ends: a few picks further or back, a pick number, or by looking at the newest rows.

    The answer is about the cloth: what was woven or taken out meanwhile is told, in one event that one undo takes back.
    """
    search = _PlaceSearch(warp, progress, pick_table(warp.pieces[progress.now.piece], progress.now), facing)
    number: Answer[AtLoom] = Answer(
        "Pick number",
        partial(ask_number, "Where does your cloth end? Pick", search.piece.picks, partial(_tell_pick, search)),
    )
    look: Answer[AtLoom] = Answer("Look at rows", partial(_ask, search, Evidence()), main=True)
    shuttles: Answer[AtLoom] = Answer("Where shuttles lie", partial(ask_sides, warp, progress))
    elsewhere: Answer[AtLoom] = Answer("Weave on elsewhere", partial(ask_elsewhere, warp, progress))
    moves = next(possible_moves(warp, progress), None) is not None
    return Asked(
        "Where does your cloth end?",
        (look, number, *pad_answers(warp, progress)),
        detail="picks further or back than the picture, whose newest row is on top",
        with_cloth=True,
        foot=(shuttles, *((elsewhere,) if moves else ())),
    )


def _tell_pick(search: _PlaceSearch, number: int) -> FlowStep[AtLoom]:
    return end_at(search.warp, search.progress, number - 1)


@dataclass(frozen=True, slots=True)
class _PlaceSearch:
    """What stays from question to question; `unsure` is what the weaver could not tell."""

    warp: Warp
    progress: Progress
    table: PickTable
    facing: Facing
    unsure: frozenset[About] = frozenset()

    @property
    def piece(self) -> Piece:
        """The piece on the loom."""
        return self.warp.pieces[self.progress.now.piece]


def _ask(search: _PlaceSearch, evidence: Evidence) -> Asked[AtLoom]:
    found = positions(search.table, evidence)
    if len(found) == 0:
        again: Answer[AtLoom] = Answer("Begin again", lambda: _ask(replace(search, unsure=frozenset()), Evidence()))
        return Asked("No place in this piece looks so", (again,))
    likely = found[~speak_against(search.table, evidence.sides, found)]
    question = best_question(search.table, likely, known=evidence, unsure=search.unsure)
    if question is None or len(likely) <= SHOWN_BEFORE_ASKING:
        return _show(search, evidence, found, 0)
    answers: list[Answer[AtLoom]] = [
        Answer(words, partial(_ask, search, more)) for words, more in _answers(search, evidence, question, likely)
    ]
    unsure = replace(search, unsure=search.unsure | {question.about})
    return Asked(
        _words(search, question),
        (
            *answers,
            Answer("Not sure", partial(_ask, unsure, evidence)),
            Answer("Show what fits", partial(_show, search, evidence, found, 0)),
        ),
        detail=f"{len(likely)} places fit so far",
    )


def _show(search: _PlaceSearch, evidence: Evidence, found: NDArray[np.int64], shown: int) -> Asked[AtLoom]:
    table, place = search.table, int(found[shown])
    pick = int(table.pick[place])
    answers: list[Answer[AtLoom]] = [
        Answer("Yes, it ends here", partial(end_at, search.warp, search.progress, pick), main=True)
    ]

    def place_at(words: str, number: int) -> Answer[AtLoom]:
        return Answer(words, partial(_show, search, evidence, found, number))

    answers += [
        place_at("No, the next place", shown + 1) if shown + 1 < len(found) else empty_slot(),
        place_at("The place before", shown - 1) if shown else empty_slot(),
    ]
    against = bool(speak_against(table, evidence.sides, found[shown : shown + 1])[0])
    detail = (
        search.piece.sections[search.piece.section_at(pick)].name,
        f"place {shown + 1} of {len(found)}",
        "a shuttle should lie on the other side" if against else _rows_words(rows_that_tell_place(table, place)),
    )
    return Asked(
        f"Does your cloth end at pick {pick + 1}?",
        tuple(answers),
        detail=BETWEEN.join(detail),
        with_cloth=True,
        rows=table.rows(place, MOST_ROWS_DRAWN),
        bit_by_bit="place",
    )


def _rows_words(rows: int | None) -> str:
    if rows is None:
        return f"its newest {MOST_ROWS} rows lie so elsewhere too"
    return f"its newest {'row lies' if rows == 1 else f'{rows} rows lie'} so nowhere else"


def _words(search: _PlaceSearch, question: PlaceQuestion) -> str:
    row = "the newest row" if question.row == 0 else f"the row {question.row} below the newest"
    if question.ask is Ask.WEFT:
        return f"Which weft lies in {row}?"
    if question.ask is Ask.SINCE_CHANGE:
        return "How many picks since the shuttle changed?"
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
