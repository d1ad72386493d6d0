"""From nothing to the first pick: the start flow in a real window, on a shelf and a draft file on disk."""

from __future__ import annotations

import threading

import pytest

from companion.draft.reading import read_draft
from companion.draft.wif_write import write_wif
from companion.present.button_words import BACK
from tests.screens.stage import Stage
from tests.screens.test_window import SIZES, texts_clipped, touch_targets
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

    return ScreenApp(name, guard=None)


def choose(stage, words):
    # Nested boxes find their places over some frames; no hand is as quick as these.
    stage.pump(4)
    stage.touch(stage.app.place.ask.button(words))


def choose_listed(stage, words):
    while words not in {button.text for button in stage.app.place.ask.ids.answers.children}:
        choose(stage, "More")
    choose(stage, words)


def test_a_newcomer_whose_loom_is_tied_weaves_the_first_pick_of_a_draft_file_in_six_touches(home):
    from companion.workshop import app

    program = opened()
    with program, Stage(program.window) as stage:
        assert "Nothing is on the loom" in stage.app.place.ask.ids.words.text
        choose(stage, "A new warp")
        choose(stage, "towel")
        choose(stage, "4 treadles")
        choose(stage, "Jack")
        stage.until(lambda: stage.app.place.signs.accept == "Weave it")
        assert "proven" in stage.app.place.ids.detail.text
        assert texts_clipped(stage.app.place) == []
        stage.touch(stage.app.place.button("Save the card"))
        stage.until(lambda: stage.app.place.ids.detail.text.startswith("Saved: "))
        assert texts_clipped(stage.app.place) == []
        assert (home / "Documents" / "Fellside" / "Towel card.html").exists()
        assert (home / "Documents" / "Fellside" / "Towel card sheet.pdf").read_bytes().startswith(b"%PDF-")
        stage.touch(stage.app.place.button("It is tied"))
        stage.touch(stage.app.place.weave.ids.next_area)
        stage.until(lambda: stage.app.place.weave.ids.count.text == "pick 2 of 12")
    assert app.shelf().names() == ("Towel",)


def test_a_draft_is_written_from_nothing_by_touch_and_is_on_disk_before_it_is_changed(home):
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("A new warp", "Write a draft", "4", "6", "Straight: 1 … 4"):
            choose(stage, words)
        for size in SIZES:
            stage.resize(*size)
            stage.pump(4)
            pad = [stage.app.place.ask.button(key) for key in "1234567890"]
            assert all(key.y >= 0 and key.top < stage.app.place.ask.ids.words.y for key in pad), size
        for key in "12":
            choose(stage, key)
        for words in ("Done", "Done", "2/2 twill", "As drawn in", "Done", "Done", "sea", "1", "Done"):
            choose(stage, words)
        for size in SIZES:
            stage.resize(*size)
            assert texts_clipped(stage.app.place) == []
        choose(stage, "Done")
        kept = home / "Documents" / "Fellside" / "New draft.wif"
        stage.until(kept.exists)
        stage.until(lambda: stage.app.place.title == "New draft")
        draft = stage.app.place.draft
    read = read_draft(kept.read_bytes())
    assert (read.ends, read.picks, read.shafts, read.treadles) == (48, 48, 4, 6)
    assert read.sheds() == draft.sheds()


def test_a_loom_with_too_few_treadles_is_told_what_would_do_and_how_often_to_re_tie(home):
    program = opened()
    with program, Stage(program.window) as stage:
        choose(stage, "A new warp")
        choose_listed(stage, "demo double faced four shaft")
        choose(stage, "4 treadles")
        choose(stage, "Jack")
        stage.until(lambda: stage.app.place.signs.accept)
        # What takes no stop is chosen, not this loom with its many.
        stage.until(lambda: stage.app.place.ids.headline.text == "Two treadles under one foot: it fits")
        stage.touch(stage.app.place.card("This loom"))
        assert "to re-tie" in stage.app.place.ids.headline.text
        assert "6 treadles are the fewest (proven)" in stage.app.place.ids.detail.text
        assert texts_clipped(stage.app.place) == []
        stage.until(lambda: all(card.harness for card in stage.app.place.signs.cards))
        stage.touch(stage.app.place.card("Two treadles"))
        assert stage.app.place.ids.headline.text == "Two treadles under one foot: it fits"
        assert "4 treadles are the fewest (proven)" in stage.app.place.ids.detail.text
        stage.touch(stage.app.place.button("Look closer"))
        assert texts_clipped(stage.app.place) == []
        stage.touch(stage.app.place.button("Back"))
        assert stage.app.place.card("Two treadles").mark.text == "Chosen"
        assert stage.app.place.card("This loom").mark.text == ""
        stage.touch(stage.app.place.button("Back"))
        assert "Nothing is on the loom" in stage.app.place.ask.ids.words.text


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
        assert len(list(journal.entries(after=2))) == 2, "a pick and a pause, after the tie-up was accepted and tied"


def test_the_start_flow_and_the_tie_up_fit_the_window(home):
    def fits_every_window():
        for size in SIZES:
            stage.resize(*size)
            assert texts_clipped(stage.app.place) == []
            assert all(min(target.size) >= 48 for target in touch_targets(stage.app.place))

    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("A new warp", "towel", "8 treadles", "Countermarche"):
            fits_every_window()
            choose(stage, words)
        stage.until(lambda: stage.app.place.signs.accept)
        fits_every_window()


def test_settings_change_the_looks_at_once_and_are_kept(home):
    from companion.workshop.preference_file import load_preferences, preference_file

    program = opened()
    with program, Stage(program.window) as stage:
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
        stage.until(lambda: screen.line.startswith("Bundled: 4 entries, verified"))
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
        stage.key("space")
        assert "acts as a keyboard" in stage.app.place.ask.ids.detail.text
        choose(stage, "Done")
        choose(stage, "Demo")
        stage.key("letter_b")
        stage.until(lambda: stage.app.place.weave.ids.count.text.startswith("pick 2 "))
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
        for words in (["A new warp"], ["A new warp", "towel"], ["A new warp", "towel", "6 treadles"]):
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


def test_a_file_copied_while_the_list_is_on_the_screen_is_told_of_and_moves_nothing(home, monkeypatch):
    from companion.wiring import start

    monkeypatch.setattr(start, "WATCH_EVERY_S", 0.05)
    program = opened()
    with program, Stage(program.window) as stage:
        choose(stage, "A new warp")
        ask = stage.app.place.ask
        before = [(button.text, tuple(button.pos)) for button in touch_targets(ask)]
        (home / "Downloads").mkdir()
        (home / "Downloads" / "apron.wif").write_bytes(write_wif(twill_draft()))
        stage.until(lambda: ask.ids.detail.text == "New: apron (Downloads)")
        assert [(button.text, tuple(button.pos)) for button in touch_targets(ask)] == before
        assert texts_clipped(stage.app.place) == []
        choose(stage, "Look again")
        assert ask.ids.answers.children[-1].text == "apron"


def test_a_draft_is_found_in_any_folder_and_a_folder_that_cannot_be_read_says_so(home):
    (home / "Weaving" / "rugs").mkdir(parents=True)
    (home / "Weaving" / "rugs" / "rag.wif").write_bytes(write_wif(twill_draft()))
    program = opened()
    with program, Stage(program.window) as stage:
        ask = stage.app.place.ask
        choose(stage, "A new warp")
        choose(stage, "Any folder")
        stage.until(lambda: ask.ids.words.text == home.name)
        choose_listed(stage, "Weaving")
        stage.until(lambda: ask.ids.words.text == "Weaving")
        (home / "Weaving" / "rugs").rename(home / "Weaving" / "gone")
        choose(stage, "rugs")
        stage.until(lambda: ask.ids.words.text == "rugs")
        assert "cannot be looked into: No such file" in ask.ids.detail.text
        choose(stage, "Up")
        stage.until(lambda: ask.ids.words.text == "Weaving")
        choose(stage, "gone")
        stage.until(lambda: ask.ids.words.text == "gone")
        choose(stage, "rag")
        assert ask.ids.words.text == "How many treadles has your loom?"
        # The next search begins where a draft was seen last, and at home where that folder is gone.
        for there in ("gone", home.name):
            choose(stage, "Cancel")
            choose(stage, "A new warp")
            choose(stage, "Any folder")
            stage.until(lambda there=there: ask.ids.words.text == there)
            if there == "gone":
                (home / "Weaving").rename(home / "Elsewhere")


def test_a_file_that_is_no_draft_gets_one_clear_line_and_the_way_back(home):
    (home / "Documents" / "broken.wif").write_bytes(b"[WIF]\nVersion=9\n")
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("A new warp", "broken", "6 treadles", "Jack"):
            choose(stage, words)
        assert stage.app.place.ids.detail.text.startswith("broken.wif: ")
        assert texts_clipped(stage.app.place) == []
        stage.touch(stage.app.place.button("Back"))
        assert "Nothing is on the loom" in stage.app.place.ask.ids.words.text


def test_the_weavers_own_loom_is_one_touch_and_its_cords_are_counted(home):
    from companion.remap.loom.loom import Action, Loom
    from companion.remap.loom.tieup_text import parse_tieup
    from companion.weaving.warp import LoomProfile
    from companion.workshop import app
    from companion.workshop.looms import save_looms

    tied = parse_tieup("1 2, 2 3, 3 4, 1 4", Action.RISING)
    save_looms(app.looms_file(), [LoomProfile("Floor loom", Loom(4, 4), tied)])
    program = opened()
    with program, Stage(program.window) as stage:
        choose(stage, "A new warp")
        choose(stage, "towel")
        assert texts_clipped(stage.app.place) == []
        choose(stage, "Floor loom")
        stage.until(lambda: stage.app.place.signs.accept)
        stage.key("space")
        stage.until(lambda: app.shelf().names() == ("Towel",))
    with app.shelf().open_to_read("Towel") as journal:
        assert journal.warp.loom.name == "Floor loom"
        assert journal.warp.pieces[0].stages[0].tieup == tied


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
        for words in ("A new warp", "More", "Any folder"):
            choose(stage, words)
            for size in SIZES:
                stage.resize(*size)
                stage.pump(2)
                targets = touch_targets(stage.app.place)
                assert texts_clipped(stage.app.place) == []
                assert all(min(target.size) >= 48 and target.x >= 0 and target.right <= size[0] for target in targets)
                for one, other in combinations(targets, 2):
                    assert one.right <= other.x or other.right <= one.x or one.top <= other.y or other.top <= one.y


def test_a_loom_is_kept_changed_removed_and_put_back_by_touch(home):
    from companion.remap.loom.loom import Action, Loom
    from companion.workshop import app
    from companion.workshop.looms import load_looms

    def kept():
        return [(loom.name, loom.loom) for loom in load_looms(app.looms_file())]

    program = opened()
    with program, Stage(program.window) as stage:
        stage.resize(800, 480)
        choose(stage, "Your looms")
        for words in ("Add a loom", "4 shafts", "8", "Done", "6 treadles", "7", "Done"):
            assert texts_clipped(stage.app.place) == []
            assert all(min(target.size) >= 48 for target in touch_targets(stage.app.place))
            choose(stage, words)
        choose(stage, "Done")
        assert kept() == [("Floor loom", Loom(8, 7))]
        for words in ("Floor loom", "Jack", "Counterbalance", "Another name", "Small loom", "Done"):
            choose(stage, words)
        assert kept() == [("Small loom", Loom(8, 7, Action.SINKING))]
        for words in ("Small loom", "Remove"):
            choose(stage, words)
        assert kept() == []
        choose(stage, "Put Small loom back")
        assert kept() == [("Small loom", Loom(8, 7, Action.SINKING))]
        choose(stage, "Back")
        assert "Nothing is on the loom" in stage.app.place.ask.ids.words.text


class SlowReader:
    """Reads a draft file only when told to go on."""

    def __init__(self, read):
        self._read = read
        self.go_on, self.done = threading.Event(), threading.Event()
        self.thread = None

    def __call__(self, path):
        self.thread = threading.current_thread()
        self.go_on.wait(60)
        try:
            return self._read(path)
        finally:
            self.done.set()


@pytest.fixture
def slow_reader(home, monkeypatch):
    from companion.wiring import start

    reader = SlowReader(start.read_draft_file)
    monkeypatch.setattr(start, "read_draft_file", reader)
    return reader


def test_a_draft_is_read_beside_the_screen_which_lives_on_and_says_so(slow_reader, monkeypatch):
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("A new warp", "towel"):
            choose(stage, words)
        monkeypatch.setattr(stage, "touch", stage.touch_and_go)
        choose(stage, "Look at the draft")
        assert stage.app.place.ask.notice == "Reading towel.wif"
        assert slow_reader.thread is not threading.main_thread()
        slow_reader.go_on.set()
        stage.until(lambda: type(stage.app.place).__name__ == "DraftScreen")


def test_who_went_elsewhere_while_a_draft_was_read_is_not_called_back(slow_reader, monkeypatch):
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("A new warp", "towel"):
            choose(stage, words)
        monkeypatch.setattr(stage, "touch", stage.touch_and_go)
        choose(stage, "Look at the draft")
        choose(stage, "Cancel")
        slow_reader.go_on.set()
        stage.until(slow_reader.done.is_set)
        stage.pump(5)
        assert stage.app.place.ask.ids.words.text == "Nothing is on the loom yet"


def test_a_file_too_large_for_a_draft_is_told_of_in_the_window_too(home, monkeypatch):
    from companion.workshop import draft_files

    monkeypatch.setattr(draft_files, "LARGEST_FILE_BYTES", 100)
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("A new warp", "towel", "6 treadles", "Jack"):
            choose(stage, words)
        assert "towel.wif: too large for a draft" in stage.app.place.ids.detail.text


def test_a_square_of_a_gamp_becomes_a_draft_of_its_own_and_is_looked_over(home):
    from companion.draft.cloth import interlacement
    from companion.workshop.places import asset

    gamp = asset("drafts/twill-gamp-four-shaft.txt").read_bytes()
    (home / "Documents" / "gamp.txt").write_bytes(gamp)
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("A new warp", "gamp", "Its squares"):
            choose(stage, words)
        stage.until(lambda: stage.app.place.ask.ids.words.text == "Which threading?")
        assert texts_clipped(stage.app.place) == []
        for words in ("Point", "Rosepath", "4", "8", "Done", "Done", "As it lies"):
            choose(stage, words)
        made = home / "Documents" / "Fellside" / "gamp Rosepath on Point.wif"
        stage.until(made.exists)
        stage.until(lambda: stage.app.place.ids.title.text.startswith("gamp Rosepath on Point"))
        stage.touch(stage.app.place.button(BACK))
        assert stage.app.place.ask.ids.words.text == "Which edges?"
        for _ in range(4):
            stage.touch(stage.app.place.ask.button(BACK))
        assert stage.app.place.ask.ids.words.text == "Which threading?"
        stage.touch(stage.app.place.ask.button(BACK))
        assert stage.app.place.ids.title.text.startswith("gamp")
        assert stage.app.place.draft.threading == read_draft(gamp).threading
    square = interlacement(read_draft(made.read_bytes()))
    assert (square == interlacement(read_draft(gamp))[48:72, 24:48].repeat(1, axis=0)[:, [*range(24)] * 2]).all()
