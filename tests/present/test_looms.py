"""A loom is described by touch; a tie-up that it can no longer carry is forgotten rather than told wrongly."""

from __future__ import annotations

from dataclasses import replace

from companion.draft.units import Units
from companion.present.asking import Answered
from companion.present.looms import KeepLoom, RemoveLoom, ask_looms, changed
from companion.remap.loom.feet_wish import FeetWish, FirstFoot, TabbyPlace
from companion.remap.loom.loom import Action, Loom
from companion.remap.loom.tieup_text import parse_tieup
from companion.weaving.warp import LoomProfile

TIED = parse_tieup("1 2, 3 4, 1 3", Action.RISING)
REACH = "One treadle under a foot"
FLOOR = LoomProfile("Floor loom", Loom(4, 6), TIED, 90, 60)


def follow(asked, *words):
    outcome = asked
    for word in words:
        (answer,) = (answer for answer in (*outcome.answers, *outcome.pad, *outcome.foot) if answer.words == word)
        outcome = answer.leads_to()
    return outcome


def test_a_new_loom_has_a_free_name_and_keeps_what_was_touched():
    asked = ask_looms((FLOOR,), Units.METRIC)
    shafts = ("4 shafts", "8", "Done")
    width, waste = ("Width unknown", "8", "0", "Done"), ("0 cm loom waste", "4", "5", "Done")
    end = follow(asked, "Add a loom", *shafts, *width, *waste, "Done")
    assert end == Answered(KeepLoom(LoomProfile("Table loom", Loom(8, 6), None, 80, 45)))


def test_one_fact_is_changed_alone_and_the_tie_up_stays_where_it_can():
    end = follow(ask_looms((FLOOR,), Units.METRIC), "Floor loom", *[REACH] * 2, "Done", "Done").result
    assert end == KeepLoom(LoomProfile("Floor loom", Loom(4, 6, reach=2), TIED, 90, 60), "Floor loom")
    assert changed(FLOOR, Loom(4, 3)).present == TIED
    assert changed(FLOOR, Loom(8, 6)).present == TIED
    for machine in (Loom(4, 2), Loom(2, 6), Loom(4, 6, Action.SINKING)):
        assert changed(FLOOR, machine).present is None


def test_where_tabby_lies_and_which_foot_starts_are_told_by_touch():
    feet = follow(ask_looms((FLOOR,), Units.METRIC), "Floor loom", REACH)
    asked = follow(feet, "Tabby wherever, either foot first", "Left", "The right one", "Done")
    assert "Feet: tabby left, right foot first" in [answer.words for answer in asked.answers]
    wish = FeetWish(TabbyPlace.LEFT, FirstFoot.RIGHT)
    assert follow(asked, "Done").result == KeepLoom(replace(FLOOR, loom=Loom(4, 6, wish=wish)), "Floor loom")
    table = ask_looms((LoomProfile("Table loom", Loom(4, 0, Action.LEVERS)),), Units.METRIC)
    words = [answer.words for answer in follow(table, "Table loom").answers]
    assert not any("foot" in word or "Feet" in word for word in words)


def test_a_name_is_chosen_or_written():
    asked = follow(ask_looms((FLOOR,), Units.METRIC), "Floor loom", "Another name")
    assert follow(asked, "Large loom").words == "Large loom"
    assert follow(asked, "Write a name").leads_to("By the window").words == "By the window"


def test_counts_stay_within_what_a_loom_can_have():
    one = LoomProfile("x", Loom(1, 20))
    for fact, most in (("1 shaft", 32), ("20 treadles", 20)):
        asked = follow(ask_looms((one,), Units.METRIC), "x", fact)
        assert follow(asked, "0").foot[-1].words == ""
        assert str(most) in follow(asked, *str(most), "9").words
        assert str(most) in follow(asked, *str(most), "0").words


def test_a_loom_that_was_removed_is_put_back_whole():
    assert follow(ask_looms((FLOOR,), Units.METRIC), "Floor loom", "Remove") == Answered(RemoveLoom("Floor loom"))
    assert follow(ask_looms((), Units.METRIC, FLOOR), "Put Floor loom back") == Answered(KeepLoom(FLOOR))


EACH = ("1", "2", "0", "Done")


def test_heddles_are_told_as_many_on_each_shaft_or_shaft_by_shaft():
    facts = follow(ask_looms((FLOOR,), Units.METRIC), "Floor loom")
    alike = follow(facts, "Heddles unknown", "As many on each", *EACH)
    assert follow(alike, "Done").result == KeepLoom(replace(FLOOR, heddles=(120, 120, 120, 120)), "Floor loom")
    assert follow(alike, "120 heddles on each shaft").words.startswith("How many heddles")
    singly = follow(facts, "Heddles unknown", "Shaft by shaft", *EACH, *EACH, "8", "1", "Done", "0", "Done")
    assert follow(singly, "Done").result.loom.heddles == (120, 120, 81, 0)
    assert follow(singly, "321 heddles in all").answers[2].detail == "81 heddles"


def test_the_heddles_of_one_shaft_are_changed_alone_and_forgotten_where_the_shafts_are_others():
    told = replace(FLOOR, heddles=(120, 110, 81, 80))
    heddles = follow(ask_looms((told,), Units.METRIC), "Floor loom", "391 heddles in all")
    assert follow(heddles, "Shaft 3").words == "Heddles on shaft 3: 81"
    after = follow(heddles, "Shaft 3", "9", "5", "Done", "Done", "Done").result.loom
    assert after == replace(FLOOR, heddles=(120, 110, 95, 80))
    assert follow(heddles, "Leave it out", "Done").result.loom == FLOOR
    assert changed(told, Loom(4, 8)).heddles == told.heddles
    for shafts in (2, 8):
        assert changed(told, Loom(shafts, 6)).heddles == ()


def test_one_shaft_alone_has_heddles_in_all():
    one = replace(LoomProfile("x", Loom(1, 2)), heddles=(1,))
    assert follow(ask_looms((one,), Units.METRIC), "x", "1 heddle in all").answers[0].detail == "1 heddle"
