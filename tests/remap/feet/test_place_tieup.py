"""A tie-up placed for few cords: of the orders that change as few, none is lighter where that is said."""

from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.model import Draft, Lifted, Yarn
from companion.remap.aim import Aim
from companion.remap.feet.footwork import best_feet
from companion.remap.loom.footings import footings_for
from companion.remap.loom.loom import Loom, Tie
from companion.remap.loom.targets import Column, Target
from companion.remap.remapping import remap

SHAFTS = 4


def draft_of(plan):
    return Draft(
        SHAFTS, tuple(range(SHAFTS)), Lifted(tuple(plan)), (Yarn("grey", (9, 9, 9)),), (0,) * 4, (0,) * len(plan)
    )


def lightest(plan, present, ties, cords):
    """The footwork of the lightest way to hang these ties that changes no more cords, by trying every way."""
    costs = []
    for treadles in permutations(range(len(present)), len(ties)):
        columns = [Column(0)] * len(present)
        for tie, treadle in zip(ties, treadles, strict=True):
            columns[treadle] = Column(tie)
        changed = sum((tie ^ present[treadle]).bit_count() for tie, treadle in zip(ties, treadles, strict=True))
        if changed <= cords:
            choices = {Target(Column(shed)): footings_for(Target(Column(shed)), columns, 1) for shed in set(plan)}
            costs.append(best_feet([Target(Column(shed)) for shed in plan], choices, len(present)).cost)
    return min(costs)


def pressed_ties(stage):
    pressed = {treadle for footing in stage.footings for treadle in footing.left + footing.right}
    return [stage.tieup[treadle].up for treadle in sorted(pressed)]


def test_cords_left_off_let_the_treadles_lie_otherwise():
    plan = [9, 3, 9, 9, 9, 1, 3, 9, 9, 3]
    present = [8, 3, 6, 8, 2]
    (stage,) = remap(
        draft_of(plan), Loom(SHAFTS, 5), present=tuple(Tie(up=up) for up in present), aim=Aim.TREADLES
    ).stages
    assert stage.cords_changed == 2
    assert stage.legwork.cost <= 88


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.integers(1, 14), min_size=3, max_size=12),
    st.lists(st.integers(0, 15), min_size=4, max_size=5),
)
def test_an_order_called_lightest_is_so_among_those_that_change_as_few_cords(plan, present):
    answer = remap(
        draft_of(plan), Loom(SHAFTS, len(present)), present=tuple(Tie(up=up) for up in present), aim=Aim.TREADLES
    )
    if len(answer.stages) == 1 and answer.stages[0].legwork.best_order:
        stage = answer.stages[0]
        assert stage.legwork.cost == lightest(plan, present, pressed_ties(stage), stage.cords_changed)
