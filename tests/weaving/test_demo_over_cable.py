"""A simulated weaver treads the whole demo warp on sensors, over a real pseudo-terminal, and errs as planted."""

from __future__ import annotations

import random
import sys

import pytest

from companion.remap.remapping import remap
from companion.weaving.sensing import FeetState, treadles_in, watch_over
from companion.workshop.app import DEMO_LOOM, demo_draft
from drivers.events import TreadlesSensed
from drivers.messages import Lamps, bits_of
from drivers.pedal import PedalSettings, open_pedal
from tests.drivers.wired import Ears
from tests.weaving.weaver import Mistake, Weaver

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are not there on Windows")


@pytest.fixture(scope="module")
def footings():
    answer = remap(demo_draft(), DEMO_LOOM.loom)
    return [footing for stage in answer.stages for footing in stage.footings]


def tread(board, step, chance, ears):
    """Send what the sensors feel in one pick, with bounce at every change (up to 4 flips) and noise now and then.

    Returns what is heard, one event for each move: waiting for it keeps the board's quick time and ours together.
    """
    heard = []
    down = frozenset()
    for at_s, treadle, goes_down in step.moves:
        after = down | {treadle} if goes_down else down - {treadle}
        while board.ms + 50 < 1000 * at_s:
            board.state(treadles=bits_of(down))
        board.state(treadles=bits_of(after), after_ms=max(1, round(1000 * at_s) - board.ms))
        for felt in (down, after, down, after)[: 2 * chance.randrange(3)]:
            board.state(treadles=bits_of(felt), after_ms=1)
        board.state(treadles=bits_of(after), after_ms=6)
        heard.append(ears.next_of(TreadlesSensed))
        if chance.random() < 0.02:
            board.write(chance.randbytes(20) + b"!1 3 state 77\n")
        down = after
    return heard


def warnings_in(sensed, footings):
    """Watch over the first of these footings while this is sensed; return what was warned of, and the end."""
    watch = watch_over(*footings)
    warnings = []
    for event in sensed:
        watch, judged = watch.felt(event.down, event.at_s)
        warnings += [judgement for judgement in judged if judgement.is_warning]
    return warnings, watch.told


def test_every_planted_mistake_on_the_demo_warp_is_told_and_every_pick_woven_once(footings, board):
    assert len(footings) > 250
    chance = random.Random(6)
    mistakes = {}
    for pick in chance.sample(range(len(footings)), 40):
        two = len(treadles_in(footings[pick].pressed)) > 1
        mistakes[pick] = chance.choice(list(Mistake) if two else [Mistake.WRONG, Mistake.EXTRA])
    assert set(mistakes.values()) == set(Mistake)
    weaver = Weaver(DEMO_LOOM.loom.treadles, seed=2)
    steps = [weaver.step(treadles_in(footing.pressed), mistakes.get(pick)) for pick, footing in enumerate(footings)]

    ears = Ears()
    warned = set()
    with open_pedal(board.port, ears, PedalSettings(guard=None), clock=lambda: board.ms / 1000):
        board.answer(pedals=1, treadles=DEMO_LOOM.loom.treadles)
        for pick, step in enumerate(steps):
            warnings, end = warnings_in(tread(board, step, chance, ears), footings[pick : pick + 2])
            assert end is FeetState.WOVEN
            if warnings:
                warned.add(pick)
    assert warned == set(mistakes)


def test_the_lamps_show_the_treadles_of_the_pick(footings, board):
    ears = Ears()
    with open_pedal(board.port, ears) as pedal:
        board.answer()
        for footing in footings[:10]:
            wanted = treadles_in(footing.pressed)
            pedal.light(wanted)
            while board.hear() != Lamps(bits_of(wanted)):
                pass
            board.state(lamps=bits_of(wanted))
