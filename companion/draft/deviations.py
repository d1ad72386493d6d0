"""What a reader put up with in a file: each departure from the standard, once, with the first place it stands."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from companion.draft.errors import SourceLocation
from companion.draft.model import Draft


@dataclass(frozen=True, slots=True)
class Deviation:
    """One departure that was tolerated: where it first stands, what it is, and how often it occurs."""

    place: SourceLocation
    what: str
    times: int = 1

    def __str__(self) -> str:
        where = str(self.place)
        often = f" ({self.times} times)" if self.times > 1 else ""
        return (f"{where}: " if where else "") + self.what + often


class Read(NamedTuple):
    """A draft that was read, and every departure from its dialect's standard that was tolerated."""

    draft: Draft
    deviations: tuple[Deviation, ...] = ()


class Tolerated:
    """Gathers deviations while a file is read; one of a kind in one section is kept once and counted."""

    def __init__(self) -> None:
        self._first: dict[tuple[str, str], SourceLocation] = {}
        self._times: dict[tuple[str, str], int] = {}

    def note(self, what: str, place: SourceLocation | None = None) -> None:
        """Note that `what` was tolerated at `place`."""
        place = place or SourceLocation()
        kind = (place.section, what)
        self._first.setdefault(kind, place)
        self._times[kind] = self._times.get(kind, 0) + 1

    def all(self) -> tuple[Deviation, ...]:
        """Return what was noted, in the order of first occurrence."""
        return tuple(
            Deviation(place, what, self._times[section, what]) for (section, what), place in self._first.items()
        )
