"""The last few answers to questions that take long: the same sheds are asked for once more for every other aim.

Nothing is found here that a search would not find again: what is kept depends on its key alone, since engines count
nodes and never time (assets/mathematics.md, "The portfolio").
"""

from __future__ import annotations

from collections.abc import Hashable
from typing import Generic, TypeVar

Key = TypeVar("Key", bound=Hashable)
Kept = TypeVar("Kept")


class LastFew(Generic[Key, Kept]):
    """Keeps what was found last, for so many keys; searches in several threads at once may lose one, never mix them."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._kept: tuple[tuple[Key, Kept], ...] = ()

    def get(self, key: Key) -> Kept | None:
        """Return what is kept under this key, or None."""
        return next((kept for known, kept in self._kept if known == key), None)

    def keep(self, key: Key, kept: Kept) -> None:
        """Keep this in the place of what is oldest."""
        others = tuple(one for one in self._kept if one[0] != key)
        self._kept = ((key, kept), *others[: self._most - 1])
