"""The treadles that sensors feel, compared with the footing of the pick: warned before the beat, done when released.

A pick is watched from its first treadle to the next one's. Feet do not arrive together and brush a neighbour on the
way, so that each judgement waits a little; the times are our own choice (no published figure was found), and settable.
Pure: every time is an argument, in seconds of one monotonic clock.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from enum import Enum

from companion.draft.masks import TreadleSet, treadles_of
from companion.remap.loom.loom import Footing

Down = frozenset[int]
"""The treadles (indices from 0) that are down."""


class FeetState(Enum):
    """How the feet stand."""

    WAITING = "waiting"
    RIGHT = "right"
    WRONG = "wrong"
    MISSING = "missing"
    WOVEN = "woven"


@dataclass(frozen=True, slots=True)
class Judgement:
    """What was found at `at_s`: `wrong` treadles are down and should not be, `missing` ones are not and should."""

    feet: FeetState
    at_s: float
    wrong: tuple[int, ...] = ()
    missing: tuple[int, ...] = ()

    @property
    def is_warning(self) -> bool:
        """Tell whether the weaver must not beat."""
        return self.feet in (FeetState.WRONG, FeetState.MISSING)


@dataclass(frozen=True, slots=True)
class SensingTimes:
    """How long a state must last to be judged; `overlap_ms` is how long the feet may take to change over.

    After a warning the right treadles must stay for `mended_ms`: feet that leave one by one pass them too.
    """

    right_ms: float = 120.0
    mended_ms: float = 400.0
    wrong_ms: float = 150.0
    missing_ms: float = 800.0
    overlap_ms: float = 600.0


@dataclass(frozen=True, slots=True)
class PickWatch:
    """The watch over one pick; `wanted` and `following` are the treadles of this pick and of the one after it.

    `told` is the last judgement, `opened` that the right treadles have been down by themselves; `since_s` is when the
    treadles last changed, `stepped_s` when the first of them went down.
    """

    wanted: Down
    following: Down = frozenset()
    down: Down = frozenset()
    since_s: float = float("-inf")
    stepped_s: float = float("-inf")
    told: FeetState = FeetState.WAITING
    opened: bool = False
    times: SensingTimes = field(default_factory=SensingTimes)

    @property
    def shed_was_open(self) -> bool:
        """Whether the right treadles were down and nothing wrong came after: a beat now ends this pick."""
        return self.opened and self.told in (FeetState.RIGHT, FeetState.WOVEN)

    def begun_anew(self) -> PickWatch:
        """Return this watch with nothing found yet; the feet stand where they are."""
        return replace(self, told=FeetState.WAITING, opened=False)

    def felt(self, down: Down, at_s: float) -> tuple[PickWatch, tuple[Judgement, ...]]:
        """Take the treadles that are down from `at_s` on; return the watch and what was found.

        Let time pass until `at_s` first: a pick found woven by then hands its feet over to the next watch.
        """
        watch, found = self.passed(at_s)
        if down == watch.down:
            return watch, found
        at_s = max(at_s, watch.since_s)
        stepped_s = watch.stepped_s if watch.down else at_s
        watch = replace(watch, down=down, since_s=at_s, stepped_s=stepped_s)
        watch, more = watch._released(at_s)
        return watch, found + more

    def passed(self, now_s: float) -> tuple[PickWatch, tuple[Judgement, ...]]:
        """Let time pass until `now_s`; return the watch and what is certain by then."""
        judged = self._judge(now_s)
        if judged is None or judged.feet is self.told:
            return self, ()
        opened = self.opened or judged.feet is FeetState.RIGHT
        watch = replace(self, told=judged.feet, opened=opened)
        return watch, (judged,)

    def _released(self, at_s: float) -> tuple[PickWatch, tuple[Judgement, ...]]:
        if self.down or self.told is FeetState.WOVEN:
            return self, ()
        if not self.opened:
            # The feet came off again without having opened the shed: nothing was woven, the warning is over.
            return replace(self, told=FeetState.WAITING), ()
        if self.told is not FeetState.RIGHT:
            # Warned after the shed was right: the weaver has looked up, and says herself what has become of it.
            return replace(self, told=FeetState.WAITING, opened=False), ()
        return replace(self, told=FeetState.WOVEN), (Judgement(FeetState.WOVEN, at_s),)

    def _judge(self, now_s: float) -> Judgement | None:
        if not self.down or self.told is FeetState.WOVEN:
            return None
        lasted_ms = (now_s - self.since_s) * 1000
        if self.down == self.wanted:
            warned = self.told in (FeetState.WRONG, FeetState.MISSING)
            stays_ms = self.times.mended_ms if warned else self.times.right_ms
            return Judgement(FeetState.RIGHT, now_s) if lasted_ms >= stays_ms else None
        wrong = tuple(sorted(self.down - self.wanted))
        # Where one pick's treadles are among the other's, a foot more or less says nothing of the next pick: it may
        # be a mistake, or feet that leave one by one. Then only lifting them all ends the pick.
        may_change_over = bool(self.wanted - self.following) and bool(self.following - self.wanted)
        changing_over = self.opened and may_change_over and self.down <= self.wanted | self.following
        if changing_over and self.told is FeetState.RIGHT and self.down == self.following:
            # Done as soon as only the next pick's treadles are down.
            return Judgement(FeetState.WOVEN, now_s) if lasted_ms >= self.times.right_ms else None
        missing = tuple(sorted(self.wanted - self.down))
        if wrong and lasted_ms >= (self.times.overlap_ms if changing_over else self.times.wrong_ms):
            return Judgement(FeetState.WRONG, now_s, wrong, missing)
        if missing and not wrong and not self.opened and (now_s - self.stepped_s) * 1000 >= self.times.missing_ms:
            return Judgement(FeetState.MISSING, now_s, (), missing)
        return None


def watch_over(footing: Footing, following: Footing | None = None, before: PickWatch | None = None) -> PickWatch:
    """Return the watch over a pick; `before` is the watch over the last one, whose feet still stand where they are."""
    after = frozenset[int]() if following is None else treadles_in(following.pressed)
    watch = PickWatch(treadles_in(footing.pressed), after)
    if before is None:
        return watch
    return replace(watch, down=before.down, since_s=before.since_s, stepped_s=before.since_s, times=before.times)


def treadles_in(pressed: TreadleSet) -> Down:
    """Return a set of treadles as indices from 0: that of the lamps to light, too."""
    return frozenset(treadle - 1 for treadle in treadles_of(pressed))
