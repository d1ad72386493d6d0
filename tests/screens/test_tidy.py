"""The shelf kept tidy in a real window: another name, a copy, the bin and the way back, on journals on disk."""

from __future__ import annotations

import pytest

from tests.screens.looked_at import SIZES, texts_clipped, touch_targets
from tests.screens.newcomer import choose, opened
from tests.screens.stage import Stage


@pytest.fixture
def shelf(tmp_path, display, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    from companion.weaving.events import PickWoven
    from companion.workshop import app
    from tests.journal.warps import small_warp

    with app.shelf().create("Scarf", small_warp(), at_ms=0) as journal:
        journal.append(PickWoven(0), 5)
    return app.shelf()


def entries(shelf, name):
    with shelf.open_to_read(name) as journal:
        return [entry.event for entry in journal.entries()]


def fits(stage):
    for size in SIZES:
        stage.resize(*size)
        stage.pump(2)
        assert texts_clipped(stage.app.place) == [], size
        assert all(min(target.size) >= 48 for target in touch_targets(stage.app.place)), size


def said(stage, line):
    stage.until(lambda: stage.app.place.ask is not None and stage.app.place.ask.ids.detail.text == line)


def write(stage, text):
    from kivy.core.window import Window

    for _ in range(40):
        stage.key("backspace")
    Window.dispatch("on_textinput", text)
    stage.pump(2)
    stage.touch(stage.app.place.write.foot.button("Done"))


def test_a_warp_gets_another_name_a_copy_and_comes_back_from_the_bin(shelf):
    woven = entries(shelf, "Scarf")
    program = opened()
    with program, Stage(program.window) as stage:
        fits(stage)
        choose(stage, "Tidy up")
        # What is put away is known by its cloth and how far it is.
        stage.until(lambda: stage.app.place.asking.answers[0].picture is not None)
        assert "pick 2 of" in stage.app.place.asking.answers[0].detail
        fits(stage)
        choose(stage, "Scarf")
        fits(stage)
        choose(stage, "Another name")
        fits(stage)
        write(stage, "Shawl")
        said(stage, "Scarf is called Shawl now")
        choose(stage, "Shawl")
        choose(stage, "A copy, with its picks")
        stage.touch(stage.app.place.write.foot.button("Done"))
        said(stage, "Shawl 2 is a copy of Shawl")
        assert (shelf.names(), entries(shelf, "Shawl"), entries(shelf, "Shawl 2")) == (
            ("Shawl", "Shawl 2"),
            woven,
            woven,
        )
        for name in ("Shawl", "Shawl 2"):
            choose(stage, name)
            choose(stage, "Into the bin")
            said(stage, f"{name} is in the bin, whole")
        assert shelf.names() == ()
        fits(stage)
        choose(stage, "Back")
        assert stage.app.place.ask.ids.words.text == "Nothing is on the loom yet"
        fits(stage)
        choose(stage, "Tidy up")
        choose(stage, "The bin: 2")
        fits(stage)
        choose(stage, "Shawl")
        said(stage, "Shawl is back on the shelf")
        assert entries(shelf, "Shawl") == woven
        for words in ("The bin: 1", "Empty it"):
            choose(stage, words)
        fits(stage)
        choose(stage, "Remove for good")
        said(stage, "1 warp removed for good")
        choose(stage, "Back")
        choose(stage, "Shawl")
        stage.until(lambda: type(stage.app.place).__name__ == "LoomPlace")
        stage.until(lambda: stage.app.place.ask is not None)
        assert stage.app.place.ask.ids.detail.text.startswith("Shawl")


def test_a_warp_in_use_stays_and_that_is_said_in_a_line(shelf):
    program = opened()
    with shelf.open("Scarf"), program, Stage(program.window) as stage:
        for words in ("Tidy up", "Scarf", "Into the bin"):
            choose(stage, words)
        stage.until(lambda: "is already open in process" in stage.app.place.ids.detail.text)
        assert texts_clipped(stage.app.place) == []
    assert shelf.names() == ("Scarf",)


def test_a_draft_goes_into_the_bin_and_comes_back_by_touch(shelf, tmp_path):
    from companion.draft.wif_write import write_wif
    from tests.screens.warps import twill_draft

    file = tmp_path / "Documents" / "towel.wif"
    file.parent.mkdir()
    file.write_bytes(write_wif(twill_draft()))
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Tidy up", "towel", "Another name"):
            choose(stage, words)
        write(stage, "napkin")
        said(stage, "towel is called napkin now")
        choose(stage, "napkin")
        choose(stage, "Into the bin")
        said(stage, "napkin is in the bin, whole")
        assert not file.with_name("napkin.wif").exists()
        fits(stage)
        choose(stage, "The bin: 1")
        choose(stage, "napkin")
        said(stage, "napkin is back")
    assert file.with_name("napkin.wif").exists()
