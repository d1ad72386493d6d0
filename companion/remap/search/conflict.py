"""Which sheds are in each other's way: a set that does not fit although every smaller part of it does.

Lemmas and proofs: assets/mathematics.md, "Conflicts".
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from companion.draft.masks import Shed

FitsOrUnknown = bool | None
"""Whether sheds fit on one tie-up; None when the search was stopped before it knew."""


@dataclass(frozen=True, slots=True)
class Conflict:
    """Sheds that do not fit the loom together.

    `irreducible`: leaving out any one of them makes the rest fit. It is not said that no smaller conflict exists
    elsewhere: that is a different and harder question.
    """

    sheds: tuple[Shed, ...]
    irreducible: bool


def conflict_among(sheds: Sequence[Shed], fits: Callable[[Sequence[Shed]], FitsOrUnknown]) -> Conflict:
    """Return an irreducible conflict among sheds that do not fit together.

    By leaving out one shed after another for good wherever the rest still does not fit; since a part of what fits
    fits, a shed that was needed once stays needed. Where `fits` does not know, the shed stays, and the conflict is
    not called irreducible. The sheds given first are left out first.
    """
    left = list(sheds)
    irreducible = True
    for shed in sheds:
        without = [other for other in left if other != shed]
        verdict = fits(without)
        if verdict is None:
            irreducible = False
        elif not verdict:
            left = without
    return Conflict(tuple(left), irreducible)
