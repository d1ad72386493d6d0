"""A tablet puts the program away and may end it there: the weaver comes back to the same page."""

from __future__ import annotations

import pytest

from tests.screens.stage import Stage


@pytest.fixture
def name(tmp_path, display, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    from companion.cli.weave import demo_warp_name

    return demo_warp_name()


def opened(name):
    from companion.wiring.screen_app import ScreenApp

    return ScreenApp(name, guard=None)


def kind_of_place(stage):
    return type(stage.app.place).__name__


def to_the_record(stage):
    from companion.present.weave import WeaveButton

    stage.touch(stage.app.place.weave.button(WeaveButton.PAUSE))
    stage.until(lambda: stage.app.place.ask is not None)
    stage.touch(stage.app.place.ask.button("See the record"))


def test_a_program_ended_while_it_was_put_away_opens_on_the_same_page_with_the_way_back(name):
    program = opened(name)
    with program, Stage(program.window) as stage:
        to_the_record(stage)
        stage.app.dispatch("on_pause")
    program = opened(name)
    with program, Stage(program.window) as stage:
        assert kind_of_place(stage) == "RecordScreen"
        stage.until(lambda: stage.app.place.title != "Reading the journal")
        stage.app.place.go_out()
        assert kind_of_place(stage) == "LoomPlace"


def test_the_settings_of_a_weaver_who_chose_among_warps_are_found_again(name):
    program = opened(None)
    with program, Stage(program.window) as stage:
        stage.touch(stage.app.place.ask.button("Settings"))
        asked = stage.app.place.ask.ids.words.text
        stage.app.dispatch("on_pause")
    program = opened(name)
    with program, Stage(program.window) as stage:
        assert stage.app.place.ask.ids.words.text == asked
        stage.app.place.go_back()
        assert stage.app.place.ask.button("Settings")


@pytest.fixture
def towel(tmp_path, name):
    from companion.draft.wif_write import write_wif
    from tests.screens.warps import twill_draft

    folder = tmp_path / "Documents"
    folder.mkdir()
    (folder / "towel.wif").write_bytes(write_wif(twill_draft()))
    return folder / "towel.wif"


def test_a_draft_that_was_looked_over_is_found_again_as_it_was_changed(towel):
    from companion.present.draft_sheet import Quarter, Square

    program = opened(None)
    with program, Stage(program.window) as stage:
        program._start.draft.show_again(towel)
        stage.pump()
        screen = stage.app.place
        stage.touch(screen.button("Edit"))
        box = screen.ids.picture.sheet.box_of(Square(Quarter.TIE_UP, 0, 2))
        stage.drag([(box.x + box.width / 2, box.y + box.height / 2)])
        changed = screen.draft
        stage.until(lambda: screen.title == "towel changed")
        stage.app.dispatch("on_pause")
    program = opened(None)
    with program, Stage(program.window) as stage:
        assert kind_of_place(stage) == "DraftScreen"
        assert stage.app.place.draft.lifting == changed.lifting
        stage.app.place.leave()
        assert stage.app.place.ask.asked.words == "Which warp?"


def test_a_search_that_was_running_runs_again(towel):
    from companion.remap.loom.loom import Loom
    from companion.weaving.warp import LoomProfile

    program = opened(None)
    with program, Stage(program.window) as stage:
        program._start.draft.search_again(towel, LoomProfile("mine", Loom(4, 6)))
        stage.app.dispatch("on_pause")
    program = opened(None)
    with program, Stage(program.window) as stage:
        assert kind_of_place(stage) == "TieUpScreen"
        stage.until(lambda: stage.app.place.signs.accept)
        stage.app.place.leave()
        assert stage.app.place.ask.asked.words == "Which warp?"


def test_a_draft_that_went_elsewhere_meanwhile_keeps_nobody_from_the_start(towel):
    program = opened(None)
    with program, Stage(program.window) as stage:
        program._start.draft.show_again(towel)
        stage.app.dispatch("on_pause")
    towel.unlink()
    program = opened(None)
    with program, Stage(program.window) as stage:
        assert stage.app.place.ask.asked.words == "Which warp?"


def test_the_back_key_of_a_tablet_goes_one_question_back_and_out_of_the_first(name):
    from companion.present.weave import WeaveButton

    program = opened(None)
    with program, Stage(program.window) as stage:
        stage.touch(stage.app.place.ask.button("Open a draft"))
        assert stage.app.place.ask.asked.words == "Which draft?"
        stage.key("escape")
        stage.until(lambda: stage.app.place.ask.asked.words == "Which warp?")
        stage.touch(stage.app.place.ask.button(name))
        place = stage.app.place
        stage.touch(place.weave.button(WeaveButton.FAULT))
        assert place.weave.parent is None
        stage.key("escape")
        stage.until(lambda: place.weave.parent is not None)


def test_a_program_that_came_back_by_itself_opens_as_ever_the_next_time(name):
    program = opened(name)
    with program, Stage(program.window) as stage:
        to_the_record(stage)
        stage.app.dispatch("on_pause")
        stage.app.dispatch("on_resume")
        assert kind_of_place(stage) == "RecordScreen"
    program = opened(name)
    with program, Stage(program.window) as stage:
        assert kind_of_place(stage) == "LoomPlace"


def test_a_warp_that_went_elsewhere_meanwhile_keeps_nobody_from_weaving(name):
    from companion.workshop import app
    from companion.workshop.bookmarks import Bookmark, Marked, keep_bookmarks

    keep_bookmarks(app.bookmark_file(), (Bookmark(Marked.LOOM, "gone"), Bookmark(Marked.RECORD, "gone")))
    program = opened(name)
    with program, Stage(program.window) as stage:
        assert kind_of_place(stage) == "LoomPlace"
        assert stage.app.place.weave.ids.count.text.startswith("pick 1 ")
