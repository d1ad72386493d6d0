"""A flow of questions in the terminal: numbered answers, rows of cloth in signs, one line typed for each answer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.draft.facing import Facing
from companion.draft.masks import is_raised
from companion.draft.written import cm_in, read_length
from companion.present.asking import Answer, Asked, AtLoom, ByNumber
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
    # What is pointed at is told by a number here: how to touch it is nothing to read.
    detail = "" if asked.pointed else asked.detail
    yield f"{asked.words}{f'  ({detail})' if detail else ''}"
    yield from (f"    {line}" for line in asked.lines)
    if asked.with_cloth:
        above = first_shown(asked.marked, ROWS)
        rows = list(rows_of_signs(piece, (asked.rows or lying)[above : above + ROWS], facing))
        if asked.marked is not None:
            rows[asked.marked - above] = f"  > {rows[asked.marked - above][4:]}"
        yield from rows
    if asked.by_number is not None:
        yield from (f"    {line}" for line in asked.by_number.lines)
        yield f"     type {_wanted(asked, asked.by_number)}"
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
    """Return what a typed line means: the number or the words of an answer, or enter for the main one.

    Where a number is asked for, it may have its unit and further words: `47`, `12 in relaxed`, `4 further`. Raises
    WeavingError where a line means no answer, or several.
    """
    answers, word = _answers(asked), line.strip()
    if asked.by_number is not None:
        return _by_number(asked, asked.by_number, word)
    if not word and asked.main is not None:
        return asked.main
    if word.isascii() and word.isdigit() and 1 <= int(word[:9]) <= len(answers):
        return answers[int(word[:9]) - 1]
    named = [answer for answer in answers if word and answer.words.lower().startswith(word.lower())]
    if len(named) == 1:
        return named[0]
    raise WeavingError(f"{word!r:.40} is no answer; give a number from 1 to {len(answers)}, or {LEAVE} to leave it")


def _by_number(asked: Asked[AtLoom], wanted: ByNumber[AtLoom], line: str) -> Answer[AtLoom]:
    words = line.lower().split()
    for count in range(len(words), -1, -1):
        number = _number(wanted, " ".join(words[:count]))
        if count == 0 or number is not None:
            meant = _besides(asked, wanted) if number is None else wanted.answers(number)
            said = " ".join(words[count:])
            answer = next((one for one in meant if one.words and said in one.words.lower()), None)
            if answer is not None and (said or number is not None):
                return answer
    raise WeavingError(f"{line!r:.40} is no answer; give {_wanted(asked, wanted)}; {LEAVE} leaves it")


def _number(wanted: ByNumber[AtLoom], text: str) -> float | None:
    """Return the number that was typed, in the unit that is wanted; None for none, or one beyond the bounds."""
    unit = cm_in(wanted.unit)
    try:
        number = float(text.removesuffix(f" {wanted.unit}")) if unit is None else read_length(text, wanted.unit) / unit
    except ValueError:
        return None
    within = wanted.least <= number <= wanted.most
    return float(number) if within and (float(number).is_integer() or not wanted.whole) else None


def _wanted(asked: Asked[AtLoom], wanted: ByNumber[AtLoom]) -> str:
    """Return what may be typed: `a number from 1 to 300, alone or with so many further; or: not sure`."""
    told = f"a number from {wanted.least:,g} to {wanted.most:,.10g} {wanted.unit}".rstrip()
    _first, *more = [answer.words.lower() for answer in wanted.answers(wanted.least)]
    after = f", alone or before: {', '.join(filter(None, more))}" if any(more) else ""
    besides = [answer.words.lower() for answer in _besides(asked, wanted)]
    return told + after + (f"; or: {', '.join(besides)}" if besides else "")


def _besides(asked: Asked[AtLoom], wanted: ByNumber[AtLoom]) -> list[Answer[AtLoom]]:
    """Return the answers that are no number."""
    by_number = {answer.words for answer in wanted.answers(wanted.least)}
    return [answer for answer in _answers(asked) if answer.words not in by_number]


def _answers(asked: Asked[AtLoom]) -> tuple[Answer[AtLoom], ...]:
    return tuple(answer for answer in (*asked.strips, *asked.answers, *asked.foot) if answer.words)
