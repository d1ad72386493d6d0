"""Reach 1: every way to open every target, written out as pairs of columns.

A column may as well be all that the targets which use it have in common, so the columns worth a look are the targets
and their intersections. For every target the pairs of these that join to it are its *choices*, and so is the target
by itself. A set of columns is an answer when it holds both columns of some choice of every target. Few treadles are
shared by chance, so the lists are short: some thousands for thirty sheds. Where they are not, nothing is listed.

What is true of the choices alone is settled here:

- a target with a choice of which both columns are in has what it needs;
- a column in all choices of a target must be in;
- a column that only one target can use, and that is no target, is of no use: that target may as well have a column of
  its own, in its place.

The last holds below a branch too: an answer that it leaves out can be turned into one with no more columns, in which
the target has its own column, and that one lies here or below the branch in which that column is in.
Columns are plain ints in `columns_worth_a_look`, and their bits are worked on directly, for speed.

Lemmas and proofs: assets/mathematics.md, "Choices and prices".
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce
from operator import and_

import numpy as np
import numpy.typing as npt

from companion.draft.masks import bit, bits_of, first_bits
from companion.remap.loom.targets import Column, Columns, Target

Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]

MOST_COLUMNS = 4000
MOST_CHOICES = 30_000
"""Beyond these the lists would take too long to write; some tenths of a second up to here."""

NOTHING = 0
"""The index of the empty column, which is there for nothing: the other one of a target by itself."""


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All columns worth a look, the empty one first, and which of them are targets."""

    columns: tuple[int, ...]
    targets: tuple[int, ...]
    is_target: Bools


@dataclass(frozen=True, slots=True)
class Choices:
    """The choices left to the targets that are not open yet, and the columns that are in."""

    catalogue: Catalogue
    taken: Bools
    """For each column whether it is in; the empty one always is."""
    of: Ints
    """For each choice, in rising order, the index of the target that it opens."""
    one: Ints
    other: Ints
    """For each choice its two columns, by index."""

    @property
    def cost(self) -> int:
        """How many columns are in, the empty one not counted."""
        return int(self.taken.sum()) - 1

    @property
    def columns(self) -> Columns:
        """The columns that are in: an answer when no target is left."""
        return tuple(Column(self.catalogue.columns[k]) for k in np.flatnonzero(self.taken) if k != NOTHING)

    def among(self, keep: Bools) -> Choices | None:
        """Keep only some of the choices (`keep`: one bool per choice); None when that leaves some target with none."""
        of = self.of[keep]
        if len(np.unique(of)) < len(np.unique(self.of)):
            return None
        return Choices(self.catalogue, self.taken, of, self.one[keep], self.other[keep])

    def with_column(self, column: int) -> Choices:
        """Take a column, by index."""
        return self._taking(np.array([column]))

    def without_column(self, column: int) -> Choices | None:
        """Do without a column, by index; None when some target cannot."""
        return self.among((self.one != column) & (self.other != column))

    def settled(self) -> Choices | None:
        """Draw all conclusions that the choices alone allow; None when some target has no choice left."""
        now = self
        size = len(now.taken)
        while True:
            has = np.unique(now.of[now.taken[now.one] & now.taken[now.other]])
            keep = ~np.isin(now.of, has)
            now = Choices(now.catalogue, now.taken, now.of[keep], now.one[keep], now.other[keep])
            if not len(now.of):
                return now
            uses, times = np.unique(
                np.concatenate([now.of * size + now.one, now.of * size + now.other]), return_counts=True
            )
            users = np.bincount(uses % size, minlength=size)
            useless = (users < 2) & ~now.catalogue.is_target & ~now.taken
            kept = ~(useless[now.one] | useless[now.other])
            if not kept.all():
                fewer = now.among(kept)
                if fewer is None:
                    return None
                now = fewer
                continue
            must = uses[times == np.bincount(now.of)[uses // size]] % size
            must = must[~now.taken[must]]
            if not len(must):
                return now
            now = now._taking(must)

    def _taking(self, columns: Ints) -> Choices:
        taken = self.taken.copy()
        taken[columns] = True
        return Choices(self.catalogue, taken, self.of, self.one, self.other)


def choices_of(targets: Sequence[Target]) -> Choices | None:
    """Return all choices of all targets, or None when there are too many to write out.

    The sheds 1, 2 and 12 of two shafts have a choice each for 1 and 2, and two for 12: by itself, or both others.
    """
    worth = columns_worth_a_look(targets)
    if worth is None:
        return None
    index = {column: k for k, column in enumerate((0, *worth))}
    rows: list[tuple[int, int, int]] = []
    for at, target in enumerate(targets):
        rows += [(at, index[one], index[other]) for one, other in pairs_that_join(target, worth)]
        if len(rows) > MOST_CHOICES:
            return None
    known = set(targets)
    catalogue = Catalogue(tuple(index), tuple(targets), np.array([column in known for column in index]))
    taken = np.zeros(len(index), dtype=np.bool_)
    taken[NOTHING] = True
    of, one, other = np.array(rows, dtype=np.int64).T.copy()
    return Choices(catalogue, taken, of, one, other)


def columns_worth_a_look(targets: Sequence[int]) -> list[int] | None:
    """Return the targets and all that several of them have in common, or None when these are too many."""
    known = set(targets)
    fresh = known
    while fresh:
        fresh = {column & target for column in fresh for target in targets} - known - {0}
        known = known | fresh
        if len(known) > MOST_COLUMNS:
            return None
    return sorted(known)


def pairs_that_join(target: int, worth: Sequence[int]) -> list[tuple[int, int]]:
    """Return the pairs of columns that join to a target, and the target by itself."""
    inside = [column for column in worth if not column & ~target and column != target]
    holding = dict.fromkeys(bits_of(target), 0)
    for at, column in enumerate(inside):
        for pull in bits_of(column):
            holding[pull] |= bit(at)
    pairs = [(target, 0)]
    for at, column in enumerate(inside):
        fitting = reduce(and_, (holding[pull] for pull in bits_of(target & ~column)))
        pairs += [(column, inside[k]) for k in bits_of(fitting & ~first_bits(at + 1))]
    return pairs
