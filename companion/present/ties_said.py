"""How much tying there is, in words: weavers count ties and change a tie-up.

A cord is spoken of only as the thing that hangs on a treadle: where one may have slipped, and in `looms.md`.
"""

from __future__ import annotations

from companion.draft.units import counted

TO_CHANGE = "ties to change"
TO_MAKE = "ties to make"
NOT_TIED = "nothing tied"


def ties_words(ties: int) -> str:
    """Return how many ties there are: `6 ties`."""
    return counted(ties, "tie")


def to_change_words(ties: int) -> str:
    """Return how many ties are not as they should be: `6 ties to change`, `no tie to change`."""
    return f"{ties_words(ties) if ties else 'no tie'} to change"


def to_make_words(ties: int) -> str:
    """Return how many ties there are to make on treadles of which nothing is known: `12 ties to make`."""
    return f"{ties_words(ties)} to make"


def they_change_words(ties: int) -> str:
    """Return how many ties change from one tie-up to the next: `6 ties change`, `no tie changes`."""
    if ties == 0:
        return "no tie changes"
    return f"{ties_words(ties)} {'changes' if ties == 1 else 'change'}"
