"""A loom as a child would keep it: a pile of rows and a set of shuttles on two sides. Slow, and shares no code.

Every deed moves the rows and the shuttles themselves; nothing is counted, nothing is folded.
"""

from __future__ import annotations

from copy import deepcopy
from dataclasses import dataclass, field

OVER = {"left": "right", "right": "left"}


@dataclass
class PieceByHand:
    """`weft` says which shuttle each pick throws, `start` on which side every shuttle begins: "left" or "right".

    `ends` are the first and last pick of each section; `lengths` those of sections woven to a length, with the rows
    that make it.
    """

    weft: list
    start: str
    ends: list
    lengths: list = field(default_factory=list)


@dataclass
class LoomByHand:
    """The pieces of a warp, one after another; `lost` are the shuttles that nobody has seen.

    `marks` holds a slip of paper for each row, with yes on it where a section woven to a length was begun anew; `anew`
    is the slip that lies ready for the next row.
    """

    pieces: list
    piece: int = 0
    rows: list = field(default_factory=list)
    next: int = 0
    away: bool = False
    done: bool = False
    lies: dict = field(default_factory=dict)
    lost: set = field(default_factory=set)
    before: list = field(default_factory=list)
    marks: list = field(default_factory=list)
    anew: bool = False

    def __post_init__(self):
        self.lies = self.lies or dict.fromkeys(self.on.weft, self.on.start)

    @property
    def on(self):
        """The piece on the loom."""
        return self.pieces[self.piece]

    def copy(self):
        return deepcopy(self)

    def throw(self, pick):
        """Throw the shuttle of this pick across and beat."""
        shuttle = self.on.weft[pick]
        self.lies[shuttle] = OVER[self.lies[shuttle]]
        self.keep_slip(pick)
        self.rows.append(pick)
        self.marks.append(self.anew)
        self.anew = False

    def pull_back(self):
        """Open the shed of the newest row and pull its shuttle back through it."""
        pick = self.rows.pop()
        self.anew = self.marks.pop()
        shuttle = self.on.weft[pick]
        self.lies[shuttle] = OVER[self.lies[shuttle]]
        return pick

    def after(self, pick):
        """What comes after the newest row: on in order, or a section once more until it is long enough."""
        for first, last, wanted in self.on.lengths:
            if pick == last and self._unbroken(first, last) < wanted:
                return first
        return pick + 1

    def _unbroken(self, first, last):
        """Count the newest rows that are of this section, down to the first one that is not."""
        count = 0
        for pick, begun_anew in zip(reversed(self.rows), reversed(self.marks), strict=True):
            if not first <= pick <= last:
                break
            count += 1
            if begun_anew:
                break
        return count

    def in_section(self):
        """Count the rows that the section of the next pick has, since it was begun."""
        return 0 if self.anew else self._unbroken(*self.section_of(self.next))

    def weave(self):
        self.throw(self.next)
        self.next = self.after(self.rows[-1])

    def unweave(self):
        self.next = self.pull_back()

    def go_to(self, pick):
        self.keep_slip(pick)
        self.next = pick

    def keep_slip(self, pick):
        """The slip that lies ready is put away where another section comes after all."""
        here, there = self.section_of(self.next), self.section_of(pick)
        self.anew = self.anew and here is not None and here == there

    def begin_section_again(self):
        first, _ = self.section_of(self.rows[-1])
        self.next, self.anew = first, any(first == begins for begins, _, _ in self.on.lengths)

    def section_of(self, pick):
        return next(((first, last) for first, last in self.on.ends if first <= pick <= last), None)

    def begin_next_piece(self):
        self.before.append(self.rows)
        self.piece += 1
        self.rows, self.next, self.done, self.lost = [], 0, False, set()
        self.marks, self.anew = [], False
        self.lies = dict.fromkeys(self.on.weft, self.on.start)

    def is_told(self, taken_out, woven):
        """The weaver says what became of the cloth: she did it all, only nobody wrote it down."""
        for _ in range(taken_out):
            self.next = self.pull_back()
        for pick in woven:
            self.throw(pick)
            self.next = self.after(pick)
        if not self.anew:
            self.next = self.after(self.rows[-1]) if self.rows else 0

    def is_seen(self, shuttle, side):
        """The weaver looks where a shuttle lies; None where she cannot tell."""
        if side is None:
            self.lost.add(shuttle)
        else:
            self.lies[shuttle] = side
            self.lost.discard(shuttle)
