"""The weaver's looms wherever they are asked for, and the ways to a draft on one of several sticks."""

from __future__ import annotations

from itertools import combinations

import pytest

from companion.draft.wif_write import write_wif
from companion.present.draft_words import WEAVE
from companion.remap.loom.loom import Action, Loom
from companion.remap.loom.tieup_text import parse_tieup
from companion.weaving.warp import LoomProfile
from tests.screens.looked_at import SIZES, texts_clipped, touch_targets
from tests.screens.newcomer import choose, choose_listed, opened
from tests.screens.stage import Stage
from tests.screens.warps import twill_draft

HALF_A_PIXEL = 0.5


@pytest.fixture
def home(tmp_path, display, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    (tmp_path / "Documents").mkdir()
    (tmp_path / "Documents" / "towel.wif").write_bytes(write_wif(twill_draft()))
    return tmp_path


def keep(*looms):
    from companion.workshop import app
    from companion.workshop.looms_file import save_looms

    save_looms(app.looms_file(), looms)


def test_a_draft_that_was_looked_at_goes_on_the_weavers_own_loom(home):
    keep(LoomProfile("Floor loom", Loom(4, 4), parse_tieup("1 2, 2 3, 3 4, 1 4", Action.RISING)))
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Open a draft", "towel", "Look at the draft"):
            choose(stage, words)
        stage.touch(stage.app.place.button(WEAVE))
        assert stage.app.place.ask.ids.words.text == "On which loom?"
        choose(stage, "Floor loom")
        stage.until(lambda: stage.app.place.signs.accept)
        assert not any(line.text.startswith("treadle ") for line in stage.app.place.ids.lines.children)


def test_the_name_of_a_loom_is_written_on_the_keyboard_that_the_weaver_chose(home):
    from companion.present.letters import KeyboardLayout
    from companion.present.preferences import Preferences
    from companion.workshop.preference_file import preference_file, save_preferences

    save_preferences(preference_file(), Preferences(letters=KeyboardLayout.AZERTY))
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Your looms", "Add a loom", "Another name", "Write a name"):
            choose(stage, words)
        assert "".join(key.words for key in stage.app.place.write.rows[0][:6]).casefold() == KeyboardLayout.AZERTY.value


def test_the_units_of_the_settings_are_those_of_every_question(home):
    from companion.draft.units import Units
    from companion.present.preferences import Preferences
    from companion.workshop import app
    from companion.workshop.preference_file import preference_file, save_preferences

    save_preferences(preference_file(), Preferences(units=Units.INCH))
    program = opened()
    with program, Stage(program.window) as stage:
        for words in (
            "Your looms",
            "Add a loom",
            "Width unknown",
            "3",
            "2",
            "Done",
            "0 in loom waste",
            "2",
            "4",
            "Done",
            "Done",
        ):
            choose(stage, words)
    (loom,) = app.load_looms(app.looms_file())
    assert (loom.weaving_width_cm, loom.loom_waste_cm) == (pytest.approx(32 * 2.54), pytest.approx(24 * 2.54))


def test_a_draft_is_found_on_the_second_of_two_sticks(home, monkeypatch):
    from companion.wiring import start_folders

    sticks = (home / "BLUE", home / "RED")
    for stick in sticks:
        stick.mkdir()
    (sticks[1] / "scarf.wif").write_bytes(write_wif(twill_draft()))
    monkeypatch.setattr(start_folders, "sticks", lambda: sticks)
    program = opened()
    with program, Stage(program.window) as stage:
        ask = stage.app.place.ask
        for words in ("Open a draft", "Any folder"):
            choose(stage, words)
        stage.until(lambda: ask.ids.words.text == home.name)
        choose(stage, "Sticks")
        stage.until(lambda: ask.ids.words.text == "Sticks")
        choose(stage, "RED")
        stage.until(lambda: ask.ids.words.text == "RED")
        choose_listed(stage, "scarf")
        assert ask.ids.words.text == "How many treadles on your loom?"


def squares_fit(stage):
    targets = touch_targets(stage.app.place)
    area = stage.app.place.ids.area
    assert texts_clipped(stage.app.place) == []
    assert all(min(target.size) >= 48 for target in targets)
    for target in targets:
        assert 0 <= target.x < target.right <= stage.app.place.right
        if type(target).__name__ == "TieSquareButton":
            assert area.y - HALF_A_PIXEL < target.y < target.top < area.top + HALF_A_PIXEL
    for one, other in combinations(targets, 2):
        assert one.right <= other.x or other.right <= one.x or one.top <= other.y or other.top <= one.y


def to_the_squares(stage):
    for words in ("Your looms", "Floor loom", "How it is tied"):
        choose(stage, words)
    stage.pump(4)


def the_loom():
    from companion.workshop import app
    from companion.workshop.looms_file import load_looms

    (loom,) = load_looms(app.looms_file())
    return loom


def test_the_present_tie_up_is_drawn_touched_kept_and_forgotten(home):
    keep(LoomProfile("Floor loom", Loom(4, 4, Action.COUNTERMARCHE)))
    program = opened()
    with program, Stage(program.window) as stage:
        stage.resize(800, 480)
        to_the_squares(stage)
        for treadle, shaft, touches in ((0, 0, 1), (0, 1, 2), (3, 3, 1), (3, 2, 3)):
            for _ in range(touches):
                stage.touch(stage.app.place.square(treadle, shaft))
        stage.touch(stage.app.place.button("Done"))
        assert "its tie-up is known" in stage.app.place.ask.ids.detail.text
        choose(stage, "Done")
        assert the_loom().present == parse_tieup("1/2, -, -, 4/-", Action.COUNTERMARCHE)
        choose(stage, "Floor loom")
        choose(stage, "How it is tied")
        stage.touch(stage.app.place.square(1, 1))
        stage.touch(stage.app.place.button("Back"))
        choose(stage, "Done")
        assert the_loom().present == parse_tieup("1/2, -, -, 4/-", Action.COUNTERMARCHE)
        choose(stage, "Floor loom")
        choose(stage, "How it is tied")
        stage.touch(stage.app.place.button("Not known"))
        choose(stage, "Done")
        assert the_loom().present is None


@pytest.mark.parametrize("text_scale", [1.0, 1.3], ids=["usual", "large"])
@pytest.mark.parametrize(("shafts", "treadles"), [(4, 6), (16, 14)])
def test_the_squares_fit_every_window(home, shafts, treadles, text_scale):
    from companion.present.preferences import Preferences
    from companion.workshop.preference_file import preference_file, save_preferences

    save_preferences(preference_file(), Preferences(text_scale=text_scale))
    keep(LoomProfile("Floor loom", Loom(shafts, treadles)))
    program = opened()
    with program, Stage(program.window) as stage:
        to_the_squares(stage)
        for size in SIZES:
            stage.resize(*size)
            squares_fit(stage)
        if shafts > 4:
            stage.touch(stage.app.place.button("More"))
            squares_fit(stage)


def test_each_kind_of_loom_is_drawn_on_its_button_with_its_words_beside_the_picture(home):
    from kivy.graphics import Line

    program = opened()
    with program, Stage(program.window) as stage:
        choose(stage, "Your looms")
        choose(stage, "Add a loom")
        choose(stage, "Jack")
        for size in SIZES:
            stage.resize(*size)
            assert texts_clipped(stage.app.place) == []
            for button in stage.app.place.ask.ids.answers.children:
                lines = [each for each in button.canvas.after.children if isinstance(each, Line)]
                assert lines
                across = [value for line in lines for value in line.points[::2]]
                up = [value for line in lines for value in line.points[1::2]]
                assert button.x <= min(across)
                assert max(across) <= button.right
                assert button.y <= min(up)
                assert max(up) <= button.top
                # The words begin beside the picture, or below it.
                assert max(across) <= button.x + button.padding[0] or min(up) >= button.top - button.padding[1]
        choose(stage, "Countermarche")
        assert stage.app.place.ask.button("Countermarche")


@pytest.mark.parametrize("text_scale", [1.0, 1.3], ids=["usual", "large"])
def test_the_heddles_of_a_loom_are_told_by_touch_and_kept_and_are_whole_in_every_window(home, text_scale):
    from companion.present.preferences import Preferences
    from companion.workshop import app
    from companion.workshop.preference_file import preference_file, save_preferences

    save_preferences(preference_file(), Preferences(text_scale=text_scale))
    keep(LoomProfile("Floor loom", Loom(4, 6)))
    program = opened()
    with program, Stage(program.window) as stage:

        def whole():
            for size in SIZES:
                stage.resize(*size)
                assert texts_clipped(stage.app.place) == []
                assert all(min(target.size) >= 48 for target in touch_targets(stage.app.place))

        for words in ("Your looms", "Floor loom", "Heddles unknown", "As many on each", "1", "2", "0", "Done"):
            choose(stage, words)
        whole()
        for words in ("120 heddles on each shaft", "Shaft 2", "9", "5", "Done"):
            choose(stage, words)
        whole()
        for words in ("Done", "Done"):
            choose(stage, words)
    (loom,) = app.load_looms(app.looms_file())
    assert loom.heddles == (120, 95, 120, 120)
