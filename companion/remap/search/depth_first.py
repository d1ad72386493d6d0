"""A search that goes into depth, can pause anywhere, and looks at no state twice: what `pairs` and `runs` share.

It keeps its own stack of half-used nodes in place of calls, so that a pause loses nothing. States below which all has
been looked at are remembered by their key, and any state with the same key is left out.

Lemmas and proofs: assets/mathematics.md, "From below: pairs".
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator
from typing import Generic, TypeVar

from companion.remap.loom.targets import Columns
from companion.remap.search.watch import Watch

Node = TypeVar("Node")


class DepthFirst(ABC, Generic[Node]):
    """Finds one answer after the other below a root."""

    def __init__(self, root: Node, watch: Watch) -> None:
        self._watch = watch
        self._dead: set[object] = set()
        self._path: list[tuple[object, Iterator[Node]]] = [((), iter([root]))]

    def columns(self) -> Columns | None:
        """Return the columns of an answer, or None when there is none. Raises SearchPausedError.

        Ask again for other answers; those that lie below one already given are left out.
        """
        while self._path:
            self._watch.node()
            key, below = self._path[-1]
            node = next(below, None)
            if node is None:
                self._dead.add(key)
                self._path.pop()
                continue
            key = self._key(node)
            if key in self._dead:
                continue
            answer, branches = self._expanded(node)
            if answer is not None:
                return answer
            if branches is not None:
                self._path.append((key, branches))
        return None

    @abstractmethod
    def _key(self, node: Node) -> object:
        """Return what two nodes have in common when the one is solvable just where the other one is."""

    @abstractmethod
    def _expanded(self, node: Node) -> tuple[Columns | None, Iterator[Node] | None]:
        """Return the answer that a node is, or else the nodes below it; neither where it is dead."""
