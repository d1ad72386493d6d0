"""What is told of each warp in the list of warps: that it cannot be opened, or how far its dressing is."""

from __future__ import annotations

from contextlib import suppress

from companion.journal.errors import JournalError
from companion.present.start import CANNOT_BE_OPENED
from companion.weaving.dressing_way import DressingWay
from companion.weaving.errors import WeavingError
from companion.wiring.dressing import dressing_in_brief
from companion.workshop import app


def told_of_warps(way: DressingWay) -> dict[str, str]:
    """Return what is to be told of warps by their names, of those of which there is anything; raises JournalError."""
    shelf = app.shelf()
    told = dict.fromkeys(shelf.unreadable(), CANNOT_BE_OPENED)
    for name in shelf.names():
        # Damage within a journal shows when it is touched.
        with suppress(JournalError, WeavingError):
            if name not in told and (words := dressing_in_brief(name, way)):
                told[name] = words
    return told
