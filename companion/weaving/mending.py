"""What mending a mistake of threading or sleying needs, counted in ends to draw out and in again. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from companion.draft.model import Draft
from companion.weaving.errors import WeavingError


@dataclass(frozen=True, slots=True)
class ThreadingMend:
    """How an end that is on the shaft `found` comes to where it belongs, `belongs` (indices; None: on no shaft).

    `crossed_with` is the neighbouring end (index) that may be on this one's heddle, so that the two change places; None
    where neither belongs on the shaft found. `ends_anew` are drawn in anew where all ends from here to the nearer
    selvedge are one heddle further.
    """

    end: int
    found: int
    belongs: int | None
    crossed_with: int | None
    ends_anew: int


def mend_threading(draft: Draft, end: int, found: int) -> ThreadingMend:
    """Return how to mend an end (index) found on a shaft (index); raises WeavingError where it belongs there."""
    belongs = draft.threading[end]
    if found == belongs:
        raise WeavingError(f"end {end + 1} belongs on shaft {found + 1}; choose the shaft that it is on by mistake")
    neighbours = [near for near in (end + 1, end - 1) if 0 <= near < draft.ends and draft.threading[near] == found]
    return ThreadingMend(end, found, belongs, neighbours[0] if neighbours else None, ends_to_selvedge(draft, end))


def ends_to_selvedge(draft: Draft, end: int) -> int:
    """Return how many ends there are from this one (index) to the nearer selvedge, itself included."""
    return min(end + 1, draft.ends - end)
