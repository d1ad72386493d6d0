"""A flow of questions in the terminal: numbered answers, rows of cloth in signs, one line typed for each answer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.draft.facing import Facing
from companion.draft.masks import is_raised
from companion.present.asking import Answer, Asked, AtLoom, FlowStep
from companion.present.fell import first_shown
from companion.weaving.errors import WeavingError
from companion.weaving.warp import Piece

LEAVE = "b"
"""What is typed to leave a question without an answer."""
ROWS = 8
"""So many rows of the cloth are drawn beside a question."""
ENDS = 32
WARP_UP = "|"
WEFT_OVER = "-"


def asked_lines(asked: Asked[AtLoom], piece: Piece, lying: Sequence[int], facing: Facing) -> Iterator[str]:
    """Yield a question with its answers; `lying` are the picks (indices) at the fell by the journal, newest first."""
    yield f"{asked.words}{f'  ({asked.detail})' if asked.detail else ''}"
    yield from (f"    {line}" for line in asked.lines)
    if asked.with_cloth:
        above = first_shown(asked.marked, ROWS)
        rows = list(rows_of_signs(piece, (asked.rows or lying)[above : above + ROWS], facing))
        if asked.marked is not None:
            rows[asked.marked - above] = f"  > {rows[asked.marked - above][4:]}"
        yield from rows
    if asked.pad:
        yield "     type the number"
        return
    for number, answer in enumerate(_answers(asked), 1):
        yield f"  {number}  {answer.words}{'  (or enter)' if answer.main else ''}"
        yield from rows_of_signs(piece, answer.rows[:ROWS], facing)


def rows_of_signs(piece: Piece, picks: Sequence[int], facing: Facing) -> Iterator[str]:
    """Yield rows of cloth, newest first: `    pick     12  --||--||  sand`; a bar is a warp end that lies over.

    The first ends are shown, each at its side.
    """
    for pick in picks:
        ends = piece.draft.threading[:ENDS][facing.from_left]
        up = (shaft is not None and is_raised(piece.sheds[pick], shaft) for shaft in ends)
        signs = "".join(WARP_UP if raised else WEFT_OVER for raised in up)
        yield f"    pick {pick + 1:>6}  {signs}  {piece.draft.yarns[piece.draft.weft[pick]].name}"


def answer_typed(asked: Asked[AtLoom], line: str) -> Answer[AtLoom]:
    """Return the answer that a typed line means: its number, or enter for the main one; raises WeavingError."""
    answers, word = _answers(asked), line.strip()
    if asked.pad:
        return _typed_on_pad(asked, word)
    if not word and asked.main is not None:
        return asked.main
    if word.isascii() and word.isdigit() and 1 <= int(word[:9]) <= len(answers):
        return answers[int(word[:9]) - 1]
    raise WeavingError(f"{word!r:.40} is no answer; give a number from 1 to {len(answers)}, or {LEAVE} to leave it")


def _typed_on_pad(asked: Asked[AtLoom], word: str) -> Answer[AtLoom]:
    """Return the answer of a number typed where the screen has a pad: every key touched, then Done."""
    step: FlowStep[AtLoom] = asked
    for sign in word:
        keys = step.pad if isinstance(step, Asked) else ()
        step = next((key.leads_to() for key in keys if key.words == sign), asked)
    # A key that would make the number too large does nothing: then it is another one that stands there.
    if isinstance(step, Asked) and step.main is not None:
        stands, _, _unit = step.words.removeprefix(f"{step.bit_by_bit}: ").partition(" ")
        if stands == word:
            return step.main
    raise WeavingError(f"{word!r:.40} is no answer; give {asked.detail}, or {LEAVE} to leave it")


def _answers(asked: Asked[AtLoom]) -> tuple[Answer[AtLoom], ...]:
    return tuple(answer for answer in (*asked.strips, *asked.answers, *asked.foot) if answer.words)
