"""A tie-up placed for few cords: the feet on it are the lightest of the one model, in every stage."""

from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.masks import shafts_of
from companion.draft.model import Draft, Lifted, Yarn
from companion.remap.aim import Aim
from companion.remap.feet.walking import price_of
from companion.remap.loom.loom import Loom, Tie
from companion.remap.remapping import remap
from tests.oracles.feet_brute import least_on

SHAFTS = 4


def draft_of(plan):
    return Draft(
        SHAFTS, tuple(range(SHAFTS)), Lifted(tuple(plan)), (Yarn("grey", (9, 9, 9)),), (0,) * 4, (0,) * len(plan)
    )


def test_cords_left_off_let_the_treadles_lie_otherwise():
    plan = [9, 3, 9, 9, 9, 1, 3, 9, 9, 3]
    present = [8, 3, 6, 8, 2]
    (stage,) = remap(
        draft_of(plan), Loom(SHAFTS, 5), present=tuple(Tie(up=up) for up in present), aim=Aim.TREADLES
    ).stages
    assert stage.cords_changed == 2


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.integers(1, 14), min_size=3, max_size=12),
    st.lists(st.integers(0, 15), min_size=4, max_size=5),
)
def test_no_feet_on_the_tie_up_as_hung_are_lighter(plan, present):
    answer = remap(
        draft_of(plan), Loom(SHAFTS, len(present)), present=tuple(Tie(up=up) for up in present), aim=Aim.TREADLES
    )
    for stage in answer.stages:
        picks = plan[stage.first : stage.last + 1]
        row = [frozenset(shafts_of(tie.up)) for tie in stage.tieup]
        assert price_of(stage.footings) == least_on([frozenset(shafts_of(shed)) for shed in picks], row, 1)
