"""The feet as sensors feel them, pick by pick: what to warn of, what to note, and when the pick is woven by them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from companion.weaving.decide import Command, note_near_miss
from companion.weaving.onward import onward
from companion.weaving.pick_view import PickView, next_pick
from companion.weaving.progress import Progress
from companion.weaving.sensing import Down, FeetState, Judgement, PickWatch, watch_over
from companion.weaving.warp import Warp


@dataclass(frozen=True, slots=True)
class Felt:
    """What came of one more feeling of the feet: a judgement to show, if any, and a command to carry out, if any."""

    judgement: Judgement | None = None
    command: Command | None = None


class SensedFeet:
    """Watches over the pick that is next. `advances`: a pick whose shed was open is woven when the feet come off."""

    def __init__(self, warp: Warp, advances: bool) -> None:
        self._warp = warp
        self._advances = advances
        self._watch: PickWatch | None = None
        self._pick: int | None = None
        self._noted = False

    @property
    def lamps(self) -> Down:
        """The treadles (indices from 0) that this pick wants: the lamps to light."""
        return frozenset() if self._watch is None else self._watch.wanted

    def stand_at(self, progress: Progress, view: PickView | None) -> None:
        """Watch over the pick that is next now, `view`, with the feet as they stand."""
        pick = None if view is None or progress.now.paused else view.pick
        if pick == self._pick and pick is not None:
            return
        before, self._watch = self._watch, None
        self._pick, self._noted = pick, False
        if view is not None and pick is not None and view.footing is not None and view.re_tie is None:
            after = next_pick(self._warp, progress)
            following = None if after is None else after.footing
            self._watch = watch_over(view.footing, following, before)

    def felt(self, down: Down, at_s: float) -> tuple[Felt, ...]:
        """Take the treadles that are down since `at_s` (monotonic seconds)."""
        if self._watch is None:
            return ()
        self._watch, judged = self._watch.felt(down, at_s)
        return self._outcomes(judged)

    def passed(self, now_s: float) -> tuple[Felt, ...]:
        """Let time pass; some things are certain only when they have lasted."""
        if self._watch is None:
            return ()
        self._watch, judged = self._watch.passed(now_s)
        return self._outcomes(judged)

    def _outcomes(self, judged: tuple[Judgement, ...]) -> tuple[Felt, ...]:
        return tuple(Felt(judgement, self._command(judgement)) for judgement in judged)

    def _command(self, judgement: Judgement) -> Command | None:
        if judgement.feet is FeetState.WOVEN:
            return onward if self._advances else None
        if not judgement.is_warning or self._noted:
            return None
        # One pick is one near miss, however long the feet search for the right treadles.
        self._noted = True
        return partial(note_near_miss, wrong=judgement.wrong, missing=judgement.missing)
