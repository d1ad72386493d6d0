"""The feet as sensors feel them and the beats of the beater, pick by pick: what to warn of, what is noted and woven.

Where a beat weaves, and treadles are sensed, it counts when the footing was right. Feet that may still stand from the
pick before (the same treadles again, or a pick just taken out) say nothing: they must come off once. Where nothing is
sensed, only the times between beats speak (see `beating`).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

from companion.weaving.beating import BeatPace
from companion.weaving.decide import Command, note_near_miss, weave_pick
from companion.weaving.onward import onward
from companion.weaving.pick_view import PickView, next_pick
from companion.weaving.progress import Progress
from companion.weaving.sensing import Down, FeetState, Judgement, PickWatch, watch_over
from companion.weaving.warp import Warp


@dataclass(frozen=True, slots=True)
class Felt:
    """What came of one more feeling of feet or beater: a judgement to show, a command to carry out, if any.

    `not_counted`: a beat came while feet stood that may be those of the pick before.
    """

    judgement: Judgement | None = None
    command: Command | None = None
    not_counted: bool = False


class SensedFeet:
    """Watches over the pick that is next.

    `advances`: a pick whose shed was open is woven when the feet come off; `beats`: it is woven by the beat instead.
    `sensed`: treadles are felt, even where none has been felt yet. What the feet do while the weaver is not weaving (a
    question is asked, a pick is taken out) says nothing, nor do feet that still stand from then: they must come off.
    """

    def __init__(self, warp: Warp, advances: bool, beats: bool = False, sensed: bool = False) -> None:
        self._warp = warp
        self._advances = advances and not beats
        self._beats = beats
        self._watch: PickWatch | None = None
        self._pick: int | None = None
        self._lying = 0
        self._noted = False
        self._sensed = sensed
        self._must_lift = False
        self._counting = False
        self._opened_s: float | None = None
        self._stood_s = float("-inf")
        self._pace = BeatPace()
        self._elsewhere = False

    @property
    def lamps(self) -> Down:
        """The treadles (indices from 0) that this pick wants: the lamps to light."""
        return frozenset() if self._watch is None else self._watch.wanted

    def stand_at(self, progress: Progress, view: PickView | None, now_s: float = 0.0) -> None:
        """Watch over the pick that is next now, `view`, with the feet as they stand at `now_s`."""
        by_beat, self._counting = self._counting, False
        pick = None if view is None or progress.now.paused else view.pick
        lying, self._lying = self._lying, progress.now.cloth.picks
        woven = self._lying == lying + 1
        if self._lying != lying and not by_beat:
            # However a pick came or went: the beat that belongs to it, or that smooths the fell, is no other pick.
            self._pace = self._pace.counted(now_s)
        if pick == self._pick and pick is not None and self._lying == lying:
            return
        before, self._watch = self._watch, None
        self._pick, self._noted, self._opened_s, self._stood_s = pick, False, None, now_s
        if view is not None and pick is not None and view.footing is not None and view.re_tie is None:
            after = next_pick(self._warp, progress)
            following = None if after is None else after.footing
            self._watch = watch_over(view.footing, following, before)
            same_again = before is not None and before.wanted == self._watch.wanted
            self._must_lift = bool(self._watch.down) and (same_again or not woven)

    def felt(self, down: Down, at_s: float, weaving: bool = True) -> tuple[Felt, ...]:
        """Take the treadles that are down since `at_s` (monotonic seconds)."""
        self._sensed = self._sensed or bool(down)
        if self._watch is None:
            return ()
        if self._elsewhere or not weaving:
            self._elsewhere = bool(down)
            self._watch = replace(self._watch.begun_anew(), down=down, since_s=at_s, stepped_s=at_s)
            return ()
        if not self._watch.wanted <= down:
            self._must_lift = False
        self._watch, judged = self._watch.felt(down, at_s)
        return self._outcomes(judged)

    def passed(self, now_s: float, weaving: bool = True) -> tuple[Felt, ...]:
        """Let time pass; some things are certain only when they have lasted."""
        if self._watch is None:
            return ()
        if not weaving:
            self._elsewhere, self._watch = bool(self._watch.down), self._watch.begun_anew()
        if self._elsewhere or not weaving:
            return ()
        self._watch, judged = self._watch.passed(now_s)
        return self._outcomes(judged)

    def beaten(self, at_s: float) -> tuple[Felt, ...]:
        """Take a beat at `at_s` (monotonic seconds): it weaves the pick, or belongs to one that is woven already."""
        if not self._beats or self._pick is None:
            return ()
        felt = self.passed(at_s)
        sensed = self._sensed and self._watch is not None
        opened_s = self._opened_s if sensed else None
        may_count = self._pace.may_count(at_s, opened_s) and not self._counting
        self._pace = self._pace.beaten(at_s)
        if not may_count:
            return felt
        if sensed and self._watch is not None and (self._must_lift or not self._watch.shed_was_open):
            return (*felt, Felt(not_counted=True)) if self._must_lift else felt
        self._pace = self._pace.counted(at_s, opened_s)
        self._counting = True
        return (*felt, Felt(command=weave_pick))

    def _outcomes(self, judged: tuple[Judgement, ...]) -> tuple[Felt, ...]:
        if self._watch is not None and any(judgement.feet is FeetState.RIGHT for judgement in judged):
            # Feet that stood there before the last pick was counted have opened this shed only then.
            self._opened_s = max(self._watch.since_s, self._stood_s)
        return tuple(Felt(judgement, self._command(judgement)) for judgement in judged)

    def _command(self, judgement: Judgement) -> Command | None:
        if judgement.feet is FeetState.WOVEN:
            return onward if self._advances else None
        if not judgement.is_warning or self._noted:
            return None
        # One pick is one near miss, however long the feet search for the right treadles.
        self._noted = True
        return partial(note_near_miss, wrong=judgement.wrong, missing=judgement.missing)
