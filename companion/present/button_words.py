"""The words on buttons that a screen itself brings, beside those of the question or the signs that it shows.

Three of them mean the same on every page and stand at the same place on it: Back leads one step back, Cancel leaves
whatever was begun and changes nothing, Done keeps what stands there.
"""

from __future__ import annotations

BACK = "Back"
CANCEL = "Cancel"
DONE = "Done"
MORE = "More"
EARLIER = "Earlier"
NOT_KNOWN = "Not known"
ANOTHER_NUMBER = "Another number"
CHOSEN = "Chosen"
STOP = "Stop"
SAVE_CARD = "Save the card"
TELL_MORE = "Tell more"
SIDE_BY_SIDE = "Other ways"
LOOK_CLOSER = "Look closer"
MORE_WAYS = "More ways"
DRESS_LOOM = "Dress the loom"
WEAVE_ON = "Weave on"


def more_words(page: int, pages: int) -> str:
    """Return what turns a page (counted from 0) of so many, and says which one is shown: `More 2/5`."""
    return f"{MORE} {page + 1}/{pages}"
