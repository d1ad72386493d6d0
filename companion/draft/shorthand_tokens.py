"""Shorthand as text: lines to statements, and statements to tokens that know their line and column."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import Enum
from typing import NamedTuple

from companion.draft.errors import ShorthandError, SourceLocation

_LINE_ENDS = re.compile("\r\n|\r|\n")
_STATEMENT = re.compile(r"\s*(?P<word>[A-Za-z][A-Za-z -]{0,40}?)\s*:(?P<rest>.*)", re.DOTALL)
_TOKEN = re.compile(
    r"""(?P<blank>\s+)
    |(?P<measure>[0-9]+\.[0-9]*|\.[0-9]+)
    |(?P<number>[0-9]+)
    |(?P<times>[xX×](?=\s*[0-9]))
    |(?P<colour>\#[0-9a-fA-F]{6}(?![0-9a-zA-Z]))
    |(?P<word>[^\W\d_][\w']*)
    |(?P<string>"(?:[^"]|"")*")
    |(?P<sign>[()+/,-])""",
    re.VERBOSE,
)

ALSO_WRITTEN = {"liftplan": "lift plan", "tieup": "tie-up", "tie up": "tie-up"}
"""Words that weavers write for a statement, besides its own."""


class TokenKind(Enum):
    """What a token is; the value says it to people."""

    NUMBER = "a number"
    MEASURE = "a number with a decimal point"
    TIMES = "x"
    COLOUR = "a colour"
    WORD = "a word"
    STRING = "a name in quotation marks"
    SIGN = "a sign"
    END = "the end"


_KINDS = {kind.name.lower(): kind for kind in TokenKind}


class Token(NamedTuple):
    """One token; `line` and `column` count from 1. A tuple, since a long lift plan has millions."""

    kind: TokenKind
    text: str
    line: int
    column: int


@dataclass(slots=True)
class Statement:
    """A word with a colon, what follows it on its line, and all that it says as tokens where it is not plain text."""

    word: str
    rest: str
    line: int
    column: int
    tokens: list[Token] = field(default_factory=list)


class SourceText:
    """The lines of a shorthand draft: makes statements of them, and errors that point into them."""

    def __init__(self, text: str) -> None:
        self.lines = _LINE_ENDS.split(text)

    def error(self, line: int, column: int, what: str, mend: str = "") -> ShorthandError:
        """Return the error at a place (line and column from 1)."""
        shown = self.lines[line - 1] if line <= len(self.lines) else ""
        return ShorthandError(what, place=SourceLocation(line=line, column=column), source_line=shown, mend=mend)

    def error_at(self, token: Token, what: str, mend: str = "") -> ShorthandError:
        """Return the error at a token."""
        return self.error(token.line, token.column, what, mend)

    def statements(self, words: Iterable[str], texts: Iterable[str]) -> list[Statement]:
        """Return the statements in order; `words` are those known, `texts` those of them whose rest is plain text.

        Raises ShorthandError at a line that is no statement.
        """
        known, plain = set(words), set(texts)
        statements: list[Statement] = []
        for number, line in enumerate(self.lines, 1):
            if not line.strip() or line.lstrip().startswith("#"):
                continue
            match = _STATEMENT.match(line)
            if match is not None:
                word = " ".join(match["word"].lower().split())
                word = ALSO_WRITTEN.get(word, word)
                if word not in known:
                    raise self._unknown(word, number, match.start("word") + 1, known)
                statements.append(Statement(word, match["rest"], number, match.start("word") + 1))
                if word not in plain:
                    statements[-1].tokens += self._tokens(number, match.start("rest"))
            elif not statements or statements[-1].word in plain - {"section", "block"}:
                column = len(line) - len(line.lstrip()) + 1
                raise self.error(number, column, "this line belongs to nothing", "begin it with a word and a colon")
            else:
                statements[-1].tokens += self._tokens(number, 0)
        for statement in statements:
            last = statement.tokens[-1] if statement.tokens else None
            line, column = (last.line, last.column + len(last.text)) if last else (statement.line, statement.column)
            statement.tokens.append(Token(TokenKind.END, "", line, column))
        return statements

    def _unknown(self, word: str, line: int, column: int, known: set[str]) -> ShorthandError:
        near = difflib.get_close_matches(word[:40], sorted(known), n=1)
        mend = f"is {near[0]!r} meant?" if near else f"the words are {', '.join(sorted(known))}"
        return self.error(line, column, f"there is no {word[:40]!r}", mend)

    def _tokens(self, number: int, start: int) -> list[Token]:
        line = self.lines[number - 1]
        tokens = []
        for match in _TOKEN.finditer(line, start):
            if match.start() != start:
                break
            kind, start = match.lastgroup, match.end()
            if kind is not None and kind != "blank":
                tokens.append(Token(_KINDS[kind], match[0], number, match.start() + 1))
        if start < len(line):
            what = "a quotation mark has no partner" if line[start] == '"' else f"{line[start]!r} is not understood"
            raise self.error(number, start + 1, what)
        return tokens
