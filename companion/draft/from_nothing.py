"""A draft begun from nothing: threading and treadling by draws, the tie-up of a twill, colours by order.

Indices count from 0, as in `model`. What comes out is a draft like any other, to be changed thread by thread.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain, cycle, islice, repeat

from companion.draft.errors import DraftError
from companion.draft.masks import NO_SHAFT, Shed, shed_of, treadle_set
from companion.draft.model import MOST_SHAFTS, MOST_THREADS, MOST_TREADLES, Draft, Treadled, Yarn
from companion.draft.tabby import tabby_sheds


@dataclass(frozen=True, slots=True)
class Draw:
    """Shafts or treadles in a row, as a straight draw goes, from `first` to `last` (indices, either way), `times` over.

    A point draw goes `there_and_back` and doubles neither point: `Draw(0, 3, there_and_back=True)` is 1 2 3 4 3 2.
    Raises DraftError for less than once.
    """

    first: int
    last: int
    there_and_back: bool = False
    times: int = 1

    def __post_init__(self) -> None:
        if self.times < 1:
            raise DraftError(f"{self.times} times", mend="draw it once at least")

    @property
    def once(self) -> tuple[int, ...]:
        """The indices, drawn once."""
        step = 1 if self.last >= self.first else -1
        there = tuple(range(self.first, self.last + step, step))
        return there + there[-2:0:-1] if self.there_and_back else there

    @property
    def threads(self) -> int:
        """How many threads it takes, all times counted."""
        return len(self.once) * self.times


@dataclass(frozen=True, slots=True)
class InOrder:
    """So many threads of a yarn (index) after one another; a list of them goes on from its beginning."""

    yarn: int
    threads: int


@dataclass(frozen=True, slots=True)
class Twill:
    """Each treadle raises `up` neighbouring shafts of every `up + down`, one shaft further than the one before it."""

    up: int
    down: int

    @property
    def period(self) -> int:
        """After how many treadles it begins anew."""
        return self.up + self.down

    def tie(self, treadle: int, shafts: int) -> Shed:
        """Return the shafts tied to a treadle (index)."""
        return shed_of(shaft + 1 for shaft in range(shafts) if (shaft - treadle) % self.period < self.up)


PLAIN = Twill(1, 1)


def twills_on(shafts: int) -> tuple[Twill, ...]:
    """Return the plain weave and the twills of one up and one down run that come out even on so many shafts.

    The shortest come first, of equals the most balanced; up to eight shafts a period.
    """
    periods = [period for period in range(2, min(shafts, 8) + 1) if shafts % period == 0]
    found = [Twill(up, period - up) for period in periods for up in range(1, period)]
    return tuple(sorted(found, key=lambda twill: (twill.period, abs(twill.up - twill.down), twill.up)))


@dataclass(frozen=True, slots=True)
class Begun:
    """What a weaver has said of a new draft; `twill` None leaves the tie-up empty.

    Raises DraftError for more shafts, treadles or threads than are woven, and for draws that go beyond them.
    """

    shafts: int
    treadles: int
    yarns: tuple[Yarn, ...]
    threading: tuple[Draw, ...] = ()
    treadling: tuple[Draw, ...] = ()
    twill: Twill | None = None
    warp: tuple[InOrder, ...] = (InOrder(0, 1),)
    weft: tuple[InOrder, ...] = (InOrder(0, 1),)

    def __post_init__(self) -> None:
        if not 1 <= self.treadles <= MOST_TREADLES:
            raise DraftError(f"{self.treadles} treadles", mend=f"give 1 to {MOST_TREADLES}")
        if not 1 <= self.shafts <= MOST_SHAFTS:
            raise DraftError(f"{self.shafts} shafts", mend=f"give 1 to {MOST_SHAFTS}")
        for draws, among, what in ((self.threading, self.shafts, "shaft"), (self.treadling, self.treadles, "treadle")):
            furthest = max((index for run in draws for index in (run.first, run.last)), default=0)
            if furthest >= among:
                raise DraftError(f"{what} {furthest + 1} of {among}")
            if threads_of(draws) > MOST_THREADS:
                raise DraftError(f"{threads_of(draws):,} threads", mend=f"at most {MOST_THREADS:,} are woven")

    @property
    def twilled(self) -> int:
        """How many treadles, the first ones, weave what was chosen: all of them where nothing was."""
        return self.treadles if self.twill is None else min(self.treadles, self.shafts)

    @property
    def plain_weave(self) -> Draw | None:
        """The two treadles after those of a twill, where they hold plain weave."""
        return Draw(self.twilled, self.twilled + 1) if self._plain_ties() else None

    def draft(self) -> Draft:
        """Return the draft as it stands now."""
        threading, pressed = tuple(_all(self.threading)), tuple(_all(self.treadling))
        used = self._used()
        return Draft(
            shafts=self.shafts,
            threading=threading,
            lifting=Treadled(self._tieup(), tuple(treadle_set([treadle + 1]) for treadle in pressed)),
            yarns=tuple(self.yarns[yarn] for yarn in used),
            warp=_coloured(self.warp, len(threading), used),
            weft=_coloured(self.weft, len(pressed), used),
        )

    def _used(self) -> list[int]:
        """Return the yarns (indices) in the order of use; with one alone another, so that a thread can be changed."""
        used = dict.fromkeys(part.yarn for part in (*self.warp, *self.weft))
        return [*used, *(yarn for yarn in range(len(self.yarns)) if yarn not in used)][: max(2, len(used))]

    def _tieup(self) -> tuple[Shed, ...]:
        """Tie the twill, one treadle a shaft as far as they go; two that are left hold plain weave, where it weaves.

        Plain weave by itself goes on over all treadles: on none of them would the weft only float.
        """
        tied = self.treadles if self.twill == PLAIN else self.twilled
        twill = () if self.twill is None else (self.twill.tie(at, self.shafts) for at in range(tied))
        return tuple(islice(chain(twill, self._plain_ties(), repeat(NO_SHAFT)), self.treadles))

    def _plain_ties(self) -> tuple[Shed, ...]:
        if self.twill in (None, PLAIN) or self.treadles < self.twilled + 2:
            return ()
        return tabby_sheds(tuple(_all(self.threading))) or ()


def threads_of(draws: Sequence[Draw]) -> int:
    """Return how many threads the draws take in all."""
    return sum(run.threads for run in draws)


def _all(draws: Sequence[Draw]) -> list[int]:
    return [index for run in draws for _ in range(run.times) for index in run.once]


def _coloured(order: Sequence[InOrder], threads: int, used: Sequence[int]) -> tuple[int, ...]:
    once = [used.index(part.yarn) for part in order for _ in range(part.threads)]
    return tuple(islice(cycle(once), threads))
