"""The sley plan in shorthand: `sley: (1 1 2 2 0)x20` and `reed: 10/in`."""

from __future__ import annotations

from companion.draft.errors import DraftError
from companion.draft.shorthand_sequences import Cursor, Sequences, number_run
from companion.draft.shorthand_tokens import SourceText, Statement
from companion.draft.sley import MOST_DENTS, MOST_IN_DENT, Sley, even_sley, parse_reed


class SleyReader:
    """Reads the two statements; `sley` alone with one number means so many ends in every dent."""

    def __init__(self, source: SourceText, dents: Statement | None, reed: Statement | None) -> None:
        self._source, self._dents, self._reed = source, dents, reed

    def sley(self, ends: int) -> Sley:
        """Return the plan of a warp of so many ends; raises ShorthandError."""
        reed = None if self._reed is None else self._per_cm(self._reed)
        if self._dents is None:
            return Sley((), reed)
        cursor = Cursor(self._source, self._dents.tokens)
        if cursor.at_end:
            raise self._source.error_at(cursor.next, "no dent is told", "write such as: sley: (1 1 2 2 0)x20")
        first = cursor.next
        dents = Sequences[int](lambda at: number_run(at, "the ends of a dent", MOST_IN_DENT)).whole(cursor)
        if len(dents) > MOST_DENTS:
            raise self._source.error_at(first, f"{len(dents):,} dents", f"at most {MOST_DENTS:,} are taken")
        if len(self._dents.tokens) == 2:  # the number and the end
            if not dents[0]:
                raise self._source.error_at(first, "dents without an end", "write how many ends each dent takes")
            return even_sley(ends, dents[0], reed)
        return Sley(tuple(dents), reed)

    def _per_cm(self, statement: Statement) -> float:
        try:
            return parse_reed(statement.rest)
        except DraftError as error:
            raise self._source.error(statement.line, statement.column, error.what, error.mend) from error


def parse_sley(text: str, ends: int) -> Sley:
    """Return the plan of dents for so many ends, written as `2` or `(1 1 2 2 0)x20`; raises ShorthandError."""
    source = SourceText(f"sley: {' '.join(text.split())}")
    (statement,) = source.statements(("sley",), ())
    return SleyReader(source, statement, None).sley(ends)
