"""Cloths for tests, written as rows: pick 1 first, `x` where the warp is up."""

from __future__ import annotations

from companion.draft.cloth import crossings
from companion.draft.masks import shed_of


def cloth_of(rows):
    """The crossings of rows such as `["x.x.", ".x.x"]` or lists of booleans, each end on a shaft of its own."""
    lifts = [shed_of(end + 1 for end, up in enumerate(row) if up is True or up == "x") for row in rows]
    return crossings(range(len(rows[0]) if rows else 0), lifts)


def twill(*overs_and_unders, picks=None):
    """A twill that rises one end per pick, warp over and under as told: `twill(2, 2)`, `twill(1, 3)`.

    Pick 1 starts at end 1 with the first number of ends up.
    """
    line = [step % 2 == 0 for step, length in enumerate(overs_and_unders) for _ in range(length)]
    n = len(line)
    return [[line[(end - pick) % n] for end in range(n)] for pick in range(picks or n)]


def satin(ends, counter, *, warp_faced=False):
    """A weft-faced satin: pick p lifts end 1 + p x counter; `warp_faced` turns it over."""
    return [[(end == pick * counter % ends) != warp_faced for end in range(ends)] for pick in range(ends)]


def repeated(rows, down=2, across=2):
    """The rows woven `down` times over and `across` times side by side."""
    return [list(row) * across for row in rows] * down
