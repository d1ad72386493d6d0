"""Cords to untie and to tie between one tie-up and the next, and which column goes to which treadle to have few.

Lemmas and proofs: assets/mathematics.md, "Cords and places".
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

from companion.draft.masks import NO_SHAFT, Shed, count, shafts_of, shed_of, within, without
from companion.remap.loom.loom import Tie, TieUp
from companion.remap.loom.targets import Column, Columns, Target


@dataclass(frozen=True, slots=True)
class CordChange:
    """What to do under one treadle (index from 0): shafts to untie and to tie, from the upper and the lower lams.

    On rising looms only the `up` parts are used, on sinking looms only the `down` parts.
    """

    treadle: int
    untie_up: Shed
    untie_down: Shed
    tie_up: Shed
    tie_down: Shed

    @property
    def cords(self) -> int:
        """How many cords are untied or tied."""
        return count(self.untie_up) + count(self.untie_down) + count(self.tie_up) + count(self.tie_down)


def cord_changes(present: TieUp, wanted: TieUp) -> tuple[CordChange, ...]:
    """Return the changes that make `wanted` out of `present`, treadle by treadle from the left; none where equal.

    At a treadle the old cords come off before the new ones go on, so that no cord hangs in the way; a person under
    the loom moves along the treadles once.
    """
    changes = []
    for treadle in range(max(len(present), len(wanted))):
        old, new = _tie_at(present, treadle), _tie_at(wanted, treadle)
        if old != new:
            changes.append(
                CordChange(
                    treadle,
                    untie_up=without(old.up, new.up),
                    untie_down=without(old.down, new.down),
                    tie_up=without(new.up, old.up),
                    tie_down=without(new.down, old.down),
                )
            )
    return tuple(changes)


def cords_between(present: TieUp, wanted: TieUp) -> int:
    """Return how many cords change: tying one and untying one count 1 each."""
    return sum(change.cords for change in cord_changes(present, wanted))


def _tie_at(tieup: TieUp, treadle: int) -> Tie:
    return tieup[treadle] if treadle < len(tieup) else Tie(NO_SHAFT, NO_SHAFT)


def forced(columns: Sequence[Column], targets: Iterable[Target], most_pressed: int) -> tuple[int, ...]:
    """Return of each column the pulls that no answer inside these columns lacks there.

    A pull is forced when without it some target is not to be had even if every column could shrink for each target to
    what it has of it, and any `most_pressed` treadles could be pressed together.
    """
    must = [0] * len(columns)
    for target in set(targets):
        for at, pulls in enumerate(_forced_for(target, [column & target for column in columns], most_pressed)):
            must[at] |= pulls & columns[at]
    return tuple(must)


def trimmed(
    columns: Sequence[Column], present: Sequence[Column], still_open: Callable[[Sequence[Column], Column], bool]
) -> Columns:
    """Leave off, one after the other, each cord that is not tied at present and that the sheds can do without.

    `still_open` tells whether all sheds that were open with a column, the second, are open on what it becomes.
    """
    left: Columns = tuple(columns)
    before: Columns = ()
    while left != before:
        before = left
        for at, column in enumerate(before):
            for pull in _pulls(column):
                fewer = _less(left, at, pull)
                if not within(pull, present[at]) and still_open(fewer, left[at]):
                    left = fewer
    return left


def untouched(
    columns: Sequence[Column], present: Sequence[Column], still_open: Callable[[Sequence[Column], Column], bool]
) -> Columns:
    """Leave as it is at present, one after the other, each cord that the sheds allow to be left so.

    What is left hangs between the two: whoever wants these very columns next changes no more cords than by way of them.
    `still_open` as in `trimmed`.
    `still_open` as in `trimmed`.
    """
    left: Columns = tuple(columns)
    for at, old in enumerate(present):
        for pull in _pulls(left[at] ^ old):
            as_before = (*left[:at], Column(left[at] ^ pull), *left[at + 1 :])
            if still_open(as_before, left[at]):
                left = as_before
    return left


def _forced_for(target: int, parts: Sequence[int], most_pressed: int) -> list[int]:
    """Return of each part what it alone brings to the target, whichever of the parts are pressed for it."""
    useful = [at for at, part in enumerate(parts) if part]
    must = [target] * len(parts)
    for chosen in combinations(useful, min(most_pressed, len(useful))):
        joined = once = 0
        for at in chosen:
            once = (once & ~parts[at]) | (parts[at] & ~joined)
            joined |= parts[at]
        if joined == target:
            needed = [0] * len(parts)
            for at in chosen:
                needed[at] = parts[at] & once
            must = [one & other for one, other in zip(must, needed, strict=True)]
            if not any(must):
                break
    return must


def _pulls(column: int) -> tuple[int, ...]:
    return tuple(shed_of([shaft]) for shaft in shafts_of(Shed(column)))


def _less(columns: Sequence[Column], at: int, pull: int) -> Columns:
    return (*columns[:at], Column(without(Shed(columns[at]), Shed(pull))), *columns[at + 1 :])


def cheapest_places(costs: Sequence[Sequence[int]]) -> tuple[int, ...]:
    """Return for each row (column of the tie-up) its own place (treadle) so that the costs add up to the least.

    `cheapest_places([[1, 2], [1, 4]])` is `(1, 0)`. Rows may be fewer than places; ValueError where they are more.
    Exact: the Hungarian method (H.W. Kuhn, Naval Research Logistics Quarterly 2, 1955, 83-97), one row at a time along
    a shortest path.
    """
    rows, places = len(costs), len(costs[0]) if costs else 0
    if rows > places:
        raise ValueError("more rows than places")
    row_price, place_price = [0] * rows, [0] * (places + 1)
    row_at: list[int | None] = [None] * (places + 1)  # the last place is where a new row enters
    for new_row in range(rows):
        row_at[places] = new_row
        at = places
        nearest: list[float] = [float("inf")] * places
        came_from = [places] * places
        done = [False] * (places + 1)
        while (row := row_at[at]) is not None:
            done[at] = True
            for place in range(places):
                if not done[place]:
                    reduced = costs[row][place] - row_price[row] - place_price[place]
                    if reduced < nearest[place]:
                        nearest[place], came_from[place] = reduced, at
            after = min((place for place in range(places) if not done[place]), key=lambda place: nearest[place])
            step = int(nearest[after])
            for place in range(places + 1):
                if done[place]:
                    reached = row_at[place]
                    if reached is not None:
                        row_price[reached] += step
                    place_price[place] -= step
                elif place < places:
                    nearest[place] -= step
            at = after
        while at != places:
            row_at[at] = row_at[came_from[at]]
            at = came_from[at]
        row_at[places] = None
    found = {row: place for place, row in enumerate(row_at) if row is not None}
    return tuple(found[row] for row in range(rows))
