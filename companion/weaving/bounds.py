"""How much of anything there can be at a loom: what lies beyond is a slip, a damaged journal, or somebody's bad joke.

The bounds of a draft stand in `draft.model`. A warp is held to all of them when it is made (`warp`), an event
before it is written and whenever it is folded (`progress`): so no file, journal or bundle brings in anything else.
"""

from __future__ import annotations

from companion.draft.units import Amount, picks_words
from companion.weaving.errors import WeavingError

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
MOST_MARKED_SQUARES = 5_000
"""Marks that stand at once on one warp; each is carried in the state."""
MOST_RUNS = 20_000
"""Times that the weaving of one piece went on elsewhere than in order; each is carried in the state."""
LONGEST_NOTE = 10_000
"""Letters of a note that is taken: some five pages."""
LONGEST_TEXT = 1_000_000
"""Letters of any text in an entry: older programs took notes of any length."""


def check_length(where: str, what: str, cm: float | None, *, from_zero: bool = False) -> None:
    """Raise WeavingError, which begins with `where`, for a length that cannot be, or that is 0 unless `from_zero`."""
    if cm is None or 0 < cm <= LONGEST_CM or (from_zero and cm == 0):
        return
    least = "from 0" if from_zero else "above 0"
    raise WeavingError(f"{where}: a {what} of ", Amount(cm), f"; give a number {least} that can be woven")


def check_width(where: str, cm: float | None, widest_cm: float | None, loom: str) -> None:
    """Raise WeavingError for a width in the reed that cannot be, or that a loom of this name does not weave."""
    check_length(where, "width in the reed", cm)
    if cm is not None and widest_cm is not None and cm > widest_cm:
        raise WeavingError(
            f"{where} is ",
            Amount(cm),
            f" wide in the reed; loom {loom!r} weaves ",
            Amount(widest_cm),
            "; state the width that was sleyed, or take a wider loom",
        )


def check_density(where: str, per_cm: float | None) -> None:
    """Raise WeavingError, which begins with `where`, for picks per cm that cannot be."""
    if per_cm is not None and not FEWEST_PICKS_PER_CM <= per_cm <= MOST_PICKS_PER_CM:
        raise WeavingError(f"{where}: ", Amount(per_cm, picks_words), "; give a number above 0 that can be woven")


def is_text(text: str) -> bool:
    """Tell whether a text can be written anywhere: halves of letters, which JSON can spell, are none."""
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def short_enough(note: str) -> str:
    """Return a note without blanks around it; raises WeavingError for one that is no note any more, or no text."""
    note = note.strip()
    if len(note) > LONGEST_NOTE:
        raise WeavingError(f"a note of {len(note):,} letters; write at most {LONGEST_NOTE:,}, or several notes")
    if not is_text(note):
        raise WeavingError("a note with letters that are none; write it again")
    return note
