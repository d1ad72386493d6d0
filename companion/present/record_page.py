"""Pages of a record, ready to show: each is rows of words, or one picture; and what can be done with them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

from companion.draft.model import Colour
from companion.present.fell import Picture

MORE_BELOW = "more below"
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

    A row is a label and words; a heading has no words, a sentence no label. `yarns` are the colours of the yarns that
    rows (indices) are about.
    """

    title: str
    rows: tuple[tuple[str, str], ...] = ()
    picture: Picture | None = None
    yarns: Mapping[int, Colour] = field(default_factory=dict)
