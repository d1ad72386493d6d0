"""A long treadling as a weaver would chant it: stretches repeated, and stretches woven forth and back.

A reading is a tree. What it costs is what must be read: `PICK_COST` for every pick written down, `MARK_COST` for every
repeat or turn marked (a bracket and a number, so somewhat more than a pick). The search for the cheapest reading stands
in `repeat_search`; here is the tree, what it expands to, and where a pick lies in it.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import Enum
from itertools import accumulate

PICK_COST = 2
MARK_COST = 3


class Turn(Enum):
    """How a stretch that is woven forth and back turns round: what `1 2 3` becomes."""

    ONCE = "1 2 3 2 1"
    TWICE = "1 2 3 3 2 1"
    POINT = "1 2 3 2"


@dataclass(frozen=True, slots=True)
class SymbolRun:
    """Picks one after the other, as numbers that stand for what is woven (see `Reading.items`)."""

    symbols: tuple[int, ...]

    @property
    def picks(self) -> int:
        """How many picks it expands to."""
        return len(self.symbols)

    @property
    def levels(self) -> int:
        """In how many repeats, one within the other, every pick of it lies."""
        return 0


@dataclass(frozen=True, slots=True)
class Series:
    """Parts one after the other."""

    parts: tuple[SequencePart, ...]
    ends: tuple[int, ...] = field(init=False, repr=False, compare=False)
    """For each part the number of picks up to its end."""
    levels: int = field(init=False, repr=False, compare=False)
    """In how many repeats, one within the other, every pick of it lies."""

    def __post_init__(self) -> None:
        # Worked out once, so that a place is found without adding up the parts; a frozen value is only set this way.
        object.__setattr__(self, "ends", tuple(accumulate(part.picks for part in self.parts)))
        object.__setattr__(self, "levels", min((part.levels for part in self.parts), default=0))

    @property
    def picks(self) -> int:
        """How many picks it expands to."""
        return self.ends[-1] if self.ends else 0


@dataclass(frozen=True, slots=True)
class Repeat:
    """A body woven `times` times."""

    body: SequencePart
    times: int
    picks: int = field(init=False, repr=False, compare=False)
    levels: int = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "picks", self.body.picks * self.times)
        object.__setattr__(self, "levels", 1 + self.body.levels)


@dataclass(frozen=True, slots=True)
class Back:
    """A body woven forth and then back, turned as `turn` says."""

    body: SequencePart
    turn: Turn
    picks: int = field(init=False, repr=False, compare=False)
    levels: int = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "levels", self.body.levels)
        left_out = {Turn.ONCE: 1, Turn.TWICE: 0, Turn.POINT: 2}[self.turn]
        object.__setattr__(self, "picks", 2 * self.body.picks - left_out)


SequencePart = SymbolRun | Series | Repeat | Back


def cost(part: SequencePart) -> int:
    """Return what a reading costs: `PICK_COST` per pick written, `MARK_COST` per repeat or turn."""
    match part:
        case SymbolRun(symbols):
            return PICK_COST * len(symbols)
        case Series(parts):
            return sum(map(cost, parts))
        case Repeat(body, _) | Back(body, _):
            return MARK_COST + cost(body)


def series(parts: Iterable[SequencePart]) -> SequencePart:
    """Return these parts as one: series are flattened and runs that meet are joined."""
    flat: list[SequencePart] = []
    for part in parts:
        for piece in part.parts if isinstance(part, Series) else (part,):
            last = flat[-1] if flat else None
            if isinstance(piece, SymbolRun) and isinstance(last, SymbolRun):
                flat[-1] = SymbolRun(last.symbols + piece.symbols)
            else:
                flat.append(piece)
    return flat[0] if len(flat) == 1 else Series(tuple(flat))


@dataclass(frozen=True, slots=True)
class RepeatStep:
    """In which repeat (index) of `times` a pick lies, and which pick (index) of the body's `picks` it is.

    `levels` is in how many repeats more, one within the other, every pick of the body lies.
    """

    repeat: int
    times: int
    pick: int
    picks: int
    levels: int = field(default=0, compare=False)


@dataclass(frozen=True, slots=True)
class TurnStep:
    """Whether a pick lies on the way forth or back, and which pick (index) of the whole way's `picks` it is."""

    back: bool
    pick: int
    picks: int


PathStep = RepeatStep | TurnStep


def path(part: SequencePart, pick: int) -> tuple[PathStep, ...]:
    """Return the repeats and turns that a pick (index) lies in, from the outermost inwards.

    Everything is counted as it is woven: on the way back the last repeat of a body comes first. Raises IndexError for
    a pick beyond the reading.
    """
    if not 0 <= pick < part.picks:
        raise IndexError(f"pick {pick} of {part.picks}")
    steps: list[PathStep] = []
    reversed_here = False
    while not isinstance(part, SymbolRun):
        # `pick` counts in the order of weaving; `at` in the order in which the part is written.
        at = part.picks - 1 - pick if reversed_here else pick
        match part:
            case Series(parts):
                index = bisect_right(part.ends, at)
                inner = parts[index]
                written = at - (part.ends[index] - inner.picks)
            case Repeat(inner, times):
                repeat, within = divmod(pick, inner.picks)
                steps.append(RepeatStep(repeat, times, within, inner.picks, inner.levels))
                pick, part = within, inner
                continue
            case Back(inner, turn):
                back = at >= inner.picks
                steps.append(TurnStep(back != reversed_here, pick, part.picks))
                first_back = inner.picks - 1 - (turn is not Turn.TWICE)
                written = first_back - (at - inner.picks) if back else at
                reversed_here = reversed_here != back
        pick = inner.picks - 1 - written if reversed_here else written
        part = inner
    return tuple(steps)
