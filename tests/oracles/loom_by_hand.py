"""A loom as a child would keep it: a pile of rows and a set of shuttles on two sides. Slow, and shares no code.

Every deed moves the rows and the shuttles themselves; nothing is counted, nothing is folded.
"""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass
class LoomByHand:
    """`weft` says which shuttle each pick throws, `start` on which side every shuttle begins: "left" or "right"."""

    weft: list[int]
    start: str
    rows: list[int] = field(default_factory=list)
    next: int = 0
    lies: dict[int, str] = field(default_factory=dict)

    def __post_init__(self):
        self.lies = self.lies or dict.fromkeys(self.weft, self.start)

    def copy(self):
        return LoomByHand(self.weft, self.start, list(self.rows), self.next, dict(self.lies))

    def throw(self, pick):
        """Throw the shuttle of this pick across and beat."""
        shuttle = self.weft[pick]
        self.lies[shuttle] = {"left": "right", "right": "left"}[self.lies[shuttle]]
        self.rows.append(pick)

    def pull_back(self):
        """Open the shed of the newest row and pull its shuttle back through it."""
        pick = self.rows.pop()
        shuttle = self.weft[pick]
        self.lies[shuttle] = {"left": "right", "right": "left"}[self.lies[shuttle]]
        return pick

    def weave(self):
        self.throw(self.next)
        self.next = self.rows[-1] + 1

    def unweave(self):
        self.next = self.pull_back()

    def go_to(self, pick):
        self.next = pick

    def is_told(self, taken_out, woven):
        """The weaver says what became of the cloth: she did it all, only nobody wrote it down."""
        for _ in range(taken_out):
            self.pull_back()
        for pick in woven:
            self.throw(pick)
        self.next = self.rows[-1] + 1 if self.rows else 0
