"""How long something took, in words and numbers: rounded here and nowhere else, always to the nearest.

An age ("3 days ago") is no duration: it is told by what has passed whole.
"""

from __future__ import annotations

MINUTE_MS = 60_000
_IN_HOURS_FROM = 90
"""On a screen so many minutes and more are told in hours."""


def whole_minutes(milliseconds: int) -> int:
    """Return the nearest whole number of minutes; half a minute is one."""
    return (milliseconds + MINUTE_MS // 2) // MINUTE_MS


def tenths_of_minutes(milliseconds: int) -> float:
    """Return minutes to the nearest tenth, for documents: 90,000 ms are 1.5."""
    tenth_ms = MINUTE_MS // 10
    return (milliseconds + tenth_ms // 2) // tenth_ms / 10


def duration_words(milliseconds: int) -> str:
    """Return a duration on a page: `2 h 05 min`, or `40 s` under a minute."""
    seconds = (milliseconds + 500) // 1000
    if seconds < 60:
        return f"{seconds} s"
    minutes = whole_minutes(milliseconds)
    return f"{minutes // 60} h {minutes % 60:02} min" if minutes >= 60 else f"{minutes} min"


def short_duration_words(milliseconds: int) -> str:
    """Return a duration on a screen: `40 min`, `2.5 h`; empty where it is no minute."""
    minutes = whole_minutes(milliseconds)
    if not minutes:
        return ""
    return f"{minutes} min" if minutes < _IN_HOURS_FROM else f"{minutes / 60:.1f} h"
