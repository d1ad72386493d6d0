"""The yarns of shorthand: their names and colours, who colours the warp, and the weft that is thrown unless named."""

from __future__ import annotations

from functools import cached_property

from companion.draft.colours import parse_colour
from companion.draft.model import MOST_YARNS, Yarn
from companion.draft.shorthand_sequences import Cursor, Sequences
from companion.draft.shorthand_tokens import SourceText, Statement, Token, TokenKind
from companion.draft.wif_text import one_line
from companion.draft.wif_threads import DEFAULT_WARP, DEFAULT_WEFT


class YarnReader:
    """Reads the statements `yarn`, `warp` and `weft`; all methods raise ShorthandError."""

    def __init__(self, source: SourceText, statements: list[Statement]) -> None:
        self._source = source
        self._statements = statements
        self._index: dict[str, int] = {}
        made = [self._yarn(Cursor(source, one.tokens)) for one in statements if one.word == "yarn"]
        self.yarns = tuple(made) or (DEFAULT_WARP, DEFAULT_WEFT)
        self._index = {yarn.name: index for index, yarn in enumerate(self.yarns)}

    def named(self, cursor: Cursor, token: Token) -> int:
        """Return the yarn (index) that a token names."""
        name = name_in(token)
        if token.kind not in (TokenKind.WORD, TokenKind.STRING) or name not in self._index:
            if name in ("x", "X"):
                raise cursor.source.error_at(token, f"a number of times is missing behind {name!r}", "write such as x3")
            there = ", ".join(yarn.name for yarn in self.yarns[:8])
            raise cursor.source.error_at(token, f"no yarn is called {name[:40]!r}", f"the yarns are {there}")
        return self._index[name]

    def of_warp(self, ends: int) -> tuple[int, ...]:
        """Return the yarn of each end: the first one unless `warp` says more."""
        statement = self._only("warp")
        if statement is None:
            return (0,) * ends
        yarns = Sequences[int](self._atom).whole(Cursor(self._source, statement.tokens))
        if len(yarns) == 1:
            return tuple(yarns) * ends
        if len(yarns) != ends:
            what = f"{len(yarns)} ends have a colour, but {ends} are threaded"
            raise self._source.error(statement.line, statement.column, what, "name one yarn, or one for each end")
        return tuple(yarns)

    def usual_weft(self, cursor: Cursor) -> int:
        """Return the yarn of picks that name no shuttle: that of `weft`, or the only one, or the second of two."""
        if self._weft is not None:
            return self._weft
        if len(self.yarns) > 2:
            mend = "name the shuttle before the picks, or add weft: with the usual one"
            raise cursor.source.error_at(cursor.next, "picks stand here without a shuttle", mend)
        return len(self.yarns) - 1

    @cached_property
    def _weft(self) -> int | None:
        statement = self._only("weft")
        if statement is None:
            return None
        cursor = Cursor(self._source, statement.tokens)
        yarn = self.named(cursor, cursor.take())
        cursor.finish()
        return yarn

    def _only(self, word: str) -> Statement | None:
        return next((statement for statement in self._statements if statement.word == word), None)

    def _atom(self, cursor: Cursor) -> list[int] | None:
        if cursor.next.kind not in (TokenKind.WORD, TokenKind.STRING):
            return None
        return [self.named(cursor, cursor.take())]

    def _yarn(self, cursor: Cursor) -> Yarn:
        named = cursor.take()
        if named.kind not in (TokenKind.WORD, TokenKind.STRING):
            raise self._source.error_at(named, "a yarn needs a name", "write a name and a colour: oat #dccfae")
        name = name_in(named)
        if name in self._index:
            raise self._source.error_at(named, f"two yarns are called {name[:40]!r}", "give each its own name")
        if len(self._index) == MOST_YARNS:
            raise self._source.error_at(named, f"more than {MOST_YARNS} yarns")
        self._index[name] = len(self._index)
        coloured = named if cursor.at_end else cursor.take()
        colour = parse_colour(name_in(coloured))
        if colour is None:
            mend = "write it as #rrggbb, or a plain word such as red"
            raise self._source.error_at(coloured, f"{coloured.text[:40]!r} is no colour known here", mend)
        cursor.finish()
        return Yarn(name, colour)


def name_in(token: Token) -> str:
    """Return the name that a word or a quoted token is; a doubled quotation mark in quotes is one."""
    if token.kind is TokenKind.STRING:
        return one_line(token.text[1:-1].replace('""', '"'))
    return token.text
