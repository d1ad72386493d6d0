"""Levers: a table loom has no treadles, so the answer is which levers to change between one pick and the next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from companion.draft.masks import NO_SHAFT, Shed, count, without


@dataclass(frozen=True, slots=True)
class LeverChange:
    """The levers to move before a pick: shafts to raise and shafts to lower."""

    raise_: Shed
    lower: Shed

    @property
    def moves(self) -> int:
        """How many levers are moved."""
        return count(self.raise_) + count(self.lower)


def lever_changes(sheds: Sequence[Shed]) -> tuple[LeverChange, ...]:
    """Return the lever changes before each pick, all shafts down at first: sheds 1, 12, 2 raise 1; raise 2; drop 1.

    Fewest by nature: exactly the levers move whose shaft changes.
    """
    changes = []
    before = NO_SHAFT
    for shed in sheds:
        changes.append(LeverChange(raise_=without(shed, before), lower=without(before, shed)))
        before = shed
    return tuple(changes)
