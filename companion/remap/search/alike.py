"""The same question however the shafts are numbered: pulls named by the sheds that ask for them.

Pulls that the same sheds ask for always go together, so they count as one, and the pulls are put in the order of the
sheds that ask for them, sheds in the order of first use. Two drafts that differ only in the numbers of their shafts
become one question, so they get one answer: true by construction, whatever a search does. For fewest cords the pulls
are named so too, but none are put together, since each has its cord.

Lemmas and proofs: assets/mathematics.md, "Targets, pulls and columns".
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from companion.draft.masks import bit, bits_of, has_bit
from companion.remap.loom.targets import Column, Columns, Target


@dataclass(frozen=True, slots=True)
class PullNames:
    """The pulls of each new name, as a mask, in order."""

    pulls: tuple[int, ...]

    def named(self, column: int) -> Column:
        """Return a column by the new names: a name is in it when any of its pulls is, which opens the same sheds."""
        return Column(sum(bit(name) for name, pulls in enumerate(self.pulls) if column & pulls))

    def target(self, target: int) -> Target:
        """Return a target by the new names."""
        return Target(self.named(target))

    def unnamed(self, columns: Iterable[int]) -> Columns:
        """Return columns of new names by their pulls: the opposite of `named` for whole classes."""
        return tuple(Column(sum(self.pulls[name] for name in bits_of(column))) for column in columns)


def names_of(picks: Sequence[int]) -> PullNames:
    """Name the pulls of the targets of these picks: `names_of([0b110, 0b001])` has the two names 0b110 and 0b001."""
    targets = tuple(dict.fromkeys(picks))
    together: dict[tuple[bool, ...], int] = {}
    for pull in range(_width(targets)):
        lacked = tuple(not has_bit(target, pull) for target in targets)
        if not all(lacked):
            together[lacked] = together.get(lacked, 0) | bit(pull)
    return PullNames(tuple(together[lacked] for lacked in sorted(together)))


def names_with_cords(picks: Sequence[int], present: Sequence[int]) -> PullNames:
    """Name each pull for itself: ordered by the sheds that ask for it, then by the treadles that carry it now."""
    rows = (*dict.fromkeys(picks), *present)
    order = sorted(range(_width(rows)), key=lambda pull: tuple(not has_bit(row, pull) for row in rows))
    return PullNames(tuple(bit(pull) for pull in order))


def _width(rows: Sequence[int]) -> int:
    return max((row.bit_length() for row in rows), default=0)
