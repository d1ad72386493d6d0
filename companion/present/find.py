"""The find flow: questions about the rows at the fell until one place is left, nearest to the journal's first."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

import numpy as np
from numpy.typing import NDArray

from companion.present.asking import NEVER_MIND, Answer, Answered, Asked, AtLoom
from companion.present.elsewhere import ask_elsewhere, possible_moves
from companion.weaving.decide import jump, resume
from companion.weaving.finder import Evidence, SeenRow, positions
from companion.weaving.pick_table import PickTable, pick_table
from companion.weaving.progress import Progress
from companion.weaving.questions import MOST_COUNTED, Ask, Question, best_question
from companion.weaving.warp import Piece, Warp

SHOWN_BEFORE_ASKING = 3
"""So few places are shown one by one rather than told apart by more questions."""


def ask_place(warp: Warp, progress: Progress) -> Asked[AtLoom]:
    """Ask what lies at the fell, beginning with every place of the piece."""
    piece = warp.pieces[progress.now.piece]
    newest = progress.now.cloth.newest
    near = 0 if newest is None else newest
    asked = _ask(_Search(piece, pick_table(piece), near, progress.now.paused), Evidence())
    if next(possible_moves(warp, progress), None) is None:
        return asked
    elsewhere: Answer[AtLoom] = Answer("I know: go elsewhere", partial(ask_elsewhere, warp, progress))
    return replace(asked, answers=(*asked.answers[:-1], elsewhere, NEVER_MIND))


@dataclass(frozen=True, slots=True)
class _Search:
    """What stays the same from question to question."""

    piece: Piece
    table: PickTable
    near: int
    paused: bool


def _ask(search: _Search, evidence: Evidence) -> Asked[AtLoom]:
    found = positions(search.table, evidence, search.near)
    question = best_question(search.table, found)
    if len(found) == 0:
        return Asked(
            "No place in this piece looks so", (Answer("Begin again", lambda: _ask(search, Evidence())), NEVER_MIND)
        )
    if question is None or len(found) <= SHOWN_BEFORE_ASKING:
        return _show(search, found, 0)
    answers = [
        Answer(words, partial(_ask, search, more)) for words, more in _answers(search, evidence, question, found)
    ]
    return Asked(
        _words(question),
        (*answers, Answer("Not sure", partial(_show, search, found, 0)), NEVER_MIND),
        detail=f"{len(found)} places fit so far",
    )


def _show(search: _Search, found: NDArray[np.int64], shown: int) -> Asked[AtLoom]:
    pick = int(found[shown])
    answers = [Answer("Yes, go on from here", partial(_go_on, search, pick), main=True)]
    if shown + 1 < len(found):
        answers.append(Answer("No, the next place", partial(_show, search, found, shown + 1)))
    if shown:
        answers.append(Answer("The place before", partial(_show, search, found, shown - 1)))
    section = search.piece.sections[search.piece.section_at(pick)].name
    return Asked(
        f"Does your cloth end at pick {pick + 1}?",
        (*answers, NEVER_MIND),
        detail=f"{section}; place {shown + 1} of {len(found)} that fit",
        with_cloth=True,
        top_pick=pick,
    )


def _go_on(search: _Search, pick: int) -> Answered[AtLoom]:
    back = (partial(resume, looked_right=False),) if search.paused else ()
    return Answered((*back, partial(jump, pick=pick + 1, reason="place found")))


def _words(question: Question) -> str:
    row = "the newest row" if question.row == 0 else f"the row {question.row} below the newest"
    if question.ask is Ask.WEFT:
        return f"Which weft lies in {row}?"
    if question.ask is Ask.SINCE_CHANGE:
        return "How many picks since the shuttle changed?"
    end = (question.end or 0) + 1
    return f"In {row}: where does end {end} from the left lie?"


def _answers(
    search: _Search, evidence: Evidence, question: Question, found: NDArray[np.int64]
) -> list[tuple[str, Evidence]]:
    if question.ask is Ask.SINCE_CHANGE:
        counts = sorted({int(count) for count in search.table.since_change[found] if count <= MOST_COUNTED})
        return [(str(count), replace(evidence, since_change=count)) for count in counts]
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
