"""A reading of the treadling in words, in the shorthand's own syntax, so that it can be typed back in.

`indigo (1 2 3 4)x12` is a run repeated; `point (1 2 3 4)` is 1 2 3 4 3 2, `(1 2 3) and back` is 1 2 3 2 1, and
`(1 2 3) and reversed` is 1 2 3 3 2 1; `white/indigo 1 5 2 6` throws two shuttles in turn; `1+3` presses two treadles.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from companion.draft.masks import bits_of
from companion.draft.model import Yarn
from companion.draft.repeat_search import Reading
from companion.draft.repeats import Back, Repeat, SequencePart, Series, SymbolRun, Turn
from companion.draft.shorthand_names import printed_names
from companion.draft.throws import Throw

_FEWEST_IN_A_ROW = 5
"""From this many neighbouring numbers on, a run is written with a dash: 1-8."""
_FEWEST_IN_TURN = 4
"""From this many picks on, shuttles that change at every pick are named together."""

_ThrowOrder = tuple[int, ...]
"""The yarns (indices) that are thrown in turn from here on; none where no shuttle has been named yet."""


SayMoves = Callable[[Sequence[int]], Iterable[str]]
"""What says in words what moves (masks) at picks that follow each other."""


def chant(reading: Reading[Throw], yarns: Sequence[Yarn], say: SayMoves | None = None) -> str:
    """Return a reading in words, such as `white/indigo (1 5 2 6)x12`; empty where there are no picks.

    `say` puts in words what moves, otherwise as the shorthand does.
    """
    return " ".join(_Chanter(reading, tuple(printed_names(yarns)), say or _numbers).words(reading.part))


def chant_tabby(tabby: tuple[Throw, Throw], yarns: Sequence[Yarn], say: SayMoves | None = None) -> str:
    """Return the tabby of a reading as the shorthand writes it: `cream 5 6`."""
    numbers = (" ".join((say or _numbers)([throw.moved])) for throw in tabby)
    return f"{printed_names(yarns)[tabby[0].yarn]} {' '.join(numbers)}"


@dataclass(frozen=True, slots=True)
class _Chanter:
    reading: Reading[Throw]
    names: tuple[str, ...]
    say: SayMoves

    def words(self, part: SequencePart, thrown: _ThrowOrder = ()) -> Iterator[str]:
        """Yield the words of a part that stands where `thrown` are the shuttles named last."""
        for inner in part.parts if isinstance(part, Series) else (part,):
            if isinstance(inner, SymbolRun):
                for stretch in self._stretches(inner):
                    if stretch.shuttles != thrown or len(thrown) > 1:
                        thrown = stretch.shuttles
                        yield "/".join(self.names[yarn] for yarn in thrown)
                    yield from stretch.picks
                continue
            alone = self._only_shuttle(inner)
            if alone is not None and (alone,) != thrown:
                thrown = (alone,)
                yield self.names[alone]
            # Shuttles named within a bracket hold to its end, and those before it where it names none.
            yield from self._bracket(inner, thrown if alone is not None else ())

    def _bracket(self, part: SequencePart, thrown: _ThrowOrder) -> Iterator[str]:
        match part:
            case Repeat(body, times):
                yield f"({' '.join(self.words(body, thrown))})x{times}"
            case Back(body, Turn.POINT):
                yield f"point ({' '.join(self.words(body, thrown))})"
            case Back(body, Turn.ONCE):
                yield f"({' '.join(self.words(body, thrown))}) and back"
            case Back(body, Turn.TWICE):
                yield f"({' '.join(self.words(body, thrown))}) and reversed"

    def _only_shuttle(self, part: SequencePart) -> int | None:
        yarns = {self.reading.items[symbol].yarn for symbol in _symbols(part)}
        return yarns.pop() if len(yarns) == 1 else None

    def _stretches(self, run: SymbolRun) -> Iterator[_Stretch]:
        """Cut a run where other shuttles come into use."""
        throws = [self.reading.items[symbol] for symbol in run.symbols]
        yarns = [throw.yarn for throw in throws]
        first = 0
        while first < len(yarns):
            shuttles: _ThrowOrder = (yarns[first],)
            stop = _thrown_in_turn(yarns, first, shuttles)
            in_turn = tuple(yarns[first : first + 2])
            if stop == first + 1 and _thrown_in_turn(yarns, first, in_turn) - first >= _FEWEST_IN_TURN:
                shuttles, stop = in_turn, _thrown_in_turn(yarns, first, in_turn)
            yield _Stretch(shuttles, tuple(self.say([throw.moved for throw in throws[first:stop]])))
            first = stop


@dataclass(frozen=True, slots=True)
class _Stretch:
    """Picks, in words, that these shuttles throw in turn."""

    shuttles: _ThrowOrder
    picks: tuple[str, ...]


def _thrown_in_turn(yarns: Sequence[int], first: int, shuttles: _ThrowOrder) -> int:
    """Return the index after the last pick from `first` on that these shuttles throw in turn."""
    stop = first
    while stop < len(yarns) and yarns[stop] == shuttles[(stop - first) % len(shuttles)]:
        stop += 1
    return stop


def _symbols(part: SequencePart) -> Iterator[int]:
    match part:
        case SymbolRun(symbols):
            yield from symbols
        case Series(parts):
            for inner in parts:
                yield from _symbols(inner)
        case Repeat(body, _) | Back(body, _):
            yield from _symbols(body)


def _numbers(moved: Sequence[int]) -> Iterator[str]:
    """Yield what each pick presses; neighbours rising or falling one by one are drawn together."""
    numbers = [[bit + 1 for bit in bits_of(mask)] for mask in moved]
    first = 0
    while first < len(numbers):
        stop = max(_row(numbers, first, 1), _row(numbers, first, -1))
        if stop - first >= _FEWEST_IN_A_ROW:
            yield f"{numbers[first][0]}-{numbers[stop - 1][0]}"
            first = stop
        else:
            yield "+".join(map(str, numbers[first])) or "0"
            first += 1


def _row(numbers: Sequence[Sequence[int]], first: int, step: int) -> int:
    stop = first
    while stop < len(numbers) and list(numbers[stop]) == [(numbers[first] or [0])[0] + step * (stop - first)]:
        stop += 1
    return stop
