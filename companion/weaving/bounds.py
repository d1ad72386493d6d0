"""How much of anything there can be at a loom: what lies beyond is a slip, a damaged journal, or somebody's bad joke.

The bounds of a draft stand in `draft.model`. A warp is held to all of them when it is made (`warp`), an event
before it is written and whenever it is folded (`progress`): so no file, journal or bundle brings in anything else.
"""

from __future__ import annotations

SHORTEST_CM = 0.01
LONGEST_CM = 1_000_000.0
"""Lengths of cloth and of warp that can be meant."""
LONGEST_BOBBIN_M = 1_000_000.0
MOST_PICKS_PER_CM = 10_000.0
FEWEST_PICKS_PER_CM = 0.001
MOST_TEX = 1_000_000.0
"""A yarn of a kilogram a metre."""
MOST_PIECES = 100
MOST_TOLD = 10_000
"""Picks told of at once."""
MOST_OPEN_FAULTS = 10_000
MOST_RUNS = 20_000
"""Times that the weaving of one piece went on elsewhere than in order; each is carried in the state."""
LONGEST_NOTE = 10_000
"""Letters of a note that is taken: some five pages."""
LONGEST_TEXT = 1_000_000
"""Letters of any text in an entry: older programs took notes of any length."""


def is_text(text: str) -> bool:
    """Tell whether a text can be written anywhere: halves of letters, which JSON can spell, are none."""
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True
