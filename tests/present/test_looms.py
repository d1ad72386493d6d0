"""A loom is described by touch; a tie-up that it can no longer carry is forgotten rather than told wrongly."""

from __future__ import annotations

from companion.draft.units import Units
from companion.present.asking import Answered
from companion.present.looms import KeepLoom, LeaveLooms, RemoveLoom, ask_looms, changed
from companion.remap.loom.loom import Action, Loom
from companion.remap.loom.tieup_text import parse_tieup
from companion.weaving.warp import LoomProfile

TIED = parse_tieup("1 2, 3 4, 1 3", Action.RISING)
FLOOR = LoomProfile("Floor loom", Loom(4, 6), TIED, 90, 60)


def follow(asked, *words):
    outcome = asked
    for word in words:
        (answer,) = (answer for answer in (*outcome.answers, *outcome.foot) if answer.words == word)
        outcome = answer.leads_to()
    return outcome


def test_a_new_loom_has_a_free_name_and_keeps_what_was_touched():
    asked = ask_looms((FLOOR,), Units.METRIC)
    end = follow(asked, "Add a loom", "4 shafts", "8", "Width unknown", "80 cm", "0 cm loom waste", "45 cm", "Keep it")
    assert end == Answered(KeepLoom(LoomProfile("Table loom", Loom(8, 6), None, 80, 45)))


def test_one_fact_is_changed_alone_and_the_tie_up_stays_where_it_can():
    end = follow(ask_looms((FLOOR,), Units.METRIC), "Floor loom", "One treadle under a foot", "Keep it").result
    assert end == KeepLoom(LoomProfile("Floor loom", Loom(4, 6, reach=2), TIED, 90, 60), "Floor loom")
    assert changed(FLOOR, Loom(4, 3)).present == TIED
    assert changed(FLOOR, Loom(8, 6)).present == TIED
    for machine in (Loom(4, 2), Loom(2, 6), Loom(4, 6, Action.SINKING)):
        assert changed(FLOOR, machine).present is None


def test_a_name_is_chosen_or_written():
    asked = follow(ask_looms((FLOOR,), Units.METRIC), "Floor loom", "Another name")
    assert follow(asked, "Large loom").words == "Large loom"
    assert follow(asked, "Write a name").leads_to("By the window").words == "By the window"


def test_counts_stay_within_what_a_loom_can_have():
    one = LoomProfile("x", Loom(1, 20))
    shafts = follow(ask_looms((one,), Units.METRIC), "x", "1 shaft")
    assert "One less" not in [answer.words for answer in shafts.foot]
    treadles = follow(ask_looms((one,), Units.METRIC), "x", "20 treadles")
    assert "One more" not in [answer.words for answer in treadles.foot]


def test_a_loom_that_was_removed_is_put_back_whole():
    assert follow(ask_looms((FLOOR,), Units.METRIC), "Floor loom", "Remove") == Answered(RemoveLoom("Floor loom"))
    assert follow(ask_looms((), Units.METRIC, FLOOR), "Put Floor loom back") == Answered(KeepLoom(FLOOR))
    assert follow(ask_looms((), Units.METRIC), "Done") == Answered(LeaveLooms())
