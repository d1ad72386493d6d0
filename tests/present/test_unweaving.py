"""Taking out, one large shed at a time: each pick is on disk before the next is shown, and a break loses nothing."""

from __future__ import annotations

import pytest

from companion.draft.facing import FROM_LEFT
from companion.present.asking import AndThen, nothing
from companion.present.fault import ask_fault
from companion.present.unweaving import ask_newest_out
from companion.weaving.decide import pause, weave_pick
from companion.weaving.errors import WeavingError
from companion.weaving.events import FaultKind, FaultNoted, FaultSettled, FaultState, PickTakenOut
from companion.weaving.onward import onward
from companion.weaving.taking_out import taking_out
from tests.present.test_flows import follow
from tests.screens.warps import twill_warp
from tests.weaving.world import AtLoom


def at_the_fault(rows, kind="Wrong shed"):
    """A loom with six picks, and the first shed to open for a fault so many rows below the newest."""
    loom = AtLoom(twill_warp())
    for _ in range(6):
        loom.do(onward)
    asked = ask_fault(loom.warp, loom.progress, FROM_LEFT)
    return loom, follow(asked, kind, *["One row lower"] * rows, "Unweave to it")


def is_out(loom, asked):
    """Say that the pick is out; return what is asked then."""
    result = follow(asked, "It is out").result
    for command in result.commands if isinstance(result, AndThen) else result:
        loom.do(command)
    return result.asks(loom.warp, loom.progress) if isinstance(result, AndThen) else None


def test_each_page_shows_the_shed_the_shuttle_and_the_side_to_pull_to():
    loom, asked = at_the_fault(2)
    for step in taking_out(loom.warp, loom.progress, 3):
        assert f"pick {step.pick + 1}" in asked.detail
        assert asked.words == f"Pull {step.shuttle} from the {step.pull_from.value} to the {step.pull_to.value}"
        assert asked.harness.raised == tuple(step.shed >> shaft & 1 == 1 for shaft in range(4))
        shed = [str(shaft + 1) for shaft in range(4) if step.shed >> shaft & 1]
        assert asked.lines[0].endswith(f"open shaft{'s' if len(shed) > 1 else ''} {' '.join(shed)}")
        assert asked.harness.left | asked.harness.right == {*step.footing.left, *step.footing.right}
        asked = is_out(loom, asked)
    assert asked is None


def test_the_fault_is_noted_with_the_first_pick_out_and_mended_with_the_last():
    loom, asked = at_the_fault(2)
    while asked is not None:
        asked = is_out(loom, asked)
    assert [entry.event for entry in loom.entries[6:]] == [
        FaultNoted(FaultKind.WRONG_SHED, 3),
        PickTakenOut(5),
        PickTakenOut(4),
        PickTakenOut(3),
        FaultSettled(0, FaultState.MENDED, "taken out to weave again"),
    ]


def test_the_newest_pick_alone_is_noted_as_mended_at_once():
    loom, asked = at_the_fault(0)
    assert is_out(loom, asked) is None
    noted, out = (entry.event for entry in loom.entries[6:])
    assert (noted.state, out) == (FaultState.MENDED, PickTakenOut(5))


@pytest.mark.parametrize("kind", [kind for kind in FaultKind if not kind.of_loom])
@pytest.mark.parametrize("rows", [0, 2])
def test_only_what_taking_out_mends_is_called_mended_with_the_last_pick(kind, rows):
    """That a broken end hangs broken until it is tied in: common practice, no source."""
    loom, asked = at_the_fault(rows, kind.value.capitalize())
    for _ in range(rows + 1):
        asked = is_out(loom, asked)
    assert loom.now.next_pick == 5 - rows
    needs_more = {FaultKind.BROKEN_END, FaultKind.SKIPPED_END, FaultKind.OTHER}
    assert bool(loom.now.open_faults) == (kind in needs_more) == (asked is not None)
    if asked is None:
        return
    assert (asked.main.words, asked.main.leads_to()) == ("Mend later", nothing())
    (mended,) = follow(asked, "It is mended").result
    loom.do(mended)
    assert loom.now.open_faults == ()


def test_a_broken_end_left_open_is_taken_up_again_where_faults_are_settled():
    loom, asked = at_the_fault(1, "Broken end")
    while asked.by_back:
        asked = is_out(loom, asked)
    assert [fault.kind for fault in loom.now.open_faults] == [FaultKind.BROKEN_END]
    (settled,) = follow(ask_fault(loom.warp, loom.progress, FROM_LEFT), "Fault 1 is settled", "Left as it is").result
    loom.do(settled)
    assert loom.now.open_faults == ()


def test_who_breaks_off_finds_the_fault_open_and_goes_on_from_there():
    loom, asked = at_the_fault(2)
    is_out(loom, asked)
    assert [fault.pick for fault in loom.now.open_faults] == [3]
    asked = follow(ask_fault(loom.warp, loom.progress, FROM_LEFT), "Fault 1 is settled", "Unweave to it")
    assert "2 picks" in asked.detail
    while asked is not None:
        asked = is_out(loom, asked)
    assert loom.now.next_pick == 3
    assert loom.now.open_faults == ()


def test_picks_come_out_shed_by_shed_without_a_fault_until_the_last_one_is_out():
    loom = AtLoom(twill_warp())
    loom.weave(3)
    asked = ask_newest_out(loom.warp, loom.progress)
    for step in taking_out(loom.warp, loom.progress, 3):
        assert asked.words == f"Pull {step.shuttle} from the {step.pull_from.value} to the {step.pull_to.value}"
        assert asked.detail.startswith(f"pick {step.pick + 1} ")
        assert asked.harness.raised == tuple(step.shed >> shaft & 1 == 1 for shaft in range(4))
        asked = is_out(loom, asked)
    assert asked is None
    assert [entry.event for entry in loom.entries[3:]] == [PickTakenOut(pick) for pick in (2, 1, 0)]


def test_by_foot_back_takes_out_and_the_press_that_says_woven_leads_to_weaving_with_a_fault_and_without():
    loom, for_a_fault = at_the_fault(1)
    for asked in (for_a_fault, ask_newest_out(loom.warp, loom.progress)):
        assert asked.main.leads_to() == nothing()
        assert asked.by_back.words == "It is out"


@pytest.mark.parametrize("standing", [(), (weave_pick, pause)])
def test_where_no_pick_can_come_out_no_shed_is_shown(standing):
    loom = AtLoom(twill_warp())
    for command in standing:
        loom.do(command)
    with pytest.raises(WeavingError):
        ask_newest_out(loom.warp, loom.progress)
