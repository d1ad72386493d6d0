"""How often a beat is taken for a pick that is none: `python -m tests.bench.bench_beat [PICKS]`.

Peer in the same run: a switch that counts every beat but those within 0.8 s of the last one, whoever weaves. The
weavers are made up (`tests/workshop/beating_weaver.py`); slips are told by habit, and the time that one beat costs.
"""

from __future__ import annotations

import random
import sys
import time

from companion.weaving.beating import BeatPace, BeatTimes
from companion.weaving.sensing import treadles_in
from companion.workshop.sensed_feet import SensedFeet
from tests.weaving.world import AtLoom
from tests.workshop.beating_weaver import HABITS, BeatingWeaver, weave_by_beats
from tests.workshop.test_beats import a_long_warp

FIXED = BeatTimes(unlearned_double_s=0.8, enough=10**9, enough_throws=10**9, least_throw_s=0.0)


def main() -> None:
    """Print picks too many and too few in 10,000, with sensed treadles and without, and for the peer."""
    picks = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    warp = a_long_warp(picks)
    wanted = [treadles_in(footing.pressed) for footing in warp.pieces[0].footings]
    print(f"{'of 10,000 picks, too many / too few':<36}{'sensed':>14}{'by time alone':>16}{'fixed 0.8 s':>14}")
    totals = [[0, 0, 0] for _ in range(3)]
    for name, habit in HABITS.items():
        cells = []
        for column, (sensed, pace) in enumerate(
            ((True, BeatPace()), (False, BeatPace()), (False, BeatPace(times=FIXED)))
        ):
            feet = SensedFeet(warp, advances=False, beats=True, sensed=sensed)
            feet._pace = pace
            weaver = BeatingWeaver(random.Random(1), habit, wanted)
            counted = weave_by_beats(AtLoom(warp), feet, weaver, picks, sensed)
            for place, number in enumerate((counted.too_many, counted.too_few, counted.thrown)):
                totals[column][place] += number
            share = 10_000 / counted.thrown
            cells.append(f"{counted.too_many * share:.0f} / {counted.too_few * share:.0f}")
        print(f"{name:<36}{cells[0]:>14}{cells[1]:>16}{cells[2]:>14}")
    slips = [many + few for many, few, _ in totals]
    sensed, timed, fixed = slips
    print(f"all: {sensed}, {timed} and {fixed} slips in {totals[0][2]:,} picks")
    print(f"peer/ours, by time alone: {fixed / max(timed, 1):.1f}")
    for remembered in (20, 40, 80):
        pace, at_s = BeatPace(times=BeatTimes(remembered=remembered)), 0.0
        began_s = time.perf_counter()
        for beat in range(2_000):
            at_s += 2.5 if beat % 2 else 0.4
            pace.may_count(at_s)
            pace = pace.beaten(at_s)
        print(f"one beat, {remembered} remembered: {(time.perf_counter() - began_s) / 2_000 * 1e6:.0f} microseconds")


if __name__ == "__main__":
    main()
