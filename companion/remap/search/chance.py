"""Chance that is counted out by a fixed rule, so that the same question goes the same way every time.

A linear congruential generator (D.E. Knuth, The Art of Computer Programming 2, 3.2.1, from memory).

What it is used for, and that no proof leans on it: assets/mathematics.md, "Annealed feet".
"""

from __future__ import annotations

from collections.abc import Iterator


def chances(seed: int) -> Iterator[float]:
    """Yield numbers from 0 up to 1."""
    state = seed
    while True:
        state = (state * 6364136223846793005 + 1442695040888963407) % 2**64
        yield state / 2**64
