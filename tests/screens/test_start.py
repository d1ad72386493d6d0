"""From nothing to the first pick: the start flow in a real window, on a shelf and a draft file on disk."""

from __future__ import annotations

import pytest

from companion.draft.wif_write import write_wif
from tests.screens.stage import Stage
from tests.screens.test_window import texts_clipped, touch_targets
from tests.screens.warps import twill_draft


@pytest.fixture
def home(tmp_path, display, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    documents = tmp_path / "Documents"
    documents.mkdir()
    (documents / "towel.wif").write_bytes(write_wif(twill_draft()))
    return tmp_path


def opened(name=None):
    from companion.wiring.screen_app import ScreenApp

    return ScreenApp(name)


def choose(stage, words):
    stage.touch(stage.app.place.ask.button(words))


def choose_draft(stage, words):
    while words not in {button.text for button in stage.app.place.ask.ids.answers.children}:
        choose(stage, "More")
    choose(stage, words)


def test_a_newcomer_weaves_the_first_pick_of_a_draft_file_in_six_touches(home):
    from companion import app

    program = opened()
    with program, Stage(program.window) as stage:
        assert "Nothing is on the loom" in stage.app.place.ask.ids.words.text
        choose(stage, "A new warp")
        choose(stage, "towel")
        choose(stage, "4 treadles")
        choose(stage, "Only raise shafts")
        stage.until(lambda: stage.app.place.signs.accept == "Weave it")
        assert "proven" in stage.app.place.ids.detail.text
        assert texts_clipped(stage.app.place) == []
        stage.touch(stage.app.place.button("Weave it"))
        stage.touch(stage.app.place.weave.ids.next_area)
        stage.until(lambda: stage.app.place.weave.ids.count.text == "pick 2 of 12")
    assert app.shelf().names() == ("Towel",)


def test_a_loom_with_too_few_treadles_is_told_what_would_do_and_how_often_to_re_tie(home):
    program = opened()
    with program, Stage(program.window) as stage:
        choose(stage, "A new warp")
        choose_draft(stage, "demo double faced four shaft")
        choose(stage, "4 treadles")
        choose(stage, "Only raise shafts")
        stage.until(lambda: stage.app.place.signs.accept)
        assert "to re-tie" in stage.app.place.ids.headline.text
        assert "6 treadles are the fewest (proven)" in stage.app.place.ids.detail.text
        assert texts_clipped(stage.app.place) == []
        stage.touch(stage.app.place.button("Two treadles under one foot"))
        stage.until(lambda: stage.app.place.ids.headline.text == "It fits")
        assert "4 treadles are the fewest (proven)" in stage.app.place.ids.detail.text
        stage.touch(stage.app.place.button("Another loom"))
        assert "Nothing is on the loom" in stage.app.place.ask.ids.words.text


def test_from_the_pause_the_weaver_goes_to_another_warp_and_back(home):
    from companion import app
    from companion.cli.weave import demo_warp_name
    from companion.present.weave import Action

    name = demo_warp_name()
    program = opened(name)
    with program, Stage(program.window) as stage:
        stage.key("space")
        stage.until(lambda: stage.app.place.weave.ids.count.text.startswith("pick 2 "))
        stage.touch(stage.app.place.weave.button(Action.PAUSE))
        stage.until(lambda: stage.app.place.ask is not None)
        choose(stage, "Another warp")
        assert stage.app.place.ask.ids.words.text == "Which warp?"
        choose(stage, name)
        assert "Last pick 1" in stage.app.place.ask.ids.detail.text
    with app.shelf().open_to_read(name) as journal:
        assert len(list(journal.entries())) == 2


@pytest.mark.parametrize("size", [(800, 480), (800, 1280)], ids=lambda size: f"{size[0]}x{size[1]}")
def test_the_start_flow_and_the_tie_up_fit_the_window(home, size):
    program = opened()
    with program, Stage(program.window) as stage:
        stage.resize(*size)
        for words in ("A new warp", "towel", "8 treadles", "Raise some and sink the rest"):
            assert texts_clipped(stage.app.place) == []
            assert all(min(target.size) >= 48 for target in touch_targets(stage.app.place))
            choose(stage, words)
        stage.until(lambda: stage.app.place.signs.accept)
        assert texts_clipped(stage.app.place) == []
        assert all(min(target.size) >= 48 for target in touch_targets(stage.app.place))


def test_settings_change_the_looks_at_once_and_are_kept(home):
    from companion import app
    from companion.wiring.preference_file import load_preferences

    program = opened()
    with program, Stage(program.window) as stage:
        choose(stage, "Settings")
        choose(stage, "Light screen")
        assert stage.app.place.ask.look.theme.name == "light"
        choose(stage, "Settings")
        choose(stage, "Left-handed")
    kept = load_preferences(app.preference_file())
    assert (kept.theme, kept.mirrored) == ("light", True)


def test_the_record_is_saved_where_the_weaver_keeps_papers(home):
    from companion.cli.weave import demo_warp_name
    from companion.present.weave import Action

    program = opened(demo_warp_name())
    with program, Stage(program.window) as stage:
        stage.key("space")
        stage.until(lambda: stage.app.place.weave.ids.count.text.startswith("pick 2 "))
        stage.touch(stage.app.place.weave.button(Action.PAUSE))
        stage.until(lambda: stage.app.place.ask is not None)
        choose(stage, "Save the record")
        assert stage.app.place.ids.headline.text == "The record is saved"
    page = (home / "Documents" / "Fellside" / "Demo.html").read_text(encoding="utf-8")
    assert "<html" in page
    assert "Demo" in page
    assert (home / "Documents" / "Fellside" / "Demo.csv").exists()


def test_a_pedal_that_acts_as_a_keyboard_is_taught_by_pressing_it(home):
    from companion.cli.weave import demo_warp_name
    from tests.screens.stage import KEY_CODES

    demo_warp_name()
    program = opened()
    with program, Stage(program.window) as stage:
        choose(stage, "Settings")
        choose(stage, "Pedal")
        assert any("Extra-low voltage" in line.text for line in stage.app.place.ask.ids.lines.children)
        assert texts_clipped(stage.app.place) == []
        choose(stage, "One that acts as a keyboard")
        assert stage.app.place.ask.ids.words.text == "Press the pedal for next"
        stage.key("letter_b")
        assert stage.app.place.ask.ids.words.text == "Press the pedal for back"
        stage.key("space")
        choose(stage, "Demo")
        stage.key("letter_b")
        stage.until(lambda: stage.app.place.weave.ids.count.text.startswith("pick 2 "))
        stage.key("space")
        stage.until(lambda: stage.app.place.weave.ids.count.text.startswith("pick 1 "))
    assert KEY_CODES["letter_b"] == 98


def test_back_is_one_touch_from_every_question_and_changes_nothing(home):
    from companion import app
    from companion.cli.weave import demo_warp_name
    from companion.wiring.preference_file import load_preferences

    demo_warp_name()
    before = load_preferences(app.preference_file())
    program = opened()
    with program, Stage(program.window) as stage:
        for words in (["A new warp"], ["A new warp", "towel"], ["A new warp", "towel", "6 treadles"]):
            for word in words:
                choose(stage, word)
            choose(stage, "Start again")
            assert stage.app.place.ask.ids.words.text == "Which warp?"
        choose(stage, "Settings")
        for words in (["Double tap"], ["Pedal"]):
            for word in words:
                choose(stage, word)
            choose(stage, "Start again")
            assert stage.app.place.ask.ids.words.text == "Settings"
        choose(stage, "Pedal")
        choose(stage, "One that acts as a keyboard")
        choose(stage, "Never mind")
        assert stage.app.place.ask.ids.words.text == "Which warp?"
    assert load_preferences(app.preference_file()) == before
