"""The settings say how things stand, all that was chosen, in the weaver's words."""

from __future__ import annotations

from companion.draft.facing import Facing, FirstPick, Side
from companion.present.preferences import Preferences
from companion.present.settings_asked import ask_preferences
from companion.present.trade_words import AS_WRITTEN, Trade, in_trade_words
from companion.present.weave import WeaveButton
from companion.remap.loom.feet_wish import TabbyPlace
from tests.present.test_flows import follow


def test_the_settings_say_all_that_a_weaver_chose():
    chosen = Preferences(
        trade=Trade(american=True, harness=True, mistake=True),
        facing=Facing(Side.RIGHT, FirstPick.AT_BOTTOM),
        tabby=TabbyPlace.OUTSIDE,
        beater=True,
        pedal="/dev/serial/by-id/footboard",
        bare_switch=True,
        two_pedals=True,
        inverted=True,
        next_keys=(98,),
    )
    page = in_trade_words(ask_preferences(chosen, (), False), chosen.trade)
    said = {answer.words for answer in page.answers}
    assert {
        "Words: color, harness, mistake",
        "First end: right, first pick at the bottom",
        "Tabby outside, either foot first",
        "Beat counts: by time",
        "Pedal: two bare switches, keyboard",
    } <= said
    assert "footboard read the other way round, and a pedal that acts as a keyboard" in page.detail
    untouched = in_trade_words(ask_preferences(Preferences(), (), False), AS_WRITTEN)
    assert "Words: colour, shaft, fault" in {answer.words for answer in untouched.answers}


def test_a_question_about_a_setting_begins_with_how_it_is():
    port = "/dev/serial/by-id/footboard"
    wired = Preferences(pedal=port, bare_switch=True, inverted=True, double_tap=WeaveButton.UNDO, beater=True)
    asked = ask_preferences(wired, [port], can_speak=False)
    for path, stands in (
        (("Double tap: Undo",), "Undo"),
        (("Beat counts: by time",), "Yes, by time alone"),
        (("Pedal: a bare switch", "Go on"), "footboard"),
        (("Pedal: a bare switch", "Go on", "footboard"), "A bare switch"),
        (("Pedal: a bare switch", "Go on", "footboard", "A bare switch"), "The other way round"),
    ):
        assert follow(asked, *path).main.words == stands


def test_no_pedal_means_none_also_where_keys_were_taught():
    taught = Preferences(next_keys=(98,), back_keys=(122,))
    assert follow(ask_preferences(taught, (), False), "Pedal: keyboard", "Go on", "No pedal").result == Preferences()
