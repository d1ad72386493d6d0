"""Which part of a long list is on the screen: pages that are turned by a touch, never a bar to be dragged."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

One = TypeVar("One")


@dataclass(frozen=True, slots=True)
class Page(Generic[One]):
    """What is `shown` of a list; `number` counts from 0 and stays below `of`, which is 1 for a list on one page."""

    shown: tuple[One, ...]
    number: int
    of: int

    @property
    def words(self) -> str:
        """Say which page this is: `page 2 of 5`; nothing where there is only one."""
        return f"page {self.number + 1} of {self.of}" if self.of > 1 else ""


def page_of(things: Sequence[One], number: int, most: int) -> Page[One]:
    """Return a page of at most `most` things (1 or more); after the last page comes the first, and back.

    `page_of("abcde", 1, 2).shown` is `("c", "d")`.
    """
    pages = max(-(-len(things) // most), 1)
    number %= pages
    return Page(tuple(things[number * most : (number + 1) * most]), number, pages)
