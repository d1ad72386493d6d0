"""The help in the window: at one place on every page, opened by touch or key, and left for the very page before."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.draft.units import Units
from companion.present.preferences import Preferences
from companion.present.trade_words import Trade
from companion.present.weave import WeaveButton
from companion.workshop import app
from companion.workshop.preference_file import preference_file, save_preferences
from tests.screens.stage import Stage

F1 = 282


def opened(stage):
    return type(stage.app.place).__name__ == "HelpScreen"


def names_on(place):
    return [name for name, _ in place._page.rows]


def words_of(place, name):
    return dict(place._page.rows)[name]


def type_in(stage, text):
    from kivy.core.window import Window

    Window.dispatch("on_textinput", text)
    stage.pump(2)


def press_f1(stage):
    from kivy.core.window import Window

    Window.dispatch("on_key_down", F1, 0, None, [])
    Window.dispatch("on_key_up", F1, 0, None, [])
    stage.pump(2)


@pytest.fixture
def weaving(home):
    """The demo on the screen, a few picks woven."""
    from companion.cli.weave import demo_warp_name
    from companion.wiring.screen_app import ScreenApp

    program = ScreenApp(demo_warp_name(), guard=None)
    with program, Stage(program.window) as stage:
        for _ in range(3):
            stage.app.place.go_on()
        stage.until(lambda: stage.app.place.progress.now.woven == 3)
        yield stage


def test_the_sign_by_touch_a_key_and_a_typed_question_mark_open_the_help_and_back_leads_to_the_very_page(weaving):
    stage, page = weaving, weaving.app.place
    for opens in (lambda: stage.touch(stage.app.root.help_sign), lambda: press_f1(stage), lambda: type_in(stage, "?")):
        opens()
        assert opened(stage)
        assert stage.app.place.title == "Weaving"
        stage.touch(stage.app.place.button("Back"))
        assert stage.app.place is page
    assert page.progress.now.woven == 3


def test_the_help_has_help_of_its_own_and_that_has_none(weaving):
    stage, page = weaving, weaving.app.place
    stage.touch(stage.app.root.help_sign)
    first = stage.app.place
    stage.touch(stage.app.root.help_sign)
    assert (stage.app.place.title, stage.app.root.help_sign.parent) == ("Help", None)
    press_f1(stage)
    stage.touch(stage.app.place.button("Back"))
    assert stage.app.place is first
    assert stage.app.root.help_sign.parent is not None
    stage.touch(stage.app.place.button("Back"))
    assert stage.app.place is page


def test_no_press_weaves_behind_the_help_and_the_foot_turns_its_pages(weaving):
    stage, page = weaving, weaving.app.place
    stage.resize(800, 480)
    stage.touch(stage.app.root.help_sign)
    place = stage.app.place
    for _ in range(6):
        stage.key("space")
    assert stage.app.place is place
    assert place._at == len(place._firsts) - 1 > 0
    for _ in range(place._at + 1):
        stage.key("page_up")
    assert stage.app.place is page
    assert page.progress.now.woven == 3


def test_half_a_flow_and_half_a_note_are_found_again_as_they_were(weaving):
    stage, page = weaving, weaving.app.place
    stage.resize(1280, 800)
    page.act(WeaveButton.FAULT)
    stage.pump(4)
    stage.touch(page.ask.button("Broken end"))
    question = page._flow.asking
    stage.touch(stage.app.root.help_sign)
    assert stage.app.place.title == "A fault"
    assert {"Mended", "Mend later", "Say which end"} <= set(names_on(stage.app.place))
    # What is not on this page is not told of.
    assert "Uneven beat" not in names_on(stage.app.place)
    stage.key("escape")
    assert (stage.app.place, page._flow.asking) == (page, question)
    page.escape()
    page.escape()
    page.act(WeaveButton.NOTE)
    stage.pump(4)
    stage.touch(page.ask.button("In your own words"))
    for letter in "why?":
        type_in(stage, letter)
    # What is written is written: only the sign and F1 ask here.
    assert page.write.writing.text == "why?"
    press_f1(stage)
    assert stage.app.place.title == "Words to write"
    stage.key("escape")
    assert page.write.writing.text == "why?"


def test_a_list_that_is_made_anew_on_the_way_back_is_not_after_help(home):
    from companion.wiring.screen_app import ScreenApp

    program = ScreenApp(None)
    with program, Stage(program.window) as stage:
        start = stage.app.place
        stage.touch(start.ask.button("Open a draft"))
        stage.touch(start.ask.button("More"))
        shown = start.ask.page_at(start.ask.asked.words)
        assert shown
        stage.touch(stage.app.root.help_sign)
        assert stage.app.place.title == "Drafts"
        stage.touch(stage.app.place.button("Back"))
        assert (stage.app.place, start.ask.page_at(start.ask.asked.words)) == (start, shown)


@pytest.mark.parametrize("mirrored", [False, True])
def test_it_lies_in_the_upper_corner_of_the_hand_far_from_what_says_next(home, mirrored):
    from companion.wiring.screen_app import ScreenApp

    save_preferences(preference_file(), Preferences(mirrored=mirrored, sounds=False))
    from companion.cli.weave import demo_warp_name

    with (program := ScreenApp(demo_warp_name())), Stage(program.window) as stage:
        for width, height in ((800, 480), (800, 1280)):
            stage.resize(width, height)
            sign, next_area = stage.app.root.help_sign, stage.app.place.weave.ids.next_area
            assert (sign.center_x < width / 2) == mirrored
            assert sign.y > height * 0.8
            assert sign.y - next_area.to_window(*next_area.pos)[1] - next_area.height > sign.height


def test_words_follow_spelling_hand_units_keys_and_double_tap(home):
    from companion.cli.weave import demo_warp_name
    from companion.wiring.screen_app import ScreenApp

    kept = Preferences(
        trade=Trade(american=True, harness=True, mistake=True),
        units=Units.INCH,
        mirrored=True,
        next_keys=(ord("j"),),
        double_tap=WeaveButton.UNDO,
        sounds=False,
    )
    save_preferences(preference_file(), kept)
    with (program := ScreenApp(demo_warp_name())), Stage(program.window) as stage:
        page = stage.app.place
        stage.app.help_wanted()
        woven, twice = (words_of(stage.app.place, name) for name in ("The field below the cloth", "A double tap"))
        assert woven.endswith("down, space, enter or J.")
        assert '"Undo"' in twice
        assert "mistake" not in names_on(stage.app.place)
        stage.app.place.go_out()
        page.act(WeaveButton.MEASURE)
        stage.app.help_wanted()
        assert "in in." in stage.app.place.about
        stage.app.place.go_out()
        page.escape()
        page.act(WeaveButton.FAULT)
        stage.app.help_wanted()
        assert stage.app.place.title == "A mistake"


def test_the_pedal_of_the_settings_is_named_and_none_where_there_is_none():
    from companion.present.press_words import following

    keys = (("space",), ("up", "left"))
    none, one = Preferences(), Preferences(pedal="/dev/foot")
    assert following(none, *keys)["next"] == "space"
    assert following(one, *keys)["back"] == "up, left or holding the pedal"
    assert following(replace(one, two_pedals=True), *keys)["next"] == "space or the first pedal"
    assert following(replace(none, mirrored=True), *keys)["left"] == "right"


def test_the_demo_is_what_a_first_start_tells_of(home):
    from companion.wiring.screen_app import ScreenApp

    assert app.DEMO_NAME
    with (program := ScreenApp(None)), Stage(program.window) as stage:
        stage.app.help_wanted()
        assert {"Weave the demo", "Open a draft", "Write a draft", "Next"} <= set(names_on(stage.app.place))


def test_the_question_mark_stands_on_its_sign_wherever_a_window_takes_it(home):
    from companion.wiring.screen_app import ScreenApp

    with (program := ScreenApp(None)), Stage(program.window) as stage:
        sign = stage.app.root.help_sign
        # From one to the other it moves, and is as large.
        for width, height in ((800, 480), (1024, 480), (1024, 600)):
            stage.resize(width, height)
            middle = [at + side / 2 for at, side in zip(sign.words_pos, sign.texture_size, strict=True)]
            assert middle == pytest.approx(sign.center, abs=2)
