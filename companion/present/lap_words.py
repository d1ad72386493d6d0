"""What stops and cords are counted for where a section woven to a length is tied anew within, in one clause."""

from __future__ import annotations

from companion.remap.remapped import Remapping


def lap_words(answer: Remapping) -> str:
    """Return `counted for one lap of Body, each tied anew`; empty where no lap has a stop within."""
    names = answer.tied_anew_each_lap
    if not names:
        return ""
    *before, last = names
    laps = f"{', '.join(before)} and of {last}" if before else last
    return f"counted for one lap of {laps}, each re-tied"
