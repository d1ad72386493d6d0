"""A tie-up placed for few cords: the feet on it are the lightest of the one model, in every stage."""

from hypothesis import example, given, settings
from hypothesis import strategies as st

from companion.draft.masks import shafts_of
from companion.draft.model import Draft, Lifted, Yarn
from companion.remap.aim import Aim
from companion.remap.loom.loom import Loom, Tie
from companion.remap.remapped import Verdict
from companion.remap.remapping import remap
from tests.oracles.feet_brute import least_on, walk_cost

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
@example([11, 10, 13, 6, 11, 11, 7, 1, 12], [4, 6, 1, 9, 2])
def test_no_feet_on_so_few_treadles_or_on_the_stage_as_hung_are_lighter_and_their_footwork_is_told(plan, present):
    answer = remap(
        draft_of(plan), Loom(SHAFTS, len(present)), present=tuple(Tie(up=up) for up in present), aim=Aim.TREADLES
    )
    for stage in answer.stages:
        picks = plan[stage.first : stage.last + 1]
        row = [frozenset(shafts_of(tie.up)) for tie in stage.tieup]
        if answer.verdict is Verdict.FITS:
            pressed = {treadle for footing in stage.footings for treadle in footing.left + footing.right}
            assert len(pressed) <= answer.fewest.best
            row = [shafts if treadle in pressed else frozenset() for treadle, shafts in enumerate(row)]
        sheds = [frozenset(shafts_of(shed)) for shed in picks]
        least = least_on(sheds, row, 1)
        assert cost_as_stood(stage.footings) == least
        if stage.footwork is not None:
            assert stage.footwork.cost == least


def cost_as_stood(footings):
    """Return what these feet cost where no lone foot stands on the other foot's treadle; two may reach across."""
    costs = []
    for split in range(SHAFTS + 2):
        alone = [foot for foot in footings if not (foot.left and foot.right)]
        if all(t < split for foot in alone for t in foot.left) and all(
            split <= t for foot in alone for t in foot.right
        ):
            stands = []
            for foot in footings:
                across = any(t >= split for t in foot.left) + any(t < split for t in foot.right)
                stands.append((foot.left, foot.right, 14 * across))
            costs.append(walk_cost(stands))
    return min(costs)
