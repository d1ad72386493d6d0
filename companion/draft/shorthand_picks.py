"""The picks of shorthand: treadles or shafts, the shuttles that throw them, tabby between pattern picks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from companion.draft.shorthand_sequences import Cursor, Sequences, number_run
from companion.draft.shorthand_tokens import Token, TokenKind

YarnOf = Callable[[Cursor, Token], int]
"""Returns the yarn (index) that a token names, or raises ShorthandError."""


@dataclass(frozen=True, slots=True)
class Pick:
    """What moves (numbers from 1) and the yarn index, or None while an outer bracket may still name the shuttle.

    `tabby` marks a plain-weave pick; which of the two it is, is known once all picks stand in a row.
    """

    moved: tuple[int, ...] = ()
    yarn: int | None = None
    tabby: bool = False


@dataclass(frozen=True, slots=True)
class _Shuttles:
    """From here to the end of the bracket the picks are thrown by these yarns in turn."""

    yarns: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class PickReader:
    """Reads picks. `what` is `"treadle"` or `"shaft"`, `most` the highest number, `drawn_in` the threading as picks.

    `drawn_in` is None where it cannot be used; `tabby` tells whether plain-weave picks were declared.
    """

    what: str
    most: int
    yarn_of: YarnOf
    drawn_in: tuple[int, ...] | None
    tabby: bool

    def read(self, cursor: Cursor) -> list[Pick]:
        """Return the picks up to the end of the statement; raises ShorthandError."""
        items = Sequences[Pick | _Shuttles](self._atom, _thrown, self._with_tabby).whole(cursor)
        return [item for item in items if isinstance(item, Pick)]

    def one(self, cursor: Cursor) -> tuple[int, ...]:
        """Return what moves at one pick, such as `1+3`; raises ShorthandError."""
        numbers = [cursor.number(f"a {self.what}", self.most)]
        while cursor.takes("+"):
            numbers.append(cursor.number(f"a {self.what}", self.most))
        return tuple(number for number in numbers if number)

    def _atom(self, cursor: Cursor) -> list[Pick | _Shuttles] | None:
        first = cursor.next
        if cursor.takes("as", "drawn", "in"):
            if self.drawn_in is None:
                mend = "thread every end and tie a treadle for each shaft"
                raise cursor.source.error_at(first, "the treadling cannot be as drawn in here", mend)
            return [Pick((shaft,)) for shaft in self.drawn_in]
        if first.kind in (TokenKind.WORD, TokenKind.STRING):
            return self._shuttles(cursor)
        run = number_run(cursor, f"a {self.what}", self.most)
        if run is None:
            return None
        if len(run) == 1 and cursor.takes("+"):
            run_with = self.one(cursor)
            return [Pick(tuple(number for number in (*run, *run_with) if number))]
        return [Pick((number,) if number else ()) for number in run]

    def _shuttles(self, cursor: Cursor) -> list[Pick | _Shuttles]:
        yarns = [self.yarn_of(cursor, cursor.take())]
        while cursor.takes("/"):
            yarns.append(self.yarn_of(cursor, cursor.take()))
        if cursor.next.kind is TokenKind.TIMES:
            raise cursor.source.error_at(cursor.next, "a shuttle stands here, not a pick", "write the picks first")
        return [_Shuttles(tuple(yarns))]

    def _with_tabby(self, items: list[Pick | _Shuttles], cursor: Cursor) -> list[Pick | _Shuttles] | None:
        mark = cursor.next
        if not (cursor.takes("with", "tabby") or cursor.takes("use", "tabby")):
            return None
        if not self.tabby:
            raise cursor.source.error_at(mark, "no tabby is declared", "add a line such as: tabby: linen 5 6")
        if any(isinstance(item, Pick) and item.tabby for item in items):
            raise cursor.source.error_at(mark, "these picks have their tabby already")
        if not any(isinstance(item, Pick) for item in items):
            raise cursor.source.error_at(mark, "there is no pattern pick before it", "write the picks first")
        return [both for item in items for both in ((item, Pick(tabby=True)) if isinstance(item, Pick) else (item,))]


def _thrown(items: list[Pick | _Shuttles], cursor: Cursor) -> list[Pick | _Shuttles]:
    """Settle who throws the picks of a bracket, as far as shuttles are named in it; tabby has its own shuttle."""
    yarns: tuple[int, ...] = ()
    turn = 0
    thrown: list[Pick | _Shuttles] = []
    for item in items:
        if isinstance(item, _Shuttles):
            yarns, turn = item.yarns, 0
        elif yarns and item.yarn is None and not item.tabby:
            thrown.append(replace(item, yarn=yarns[turn % len(yarns)]))
            turn += 1
        else:
            thrown.append(item)
    return thrown
