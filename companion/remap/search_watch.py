"""The thread between a search and whoever waits for it: counts nodes, and stops the search when told to."""

from __future__ import annotations

from companion.remap.answers import ShouldStop

NODES_BETWEEN_LOOKS = 256


class SearchStoppedError(Exception):
    """The one who waits wants no more; caught in `fewest`, never seen outside."""


class Watch:
    """Counts the nodes of a search and asks `should_stop` every few hundred of them."""

    __slots__ = ("_should_stop", "nodes")

    def __init__(self, should_stop: ShouldStop) -> None:
        self._should_stop = should_stop
        self.nodes = 0

    def node(self) -> None:
        """Count one node; raises SearchStoppedError when the one who waits wants no more."""
        self.nodes += 1
        if self.nodes % NODES_BETWEEN_LOOKS == 0 and self._should_stop():
            raise SearchStoppedError
