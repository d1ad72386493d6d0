"""Notes in the weaver's own words, written in a real window by touch and by keys."""

from __future__ import annotations

import pytest

from companion.present.letters import KeyboardLayout
from companion.weaving.events import NoteWritten, PickWoven
from tests.screens.at_the_loom import at_the_screen, events_in
from tests.screens.looked_at import SIZES, texts_clipped, touch_targets


@pytest.fixture
def journal_path(tmp_path, display):
    return tmp_path / "towel.journal"


def begin_to_write(stage, words="In your own words"):
    from companion.present.weave import WeaveButton

    stage.touch(stage.app.place.weave.button(WeaveButton.NOTE))
    stage.touch(stage.app.place.ask.button(words))
    return stage.app.place.write


def type_text(stage, text):
    from kivy.core.window import Window

    Window.dispatch("on_textinput", text)
    stage.pump(2)


def test_a_note_is_written_by_touch(journal_path):
    with at_the_screen(journal_path) as stage:
        board = begin_to_write(stage).ids.board
        for words in ("B", "e", "a", "t", "space", "123", "2"):
            stage.touch(board.button(words))
        stage.touch(stage.app.place.write.foot.button("Done"))
        stage.until(lambda: len(events_in(journal_path)) == 1)
        assert stage.app.place.weave.parent is not None
    assert events_in(journal_path) == [NoteWritten("Beat 2")]


def test_delete_goes_on_while_it_is_held_and_takes_one_letter_where_it_is_not(journal_path):
    from kivy.core.window import Window

    with at_the_screen(journal_path) as stage:
        write = begin_to_write(stage)
        delete = write.ids.board.button("Delete")
        type_text(stage, "a long name")
        stage.touch(delete)
        assert write.writing.text == "a long nam"
        # Kivy shows a button as pressed for a moment after the finger has gone.
        stage.until(lambda: delete.state == "normal")
        x, y = delete.to_window(*delete.center)
        at = (x, Window.height - y, "left", [])
        Window.dispatch("on_mouse_down", *at)
        stage.until(lambda: write.writing.text == "")
        Window.dispatch("on_mouse_up", *at)
        stage.until(lambda: delete.state == "normal")
        type_text(stage, "new")
        stage.pump(4)
        assert write.writing.text == "new"


def test_while_a_note_is_written_the_keys_write_and_weave_nothing(journal_path):
    with at_the_screen(journal_path) as stage:
        begin_to_write(stage)
        for letter in "ab b":
            stage.key({"a": "letter_a", "b": "letter_b", " ": "space"}[letter])
            type_text(stage, letter)
        stage.key("backspace")
        assert stage.app.place.write.ids.text.text == "ab _"
        # A pedal trodden by mistake neither weaves nor ends the note.
        stage.app.place.go_on()
        stage.key("enter")
        stage.until(lambda: len(events_in(journal_path)) == 1)
        stage.key("space")
        stage.until(lambda: len(events_in(journal_path)) == 2)
    assert events_in(journal_path) == [NoteWritten("ab"), PickWoven(0)]


def test_return_held_a_little_long_ends_the_note_and_weaves_nothing(journal_path):
    with at_the_screen(journal_path) as stage:
        begin_to_write(stage)
        type_text(stage, "ab")
        stage.key("enter", held=5)
        stage.until(lambda: len(events_in(journal_path)) == 1)
        stage.key("enter")
        stage.until(lambda: len(events_in(journal_path)) == 2)
    assert events_in(journal_path) == [NoteWritten("ab"), PickWoven(0)]


def test_words_half_written_stand_there_when_the_weaver_comes_back(journal_path):
    with at_the_screen(journal_path) as stage:
        write = begin_to_write(stage)
        type_text(stage, "the left edge")
        stage.touch(write.foot.button("Back"))
        assert stage.app.place.ask.ids.words.text == "Note what?"
        stage.key("backspace")
        stage.key("space")
        stage.until(lambda: len(events_in(journal_path)) == 1)
        write = begin_to_write(stage, "Write on")
        assert write.writing.text == "the left edge"
        stage.app.place.go_back()
        stage.app.place.go_back()
        write = begin_to_write(stage, "Write on")
        type_text(stage, " frays")
        stage.touch(write.foot.button("Done"))
        stage.until(lambda: len(events_in(journal_path)) == 2)
        assert begin_to_write(stage).writing.text == ""
    assert events_in(journal_path) == [PickWoven(0), NoteWritten("the left edge frays")]


def test_nothing_written_is_no_note(journal_path):
    with at_the_screen(journal_path) as stage:
        stage.touch(begin_to_write(stage).foot.button("Done"))
        assert stage.app.place.write is None
    assert events_in(journal_path) == []


def test_every_key_is_large_and_every_word_whole_on_every_arrangement(journal_path):
    from companion.screens.write import WriteScreen

    with at_the_screen(journal_path, text_scale=1.3) as stage:
        asked = begin_to_write(stage).asked
        for layout in KeyboardLayout:
            write = WriteScreen(asked, stage.app.look, stage.app.sizes, layout)
            stage.app.place._put(write)
            for page in ("letters", "signs"):
                for size in SIZES:
                    stage.resize(*size)
                    write.sizes = stage.app.sizes
                    stage.pump(2)
                    assert texts_clipped(write) == [], (layout, page, size)
                    targets = touch_targets(write)
                    assert len(targets) >= 30
                    for target in targets:
                        assert min(target.size) >= 48, (layout, page, target.text)
                        assert target.x >= 0
                        assert target.right <= size[0]
                stage.touch(write.ids.board.button("123" if page == "letters" else "abc"))
