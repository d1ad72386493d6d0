"""What a tie-up is chosen for: the feet, few cords, few treadles, or the draft's own."""

from __future__ import annotations

from enum import Enum


class Aim(Enum):
    """What comes first in the choice of a tie-up; the cloth is the same whatever it is."""

    FEET = "feet"
    """Least footwork among all tie-ups with at most the loom's treadles, all orders and all feet."""
    CORDS = "cords"
    """Fewest cords changed among all tie-ups on the loom's treadles, then least footwork."""
    TREADLES = "treadles"
    """Fewest treadles; then fewest cords where the present tie-up is known; then footwork."""
    DRAFT = "draft"
    """The draft's own tie-up in its own order, only the feet chosen."""
