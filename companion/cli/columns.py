"""Rows of words as columns of text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence


def columns(rows: Sequence[tuple[str, ...]]) -> Iterator[str]:
    """Yield each row as a line, what stands below one another beginning at the same place."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    for row in rows:
        yield "  ".join(f"{words:<{width}}" for words, width in zip(row, widths, strict=True)).rstrip()
