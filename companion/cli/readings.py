"""The treadlings of a warp read as repeats, beside the weaving: a long one without repeats takes its time."""

from __future__ import annotations

import threading

from companion.draft.model import Draft
from companion.draft.treadling import TreadlingReading, read_treadling
from companion.weaving.warp import Warp

PATIENCE_S = 3.0
"""For so long a weaver who sits down waits, to be told her repeats from the first pick on."""


class Readings:
    """What has been read of each piece (by its index); nothing is read before it is asked for."""

    def __init__(self, patience_s: float = PATIENCE_S) -> None:
        self._patience_s = patience_s
        self._read: dict[int, TreadlingReading] = {}
        self._begun: set[int] = set()

    def of(self, warp: Warp, piece: int) -> TreadlingReading | None:
        """Return the reading of a piece; None while it is not ready, which only the first call waits for a little."""
        if piece not in self._begun:
            self._begun.add(piece)
            words = (piece, warp.pieces[piece].draft)
            reader = threading.Thread(target=self._take, args=words, name="treadling reader", daemon=True)
            reader.start()
            reader.join(self._patience_s)
        return self._read.get(piece)

    def _take(self, piece: int, draft: Draft) -> None:
        self._read[piece] = read_treadling(draft)
