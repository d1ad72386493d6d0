"""From nothing to the first pick: the start flow in a real window, on a shelf and a draft file on disk."""

from __future__ import annotations

import pytest

from tests.screens.looked_at import SIZES, texts_clipped, touch_targets
from tests.screens.newcomer import choose, choose_listed, opened
from tests.screens.stage import Stage


def test_a_newcomer_whose_loom_is_tied_weaves_the_first_pick_of_a_draft_file_in_six_touches(home):
    from companion.workshop import app

    program = opened()
    with program, Stage(program.window) as stage:
        assert "Nothing is on the loom" in stage.app.place.ask.ids.words.text
        choose(stage, "Open a draft")
        choose(stage, "towel")
        choose(stage, "4 treadles")
        choose(stage, "Jack")
        stage.until(lambda: stage.app.place.signs.accept == "Set up the loom")
        assert "proven" in stage.app.place.ids.detail.text
        assert texts_clipped(stage.app.place) == []
        stage.touch(stage.app.place.button("Save the card"))
        stage.until(lambda: stage.app.place.ids.detail.text.startswith("Saved: "))
        assert texts_clipped(stage.app.place) == []
        assert (home / "Documents" / "Fellside" / "Towel card.html").exists()
        assert (home / "Documents" / "Fellside" / "Towel card sheet.pdf").read_bytes().startswith(b"%PDF-")
        stage.touch(stage.app.place.button("Tied: weave on"))
        stage.touch(stage.app.place.weave.ids.next_area)
        stage.until(lambda: stage.app.place.weave.ids.count.text == "pick 2 of 12")
    assert app.shelf().names() == ("Towel",)


def test_from_the_pause_the_weaver_goes_to_another_warp_and_back(home):
    from companion.cli.weave import demo_warp_name
    from companion.present.weave import WeaveButton
    from companion.workshop import app

    name = demo_warp_name()
    program = opened(name)
    with program, Stage(program.window) as stage:
        stage.key("space")
        stage.until(lambda: stage.app.place.weave.ids.count.text.startswith("pick 2 "))
        stage.touch(stage.app.place.weave.button(WeaveButton.PAUSE))
        stage.until(lambda: stage.app.place.ask is not None)
        choose(stage, "Another warp")
        assert stage.app.place.ask.ids.words.text == "Which warp?"
        choose(stage, name)
        assert "Last pick 1" in stage.app.place.ask.ids.detail.text
    with app.shelf().open_to_read(name) as journal:
        assert len(list(journal.entries(after=9))) == 2, (
            "a pick and a pause, after the tie-up was accepted, and all was dressed and tied"
        )


def test_the_start_flow_and_the_tie_up_fit_the_window(home):
    def fits_every_window():
        for size in SIZES:
            stage.resize(*size)
            assert texts_clipped(stage.app.place) == []
            assert all(min(target.size) >= 48 for target in touch_targets(stage.app.place))

    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Open a draft", "towel", "8 treadles", "Countermarche"):
            fits_every_window()
            choose(stage, words)
        stage.until(lambda: stage.app.place.signs.accept)
        fits_every_window()


def test_settings_change_the_looks_at_once_and_are_kept(home):
    from companion.workshop.preference_file import load_preferences, preference_file

    program = opened()
    with program, Stage(program.window) as stage:

        def words_said():
            said = (answer.words for answer in stage.app.place.ask.asked.answers)
            return next(words for words in said if words.startswith("Words: "))

        choose(stage, "Settings")
        choose(stage, "Screen: dark")
        # The settings stay open, and say how things stand.
        assert stage.app.place.ask.look.theme.name == "light"
        choose(stage, "Hand: right")
        choose(stage, "More")
        choose(stage, "Keyboard: qwerty")
        choose(stage, "azerty")
        assert stage.app.place.ask.page_at("Settings") == 1
        choose(stage, "Keyboard: azerty")
        choose(stage, "Back")
        assert stage.app.place.ask.button("Done")
        # Each word is changed by itself, and the page of them stays; the settings say in these very words what is said.
        choose(stage, words_said())
        choose(stage, "Shafts: called shafts")
        choose(stage, "Faults: called faults")
        assert stage.app.place.ask.ids.words.text == "Which words?"
        # All of it is in force already: nothing here could be called off.
        assert "Cancel" not in [target.text for target in touch_targets(stage.app.place)]
        choose(stage, "Back")
        assert stage.app.place.ask.page_at("Settings") == 1
        assert words_said().endswith(", harness, mistake")
        choose(stage, "Done")
        assert "Nothing is on the loom" in stage.app.place.ask.ids.words.text
    kept = load_preferences(preference_file())
    assert (kept.theme, kept.mirrored) == ("light", True)


def test_the_record_is_saved_where_the_weaver_keeps_papers(home):
    from companion.cli.weave import demo_warp_name
    from companion.present.record_page import RecordDeed
    from companion.present.weave import WeaveButton

    program = opened(demo_warp_name())
    with program, Stage(program.window) as stage:
        stage.key("space")
        stage.until(lambda: stage.app.place.weave.ids.count.text.startswith("pick 2 "))
        stage.touch(stage.app.place.weave.button(WeaveButton.PAUSE))
        stage.until(lambda: stage.app.place.ask is not None)
        choose(stage, "See the record")
        screen = stage.app.place
        stage.until(lambda: screen.where == "1 of " + screen.where.partition(" of ")[2])
        stage.touch(screen.button(RecordDeed.SAVE))
        stage.until(lambda: screen.line.startswith("Saved: Demo.html"))
        stage.touch(screen.button(RecordDeed.BUNDLE))
        stage.until(lambda: screen.line.startswith("Bundled: 11 entries, verified"))
        stage.touch(screen.button(RecordDeed.LEAVE))
        assert "Last pick 1" in stage.app.place.ask.ids.detail.text
    page = (home / "Documents" / "Fellside" / "Demo.html").read_text(encoding="utf-8")
    assert "<html" in page
    assert "Demo" in page
    assert {path.name for path in (home / "Documents" / "Fellside").iterdir()} == {
        "Demo.html",
        "Demo.csv",
        "Demo.json",
        "Demo sheet.html",
        "Demo sheet.pdf",
        "Demo.zip",
    }


def test_a_pedal_that_acts_as_a_keyboard_is_taught_by_pressing_it(home):
    from companion.cli.weave import demo_warp_name
    from tests.screens.stage import KEY_CODES

    demo_warp_name()
    program = opened()
    with program, Stage(program.window) as stage:
        choose(stage, "Settings")
        choose_listed(stage, "Pedal: none")
        assert any("Extra-low voltage" in line.text for line in stage.app.place.ask.ids.lines.children)
        assert texts_clipped(stage.app.place) == []
        choose(stage, "Go on")
        choose(stage, "One that acts as a keyboard")
        assert stage.app.place.ask.ids.words.text == "Press the pedal for next"
        stage.key("letter_b")
        assert stage.app.place.ask.ids.words.text == "Press the pedal for back"
        stage.key("letter_b")
        assert stage.app.place.ask.ids.words.text == "Press the pedal for back"
        assert stage.app.place.ask.ids.detail.text.startswith("This one says next already")
        stage.key("space")
        assert "acts as a keyboard" in stage.app.place.ask.ids.detail.text
        choose(stage, "Done")
        choose(stage, "Demo")
        stage.until(lambda: stage.app.place.weave.ids.count.text.startswith("pick 1 "))
        stage.key("letter_b")
        stage.until(lambda: stage.app.place.weave.ids.count.text.startswith("pick 2 "))
        # "Back" shows the shed first, and says there that the pick is out.
        stage.key("space")
        assert stage.app.place.ask.asked.words.startswith("Pull ")
        stage.key("space")
        stage.until(lambda: stage.app.place.weave.ids.count.text.startswith("pick 1 "))
    assert KEY_CODES["letter_b"] == 98


def test_back_is_one_touch_from_every_question_and_changes_nothing(home):
    from companion.cli.weave import demo_warp_name
    from companion.workshop.preference_file import load_preferences, preference_file

    demo_warp_name()
    before = load_preferences(preference_file())
    program = opened()
    with program, Stage(program.window) as stage:
        for words in (["Open a draft"], ["Open a draft", "towel"], ["Open a draft", "towel", "6 treadles"]):
            for word in words:
                choose(stage, word)
            choose(stage, "Cancel" if len(words) > 1 else "Back")
            assert stage.app.place.ask.ids.words.text == "Which warp?"
        choose(stage, "Settings")
        for words in (["Double tap: nothing"], ["Pedal: none"]):
            for word in words:
                choose_listed(stage, word)
            choose(stage, "Back")
            assert stage.app.place.ask.ids.words.text == "Settings"
        choose_listed(stage, "Pedal: none")
        choose(stage, "Go on")
        choose(stage, "One that acts as a keyboard")
        choose(stage, "Back")
        assert stage.app.place.ask.ids.words.text == "Which pedal?"
        for words in ("Before a pedal is wired", "Settings", "Which warp?"):
            stage.app.place.go_back()
            assert stage.app.place.ask.ids.words.text == words
    assert load_preferences(preference_file()) == before


@pytest.mark.parametrize("text_scale", [1.0, 1.3], ids=["usual", "large"])
def test_lists_fit_the_window_with_rows_to_touch(home, text_scale):
    from itertools import combinations

    from companion.present.preferences import Preferences
    from companion.workshop.preference_file import preference_file, save_preferences

    for number in range(12):
        (home / "Documents" / f"a rather long name of a draft, number {number}.wif").write_bytes(b"")
    save_preferences(preference_file(), Preferences(text_scale=text_scale))
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Open a draft", "More", "Any folder"):
            choose(stage, words)
            for size in SIZES:
                stage.resize(*size)
                stage.pump(2)
                targets = touch_targets(stage.app.place)
                assert texts_clipped(stage.app.place) == []
                assert all(min(target.size) >= 48 and target.x >= 0 and target.right <= size[0] for target in targets)
                for one, other in combinations(targets, 2):
                    assert one.right <= other.x or other.right <= one.x or one.top <= other.y or other.top <= one.y


def test_a_first_start_offers_the_demo_by_its_name_a_draft_to_open_and_one_to_write(home):
    program = opened()
    with program, Stage(program.window) as stage:
        offered = [button.text for button in reversed(stage.app.place.ask.ids.answers.children)]
        assert offered[:3] == ["Weave the demo", "Open a draft", "Write a draft"]
        choose(stage, "Write a draft")
        assert "shafts" in stage.app.place.ask.ids.words.text


def test_the_loom_described_for_the_last_warp_comes_first_and_is_not_described_anew(home):
    from companion.workshop import app

    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Open a draft", "towel", "8 treadles", "Countermarche"):
            choose(stage, words)
        stage.until(lambda: stage.app.place.signs.accept)
        stage.touch(stage.app.place.button("Tied: weave on"))
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Open a draft", "towel"):
            choose(stage, words)
        first = stage.app.place.ask.ids.answers.children[-1]
        assert (first.text, first.detail) == ("8 treadles, countermarche", "as last time")
        choose(stage, "8 treadles, countermarche")
        stage.until(lambda: stage.app.place.signs.accept)
        stage.touch(stage.app.place.button("Tied: weave on"))
        stage.until(lambda: app.shelf().names() == ("Towel", "Towel 2"))
    with app.shelf().open_to_read("Towel") as one, app.shelf().open_to_read("Towel 2") as other:
        assert one.warp.loom == other.warp.loom
