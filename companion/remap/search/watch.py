"""The thread between a search and whoever waits for it: counts nodes, pauses it, and stops it when told to.

Who takes turns: assets/mathematics.md, "The portfolio".
"""

from __future__ import annotations

from companion.remap.search.answers import ShouldStop

NODES_BETWEEN_LOOKS = 16
"""How many nodes pass between two questions to `should_stop`: a few milliseconds, some tens on large drafts."""


class SearchPausedError(Exception):
    """This search has had its turn, or whoever waits wants no more; each engine catches it and keeps its place."""


class Watch:
    """Counts the nodes of a search, asks `should_stop` every so often, and ends a turn after its allowance."""

    __slots__ = ("_pause_at", "_should_stop", "nodes", "stopped")

    def __init__(self, should_stop: ShouldStop) -> None:
        self._should_stop = should_stop
        self._pause_at: int | None = None
        self.nodes = 0
        self.stopped = False
        """Whether whoever waits wants no more."""

    def allow(self, nodes: int | None) -> None:
        """Let the next search go on until this many nodes are counted; None for as many as it likes.

        The node that is counted last is not looked at by a search that counts before it looks.
        """
        self._pause_at = None if nodes is None else self.nodes + nodes

    def spent(self, nodes: int) -> None:
        """Count work that took as long as so many nodes; it ends no turn. Raises SearchPausedError as `node` does."""
        looks = (self.nodes + nodes) // NODES_BETWEEN_LOOKS - self.nodes // NODES_BETWEEN_LOOKS
        self.nodes += nodes
        if self._pause_at is not None:
            self._pause_at += nodes
        for _ in range(looks):
            if self._should_stop():
                self.stopped = True
                raise SearchPausedError

    def node(self) -> None:
        """Count one node. Raises SearchPausedError when it was the last one, for now or for good (`stopped`)."""
        self.nodes += 1
        if self.nodes % NODES_BETWEEN_LOOKS == 0 and self._should_stop():
            self.stopped = True
            raise SearchPausedError
        if self.nodes == self._pause_at:
            raise SearchPausedError
