"""How thick threads are and how far apart, in shorthand: `(0.1 0.2)x4`, in centimetres, or `(0.04 0.08)x4 in`."""

from __future__ import annotations

from fractions import Fraction
from functools import partial

from companion.draft.model import MOST_THREAD_CM
from companion.draft.shorthand_sequences import Cursor, Sequences
from companion.draft.shorthand_tokens import SourceText, Statement, Token, TokenKind
from companion.draft.written import cm_in


def read_sizes(source: SourceText, statement: Statement, threads: int) -> tuple[float, ...]:
    """Return the size of each of so many threads in cm: one is for all. The unit behind the last is that of all.

    Raises ShorthandError.
    """
    tokens, each = _without_unit(statement)
    sizes = Sequences[float](partial(_size, source, each)).whole(Cursor(source, tokens))
    if len(sizes) == 1:
        return tuple(sizes) * threads
    if len(sizes) != threads:
        what = f"{len(sizes)} sizes for {threads} threads"
        raise source.error(statement.line, statement.column, what, "give one, or one for each")
    return tuple(sizes)


def _without_unit(statement: Statement) -> tuple[list[Token], Fraction]:
    """Return the tokens before a unit at the end, and how many cm one of it is; without one they are centimetres."""
    *before, end = statement.tokens
    each = cm_in(before[-1].text) if before and before[-1].kind is TokenKind.WORD else None
    return (statement.tokens, Fraction(1)) if each is None else ([*before[:-1], end], each)


def _size(source: SourceText, each: Fraction, cursor: Cursor) -> list[float] | None:
    token = cursor.next
    if token.kind not in (TokenKind.NUMBER, TokenKind.MEASURE):
        return None
    cursor.take()
    size = float(Fraction(token.text) * each)
    if size > MOST_THREAD_CM:
        mend = "write centimetres, or a smaller unit behind the last size, such as in"
        raise source.error_at(token, "no thread is as thick or as far apart", mend)
    return [size]
