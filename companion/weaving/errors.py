"""Every exception that the weaving room raises."""

from __future__ import annotations


class WeavingError(ValueError):
    """Something that cannot be done or cannot have happened here: one clear line for the weaver."""


class ContradictionError(WeavingError):
    """An entry of a journal that cannot follow the entries before it: not of this warp, or altered."""
