"""The beat as the press: what of a weaver's beats is a pick, with sensed treadles and without."""

from __future__ import annotations

import random

import pytest

from companion.draft.masks import treadle_set
from companion.draft.model import Draft, Treadled
from companion.remap.loom.loom import Footing, Loom, Tie
from companion.weaving import decide
from companion.weaving.pick_view import this_pick
from companion.weaving.sensing import treadles_in
from companion.weaving.warp import LoomProfile, Piece, Stage, Warp
from companion.workshop.sensed_feet import SensedFeet
from tests.weaving.world import TWILL, YARNS, AtLoom
from tests.workshop.beating_weaver import HABITS, BeatingWeaver, weave_by_beats


def a_long_warp(picks):
    """Four treadles, one or two of them for each pick, some sheds twice in a row."""
    chance = random.Random(5)
    feet = [Footing(left=(0,)), Footing(right=(3,)), Footing((1,), (2,)), Footing((0,), (2,)), Footing(left=(1,))]
    order = [0]
    while len(order) < picks:
        order.append(order[-1] if chance.random() < 0.03 else chance.choice([n for n in range(5) if n != order[-1]]))
    draft = Draft(
        shafts=4,
        threading=(0, 1, 2, 3) * 2,
        lifting=Treadled(TWILL, tuple(treadle_set([1 + n % 4]) for n in order)),
        yarns=YARNS,
        warp=(0,) * 8,
        weft=tuple(n % 2 for n in range(picks)),
    )
    ties = tuple(Tie(up=shed) for shed in TWILL)
    piece = Piece("long", draft, stages=(Stage(0, picks - 1, ties),), footings=tuple(feet[n] for n in order))
    return Warp("long", LoomProfile("floor loom", Loom(4, 4)), (piece,))


PICKS = 1_700
"""Of each habit: some 10,000 in all."""


@pytest.fixture(scope="module")
def warp():
    return a_long_warp(PICKS)


def woven_by_beats(warp, habit, sensed, seed=1):
    wanted = [treadles_in(footing.pressed) for footing in warp.pieces[0].footings]
    feet = SensedFeet(warp, advances=False, beats=True, sensed=sensed)
    weaver = BeatingWeaver(random.Random(seed), habit, wanted)
    return weave_by_beats(AtLoom(warp), feet, weaver, len(wanted), sensed)


@pytest.mark.parametrize("habit", HABITS.values(), ids=HABITS)
def test_with_sensed_treadles_no_beat_is_ever_taken_for_a_pick(warp, habit):
    counted = woven_by_beats(warp, habit, sensed=True)
    assert counted.thrown > PICKS
    assert counted.too_many == 0
    # A fast weaver's first picks come sooner than is believed of one who is not known yet.
    assert counted.too_few <= 0.01 * counted.thrown


@pytest.mark.parametrize("name", ["two beats", "fast"])
def test_by_time_alone_few_beats_are_taken_for_a_pick(warp, name):
    counted = woven_by_beats(warp, HABITS[name], sensed=False)
    assert counted.too_many + counted.too_few <= 0.04 * counted.thrown


@pytest.fixture
def feet(warp):
    feet = SensedFeet(warp, advances=True, beats=True, sensed=True)
    loom = AtLoom(warp)

    def stand(now_s):
        feet.stand_at(loom.progress, this_pick(warp, loom.progress), now_s)

    stand(0.0)
    return loom, feet, stand


def commands(felt):
    return [one.command for one in felt if one.command is not None]


def test_a_beat_without_a_foot_on_the_treadles_is_no_pick_and_lifted_feet_alone_are_none(feet):
    loom, feet, _ = feet
    assert commands(feet.beaten(10.0)) == []
    wanted = treadles_in(loom.warp.pieces[0].footings[0].pressed)
    feet.felt(wanted, 11.0)
    assert commands(feet.felt(frozenset(), 12.5)) == []
    assert commands(feet.beaten(13.0)) == [decide.weave_pick]
    # Until that pick is on disk no other beat is one.
    assert commands(feet.beaten(16.0)) == []


def test_after_a_pick_is_taken_out_its_shed_is_open_still_and_a_beat_says_so(feet):
    loom, feet, stand = feet
    first, second = (treadles_in(footing.pressed) for footing in loom.warp.pieces[0].footings[:2])
    assert first != second
    for wanted, at_s in ((first, 10.0), (second, 13.0)):
        feet.felt(wanted, at_s)
        assert commands(feet.beaten(at_s + 2)) == [decide.weave_pick]
        loom.do(decide.weave_pick)
        stand(at_s + 2)
    loom.do(decide.take_out)
    stand(18.0)
    assert [one.not_counted for one in feet.beaten(22.0)][-1]
    assert loom.now.next_pick == 1
    feet.felt(frozenset(), 23.0)
    feet.felt(second, 24.0)
    assert commands(feet.beaten(26.0)) == [decide.weave_pick]
