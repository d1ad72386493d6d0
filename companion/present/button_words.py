"""The words on buttons that a screen itself brings, beside those of the question or the signs that it shows."""

from __future__ import annotations

MORE = "More"
EARLIER = "Earlier"
START_AGAIN = "Start again"
GO_BACK = "Go back"
NEVER_MIND = "Never mind"
NOT_KNOWN = "Not known"
THAT_IS_IT = "That is it"
CHOSEN = "Chosen"
STOP = "Stop"
ANOTHER_LOOM = "Another loom"
BACK_TO_WARPS = "Back to the warps"
SAVE_CARD = "Save the card"
TELL_MORE = "Tell more"
LOOK_CLOSER = "Look closer"
SIDE_BY_SIDE = "Side by side"
MORE_WAYS = "More ways"


def more_words(page: int, pages: int) -> str:
    """Return what turns a page (counted from 0) of so many, and says which one is shown: `More: page 2 of 5`."""
    return f"{MORE}: page {page + 1} of {pages}"
