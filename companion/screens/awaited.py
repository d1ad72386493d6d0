"""A flow at the loom that asks on once what it did is on disk."""

from __future__ import annotations

from companion.present.asking import AndThen, AtLoom, FlowStep
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp


class Awaited:
    """How many commands must still come onto the disk before a flow asks on, and what it asks then."""

    def __init__(self) -> None:
        self._left = 0
        self._then: AndThen | None = None

    def __bool__(self) -> bool:
        return self._left > 0

    def begin(self, then: AndThen) -> None:
        """Wait for the commands of this; they are handed on one after another."""
        self._left, self._then = len(then.commands), then

    def forget(self) -> None:
        """Wait no longer: whoever has left a flow is not asked on when the disk is done."""
        self._left, self._then = 0, None

    def one_done(self, warp: Warp, progress: Progress) -> FlowStep[AtLoom] | None:
        """Return what comes now that one more is on disk; None while more are to come.

        Raises WeavingError where nothing can be asked of how things stand now.
        """
        self._left -= 1
        if self._left or self._then is None:
            return None
        return self._then.asks(warp, progress)
