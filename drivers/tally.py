"""Counts of everything that a driver heard and did not pass on, so that nothing is swallowed in silence."""

from __future__ import annotations

from collections import Counter
from enum import Enum


class Ignored(Enum):
    """Why something that arrived did not become an event."""

    BOUNCE = "contact changes taken as bounce"
    INTERRUPTED_PRESS = "presses void because the device fell silent meanwhile"
    TOO_SOON = "presses swallowed as double advance"
    NOISE_BYTE = "bytes outside any line"
    BAD_LINE = "lines cut short or with a wrong checksum"
    LOST_LINE = "lines missing by their sequence numbers"
    REPEATED_LINE = "lines that came twice"
    OTHER_VERSION = "lines of another protocol version"
    UNKNOWN_MESSAGE = "sound lines with unknown words"
    KEY_REPEAT = "repeats of a key held down"
    UNMAPPED_KEY = "keys without a meaning"
    LATE_WRITE = "lamp orders that the device did not take in time"


Tally = Counter[Ignored]
"""Every reason with its count. All keys stand from the start, so that another thread may copy it while it counts."""


def new_tally() -> Tally:
    """Return a tally with every count at zero."""
    return Counter(dict.fromkeys(Ignored, 0))
