"""What is wrong with the loom: said as it is found, with what mending needs, and noted with the faults."""

from __future__ import annotations

import pytest

from companion.draft.facing import FROM_LEFT
from companion.draft.units import Units
from companion.present.asking import AndThen
from companion.present.deeds import answer_words
from companion.present.fault import ask_fault
from companion.record.outline import outline
from companion.record.sheet import sheet
from companion.weaving.events import FaultKind, FaultNoted, FaultState
from companion.weaving.onward import onward
from tests.present.test_flows import events_of, follow
from tests.screens.warps import twill_warp
from tests.weaving.world import AtLoom

OF_LOOM = "Threading, sleying, tie-up"


@pytest.fixture
def loom():
    loom = AtLoom(twill_warp())
    for _ in range(3):
        loom.do(onward)
    return loom


def asked_of(loom, *words):
    return follow(ask_fault(loom.warp, loom.progress, FROM_LEFT), OF_LOOM, *words)


def test_an_end_on_a_wrong_shaft_is_noted_with_the_shaft_and_what_mending_needs(loom):
    # On a straight threading of four shafts end 7 belongs on shaft 3, and its neighbour, end 8, on shaft 4.
    asked = asked_of(loom, "An end on a wrong shaft", "Count from the left", "7", "Done", "Shaft 4")
    assert asked.words == "End 7 is on shaft 4 in place of 3"
    assert "with end 8? Thread these 2 ends" in asked.lines[0]
    assert "repair heddle on shaft 3, thread 1 end" in asked.lines[1]
    assert "Thread 7 ends again" in asked.lines[2]
    (event,) = events_of(loom.warp, loom.progress, follow(asked, "Mend later"))
    assert event == FaultNoted(FaultKind.THREADING, 2, 6, FaultState.FOUND, "", shaft=3)
    assert answer_words(loom.warp, loom.progress, event, Units.METRIC) == "end 7 is on shaft 4 in place of 3: found"


def test_a_wrong_dent_says_how_many_ends_are_sleyed_anew(loom):
    asked = asked_of(loom, "An end in a wrong dent", "Count from the right", "3", "Done")
    assert "Sley 3 ends again" in asked.lines[1]
    ends = loom.warp.pieces[0].draft.ends
    (event,) = events_of(loom.warp, loom.progress, follow(asked, "Mended"))
    assert event == FaultNoted(FaultKind.SLEYING, 2, ends - 3, FaultState.MENDED)


def test_the_tie_up_is_checked_treadle_by_treadle_each_shed_shown(loom):
    asked = asked_of(loom, "A treadle pulls wrong shafts")
    tieup, seen = loom.warp.pieces[0].stages[0].tieup, []
    while asked.harness is not None:
        (treadle,) = asked.harness.left
        seen.append(treadle)
        assert asked.harness.raised == tuple(tieup[treadle].up >> shaft & 1 == 1 for shaft in range(4))
        if treadle != 1:
            asked = follow(asked, "Yes")
            continue
        result = follow(asked, "No: mend later").result
        assert isinstance(result, AndThen)
        for command in result.commands:
            loom.do(command)
        asked = result.asks(loom.warp, loom.progress)
    assert seen == [treadle for treadle, tie in enumerate(tieup) if tie.up]
    assert [(fault.kind, fault.treadle) for fault in loom.now.open_faults] == [(FaultKind.TIE_UP, 1)]


def test_a_fault_of_the_loom_is_settled_like_any_other_and_is_in_no_rate_of_picks(loom):
    asked = asked_of(loom, "An end on a wrong shaft", "Count from the left", "7", "Done", "Shaft 4")
    for command in follow(asked, "Mend later").result:
        loom.do(command)
    asked = follow(ask_fault(loom.warp, loom.progress, FROM_LEFT), "Fault 1 is settled")
    assert asked.words == "Fault 1: end 7 is on shaft 4 in place of 3"
    assert [answer.words for answer in asked.answers] == ["Mended", "Left as it is"]
    told = sheet(loom.warp, loom.entries)
    assert told.faults.all_picks.faults == 0
    assert told.faults.by_kind == ((FaultKind.THREADING, 1),)
    assert "end 7 is on shaft 4 in place of 3" in str(outline(told, Units.METRIC, FROM_LEFT))
