"""The drafts of a weaver, looked for again and again in a thread of its own: a stick may be put in at any moment."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path

FIRST_LOOK_S = 1.0
"""How long the first look is waited for: a stick that sleeps takes longer, and is told of when it is there."""

Drafts = tuple[Path, ...]


class DraftWatch:
    """Knows the drafts that `look` finds; calls `tell` from its thread with those that were not offered yet.

    One look at a time: a slow folder makes news come later, never a queue of looks.
    """

    def __init__(self, look: Callable[[], Drafts], tell: Callable[[Drafts], None]) -> None:
        self._look = look
        self._tell = tell
        self._known: Drafts = ()
        self._offered: frozenset[Path] | None = None
        self._looking = threading.Lock()
        self._looked = threading.Event()

    def look_again(self) -> None:
        """Begin another look, where none is going on; returns at once."""
        if self._looking.acquire(blocking=False):
            threading.Thread(target=self._one_look, name="draft watch", daemon=True).start()

    def offer(self) -> Drafts:
        """Return the drafts known now; these are no news from now on. Waits a moment for the very first look."""
        self._looked.wait(FIRST_LOOK_S)
        self._offered = frozenset(self._known)
        return self._known

    def _one_look(self) -> None:
        try:
            self._known = found = self._look()
        finally:
            self._looked.set()
            self._looking.release()
        if self._offered is None:
            self._offered = frozenset(found)
        news = tuple(path for path in found if path not in self._offered)
        if news:
            self._offered |= frozenset(news)
            self._tell(news)
