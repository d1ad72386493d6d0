"""Pages of a record, ready to show: each is rows of words, or one picture; and what can be done with them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from companion.present.fell import Picture

READING = "Reading the journal"


class RecordDeed(Enum):
    """The buttons, by their words."""

    LEAVE = "Back"
    EARLIER = "Page before"
    SAVE = "Save"
    BUNDLE = "Bundle"
    LATER = "Next page"


@dataclass(frozen=True, slots=True)
class RecordPage:
    """One page: its `title`, `rows`, and a `picture` where it has one.

    A row is a label and words; a heading has no words, a sentence no label.
    """

    title: str
    rows: tuple[tuple[str, str], ...] = ()
    picture: Picture | None = None
