"""Drafts chosen at the start in a real window: found, read, begun from nothing, taken out of a gamp."""

from __future__ import annotations

import threading

import pytest

from companion.draft.reading import read_draft
from companion.draft.wif_write import write_wif
from companion.present.button_words import BACK
from tests.screens.looked_at import SIZES, texts_clipped, touch_targets
from tests.screens.newcomer import choose, choose_listed, offers, opened
from tests.screens.stage import Stage
from tests.screens.warps import twill_draft


def test_a_draft_is_written_from_nothing_by_touch_and_is_on_disk_before_it_is_changed(home):
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Write a draft", "4", "6", "Straight: 1 … 4"):
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


def test_a_file_copied_while_the_list_is_on_the_screen_is_told_of_and_moves_nothing(home, monkeypatch):
    from companion.wiring import start

    monkeypatch.setattr(start, "WATCH_EVERY_S", 0.05)
    program = opened()
    with program, Stage(program.window) as stage:
        choose(stage, "Open a draft")
        ask = stage.app.place.ask
        before = [(button.text, tuple(button.pos)) for button in touch_targets(ask)]
        (home / "Downloads").mkdir()
        (home / "Downloads" / "apron.wif").write_bytes(write_wif(twill_draft()))
        stage.until(lambda: ask.ids.detail.text == "New: apron (Downloads)")
        assert [(button.text, tuple(button.pos)) for button in touch_targets(ask)] == before
        assert texts_clipped(stage.app.place) == []
        choose(stage, "Look again")
        assert ask.ids.answers.children[-1].text == "apron"


def test_a_finger_that_lies_on_a_row_while_its_title_comes_has_chosen_that_row(home, monkeypatch):
    from companion.wiring import start

    read, may_be_read = start.seen, threading.Event()

    def seen_late(*given):
        assert may_be_read.wait(60)
        return read(*given)

    monkeypatch.setattr(start, "seen", seen_late)
    program = opened()
    with program, Stage(program.window) as stage:
        choose(stage, "Open a draft")
        stage.pump(4)
        ask = stage.app.place.ask
        row = ask.button("towel")
        title = twill_draft().title
        assert title not in row.detail

        def the_title_comes():
            may_be_read.set()
            stage.until(lambda: title in ask.button("towel").detail)

        stage.drag([row.to_window(*row.center)], the_title_comes)
        stage.until(lambda: ask.ids.words.text != "Which draft?")
        assert "towel" not in offers(ask)


def test_every_draft_of_a_full_folder_shows_its_cloth_in_the_end(home):
    from kivy.graphics import Rectangle

    from companion.screens.widgets.cloth_picture import ClothPicture

    full = home / "Full"
    full.mkdir()
    for number in range(100):
        (full / f"towel {number:03}.wif").write_bytes(write_wif(twill_draft()))
    program = opened()
    with program, Stage(program.window) as stage:
        place = stage.app.place
        choose(stage, "Open a draft")
        choose(stage, "Any folder")
        stage.until(lambda: place.ask.ids.words.text == home.name)
        choose_listed(stage, "Full")
        stage.until(lambda: len(place.ask.asked.answers) == 100)
        stage.touch(place.ask.button("More"))
        page = offers(place.ask)
        stage.until(lambda: all(answer.picture is not None for answer in place.ask.asked.answers))
        # Each cloth lies in its own row, and on the page that the weaver turned to.
        for row in place.ask._answers.children:
            (cloth,) = (part for part in row.children if isinstance(part, ClothPicture))
            (drawn,) = (ink for ink in cloth.canvas.before.children if isinstance(ink, Rectangle))
            assert row.y <= drawn.pos[1] + 1
            assert drawn.pos[1] + drawn.size[1] <= row.top + 1
        assert offers(place.ask) == page


def test_a_draft_is_found_in_any_folder_and_a_folder_that_cannot_be_read_says_so(home):
    (home / "Weaving" / "rugs").mkdir(parents=True)
    (home / "Weaving" / "rugs" / "rag.wif").write_bytes(write_wif(twill_draft()))
    program = opened()
    with program, Stage(program.window) as stage:
        ask = stage.app.place.ask
        choose(stage, "Open a draft")
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
        assert ask.ids.words.text == "How many treadles on your loom?"
        # The next search begins where a draft was seen last, and at home where that folder is gone.
        for there in ("gone", home.name):
            choose(stage, "Cancel")
            choose(stage, "Open a draft")
            choose(stage, "Any folder")
            stage.until(lambda there=there: ask.ids.words.text == there)
            if there == "gone":
                (home / "Weaving").rename(home / "Elsewhere")


def test_a_file_that_is_no_draft_gets_one_clear_line_and_the_way_back(home):
    (home / "Documents" / "broken.wif").write_bytes(b"[WIF]\nVersion=9\n")
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Open a draft", "broken"):
            choose(stage, words)
        # Refused where it was chosen: the list stands as it stood, and another is one touch away.
        ask = stage.app.place.ask
        stage.until(lambda: any(line.text.startswith("broken.wif: ") for line in ask.ids.lines.children))
        assert ask.ids.words.text == "Which draft?"
        for size in SIZES:
            stage.resize(*size)
            stage.pump(4)
            assert texts_clipped(stage.app.place) == []
        choose(stage, "towel")
        assert ask.ids.words.text == "How many treadles on your loom?"
        choose(stage, "Back")
        choose(stage, "Back")
        assert "Nothing is on the loom" in ask.ids.words.text


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
    from companion.wiring import start_drafts

    reader = SlowReader(start_drafts.read_draft_file)
    monkeypatch.setattr(start_drafts, "read_draft_file", reader)
    return reader


def test_a_draft_is_read_beside_the_screen_which_lives_on_and_says_so(slow_reader, monkeypatch):
    program = opened()
    with program, Stage(program.window) as stage:
        choose(stage, "Open a draft")
        monkeypatch.setattr(stage, "touch", stage.touch_and_go)
        choose(stage, "towel")
        assert stage.app.place.ask.ids.words.text == "Reading towel.wif"
        assert slow_reader.thread is not threading.main_thread()
        slow_reader.go_on.set()
        stage.until(lambda: stage.app.place.ask.ids.words.text == "How many treadles on your loom?")


def test_who_went_elsewhere_while_a_draft_was_read_is_not_called_back(slow_reader, monkeypatch):
    program = opened()
    with program, Stage(program.window) as stage:
        choose(stage, "Open a draft")
        monkeypatch.setattr(stage, "touch", stage.touch_and_go)
        choose(stage, "towel")
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
        for words in ("Open a draft", "towel"):
            choose(stage, words)
        lines = stage.app.place.ask.ids.lines
        stage.until(lambda: any("towel.wif: too large for a draft" in line.text for line in lines.children))


def test_a_square_of_a_gamp_becomes_a_draft_of_its_own_and_is_looked_over(home):
    from companion.draft.cloth import interlacement
    from companion.workshop.places import asset

    gamp = asset("drafts/twill-gamp-four-shaft.txt").read_bytes()
    (home / "Documents" / "gamp.txt").write_bytes(gamp)
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Open a draft", "gamp", "Its squares"):
            choose(stage, words)
        stage.until(lambda: "4 threadings across" in stage.app.place.ids.title.text)
        for size in SIZES:
            stage.resize(*size)
            stage.pump(4)
            assert texts_clipped(stage.app.place) == []
            assert all(min(target.size) >= 48 for target in touch_targets(stage.app.place))
        stage.touch(stage.app.place.square("Rosepath on Point"))
        for words in ("Ends", "4", "8", "Done", "Make it"):
            choose(stage, words)
        made = home / "Documents" / "Fellside" / "gamp Rosepath on Point.wif"
        stage.until(made.exists)
        stage.until(lambda: stage.app.place.ids.title.text.startswith("gamp Rosepath on Point"))
        stage.touch(stage.app.place.button(BACK))
        assert stage.app.place.ask.ids.words.text == "Rosepath on Point"
        stage.touch(stage.app.place.ask.button(BACK))
        assert "4 threadings across" in stage.app.place.ids.title.text
        stage.touch(stage.app.place.button(BACK))
        # Back at the question for a loom, from which the squares were looked at.
        assert "Its squares" in offers(stage.app.place.ask)
    square = interlacement(read_draft(made.read_bytes()))
    assert (square == interlacement(read_draft(gamp))[48:72, 24:48].repeat(1, axis=0)[:, [*range(24)] * 2]).all()
