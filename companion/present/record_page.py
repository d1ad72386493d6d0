"""Pages of a record, ready to show: each is rows of words, or one picture."""

from __future__ import annotations

from dataclasses import dataclass

from companion.present.fell import Picture


@dataclass(frozen=True, slots=True)
class RecordPage:
    """One page: its `title`, `rows`, and a `picture` where it has one.

    A row is a label and words; a heading has no words, a sentence no label.
    """

    title: str
    rows: tuple[tuple[str, str], ...] = ()
    picture: Picture | None = None
