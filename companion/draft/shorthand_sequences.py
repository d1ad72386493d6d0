"""Sequences of shorthand: items one after the other, brackets, times, points and reversals, whatever the items are.

`Sequences` knows the brackets and what stands before and after them; an `Atom` knows one item (a shaft, a pick, a
yarn, a measure). Everything is bounded while it is written out, so that a slip in a number costs one line of complaint.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

from companion.draft.model import MOST_THREADS
from companion.draft.shorthand_tokens import SourceText, Token, TokenKind

MOST_DEPTH = 40
"""Brackets within brackets; more are a slip, and each level costs a level of the call stack."""

Item = TypeVar("Item")


class Cursor:
    """The tokens of one statement and where the reader is in them; the last token is always the end."""

    def __init__(self, source: SourceText, tokens: list[Token]) -> None:
        self.source = source
        self._tokens = tokens
        self._at = 0

    @property
    def next(self) -> Token:
        """The token to be read next."""
        return self._tokens[self._at]

    def take(self) -> Token:
        """Return the next token and go past it; the end is never gone past."""
        token = self._tokens[self._at]
        if token.kind is not TokenKind.END:
            self._at += 1
        return token

    def takes(self, *words: str) -> bool:
        """Go past these signs or words if they come next, in any case, and tell whether they did."""
        if self._tokens[self._at].text.lower() != words[0]:
            # Asked at every number of a long plan.
            return False
        coming = self._tokens[self._at : self._at + len(words)]
        if [token.text.lower() for token in coming if token.kind is not TokenKind.STRING] != list(words):
            return False
        self._at += len(words)
        return True

    @property
    def at_end(self) -> bool:
        """Whether nothing is left."""
        return self.next.kind is TokenKind.END

    def number(self, what: str, most: int) -> int:
        """Return the whole number that comes next; raises ShorthandError when there is none up to `most`."""
        token = self.take()
        if token.kind is not TokenKind.NUMBER:
            raise self.source.error_at(token, f"{what} is missing before {_said(token)}", "write a whole number")
        digits = token.text
        if len(digits) > 9:
            digits = digits.lstrip("0") or "0"
        if len(digits) > 9 or int(digits) > most:
            raise self.source.error_at(token, f"{digits[:12]} is too much for {what}", f"at most {most}")
        return int(digits)

    def finish(self) -> None:
        """Raise ShorthandError when something is left."""
        if not self.at_end:
            raise self.source.error_at(self.next, f"{_said(self.next)} does not belong here")


def _said(token: Token) -> str:
    return repr(token.text[:40]) if token.kind is not TokenKind.END else "the end of the line"


Atom = Callable[[Cursor], list[Item] | None]
"""Reads one item (or a run of them) at the cursor; None when none stands there."""


class Sequences(Generic[Item]):
    """Reads sequences of one kind of item.

    `close` settles what a bracket (or the whole) holds once it is read; `after` may read what follows an item.
    """

    def __init__(
        self,
        atom: Atom[Item],
        close: Callable[[list[Item], Cursor], list[Item]] = lambda items, _: items,
        after: Callable[[list[Item], Cursor], list[Item] | None] = lambda items, _: None,
    ) -> None:
        self._atom, self._close, self._after = atom, close, after

    def whole(self, cursor: Cursor) -> list[Item]:
        """Return the sequence up to the end of the statement; raises ShorthandError."""
        items = self._sequence(cursor, 0)
        cursor.finish()
        return items

    def _sequence(self, cursor: Cursor, depth: int) -> list[Item]:
        items: list[Item] = []
        while not cursor.at_end and cursor.next.text != ")":
            before = cursor.next
            items += self._item(cursor, depth)
            if len(items) > MOST_THREADS:
                raise _too_long(cursor, before, len(items))
        return self._close(items, cursor)

    def _item(self, cursor: Cursor, depth: int) -> list[Item]:
        first = cursor.next
        if cursor.takes("point"):
            items = self._primary(cursor, depth, first)
            items += items[-2:0:-1]
        elif cursor.takes("reversed"):
            items = self._primary(cursor, depth, first)[::-1]
        else:
            items = self._primary(cursor, depth, None)
        return self._with_marks(items, cursor)

    def _with_marks(self, items: list[Item], cursor: Cursor) -> list[Item]:
        while True:
            mark = cursor.next
            after = self._after(items, cursor)
            if after is not None:
                items = after
            elif mark.kind is TokenKind.TIMES:
                cursor.take()
                times = cursor.number("the number of times", MOST_THREADS)
                if len(items) * times > MOST_THREADS:
                    raise _too_long(cursor, mark, len(items) * times)
                if times == 0:
                    raise cursor.source.error_at(mark, "0 times", "write at least x1, or take it out")
                items = items * times if times > 1 else items
            elif cursor.takes("and", "back"):
                items = items + items[-2::-1]
            elif cursor.takes("and", "reversed"):
                items = items + items[::-1]
            else:
                return items
            if len(items) > MOST_THREADS:
                raise _too_long(cursor, mark, len(items))

    def _primary(self, cursor: Cursor, depth: int, prefix: Token | None) -> list[Item]:
        token = cursor.next
        if cursor.takes("("):
            if depth == MOST_DEPTH:
                raise cursor.source.error_at(token, f"more than {MOST_DEPTH} brackets stand in each other")
            items = self._sequence(cursor, depth + 1)
            if not cursor.takes(")"):
                raise cursor.source.error_at(token, "this bracket is not closed", "write ) where it ends")
            if not items:
                raise cursor.source.error_at(token, "nothing stands in the brackets")
            return items
        found = self._atom(cursor)
        if found is None:
            what = f"something must follow {prefix.text!r}" if prefix else f"{_said(token)} is not understood here"
            raise cursor.source.error_at(token, what)
        return found


def _too_long(cursor: Cursor, token: Token, length: int) -> Exception:
    return cursor.source.error_at(token, f"written out this is {length:,} long", f"at most {MOST_THREADS:,} are taken")


def number_run(cursor: Cursor, what: str, most: int) -> list[int] | None:
    """Return a number, or a run such as `1-4` or `4-1` written out, or None when no number comes next."""
    if cursor.next.kind is not TokenKind.NUMBER:
        return None
    first = cursor.number(what, most)
    if not cursor.takes("-"):
        return [first]
    last = cursor.number(what, most)
    step = 1 if last >= first else -1
    return list(range(first, last + step, step))
