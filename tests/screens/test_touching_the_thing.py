"""The thing itself is touched: shuttle, cloth, place line and treadles of the weave screen."""

from __future__ import annotations

import pytest

from companion.weaving.dressing_events import DressingEvent
from companion.weaving.events import BobbinChanged, FaultKind, FaultNoted, Jumped, Paused, Resumed
from tests.screens.at_the_loom import at_the_screen, events_in, shows
from tests.screens.looked_at import SIZES
from tests.screens.stage import Stage


@pytest.fixture
def journal_path(tmp_path, display):
    return tmp_path / "towel.journal"


def ids(stage):
    return stage.app.place.weave.ids


def test_a_new_bobbin_is_two_touches_on_the_shuttle_that_is_in_the_hand(journal_path):
    with at_the_screen(journal_path) as stage:
        stage.touch(ids(stage).shuttle_part)
        assert stage.app.place.ask.ids.words.text == "New bobbin, oat wool: … m"
        stage.touch(stage.app.place.ask.button("Not known"))
        stage.until(lambda: len(events_in(journal_path)) == 1)
        assert stage.app.place.weave.parent is not None
    assert events_in(journal_path) == [BobbinChanged(0, None)]


def test_the_place_leads_to_a_pick_a_section_and_the_moves_made_on_purpose(journal_path):
    with at_the_screen(journal_path) as stage:
        for words, count in ((("At a pick", "7", "Done"), "pick 7"), (("At a section", "Hem"), "pick 1")):
            stage.touch(ids(stage).place_part)
            for one in words:
                stage.touch(stage.app.place.ask.button(one))
            stage.until(shows(stage, f"{count} of 12"))
        stage.touch(ids(stage).place_part)
        stage.touch(stage.app.place.ask.button("On to the next section"))
        stage.until(shows(stage, "pick 5 of 12"))
    assert events_in(journal_path) == [Jumped(6, "by hand"), Jumped(0, "by hand"), Jumped(4, "section ended")]


def test_the_place_leads_to_another_repeat_where_the_treadling_has_repeats(journal_path):
    from companion.draft.treadling import read_treadling
    from tests.screens.warps import twill_warp

    warp = twill_warp(rounds=6)
    with at_the_screen(journal_path, warp) as stage:
        place = stage.app.place
        place.take_reading(0, read_treadling(warp.pieces[0].draft))
        stage.touch(ids(stage).place_part)
        for words in ("At a section", "Body"):
            stage.touch(place.ask.button(words))
        stage.until(shows(stage, "pick 5 of 24"))
        assert "block 1/5" in ids(stage).place.text
        stage.touch(ids(stage).place_part)
        for words in ("At a repeat", "3", "Done"):
            stage.touch(place.ask.button(words))
        stage.until(lambda: "block 3/5" in ids(stage).place.text)


def test_a_pause_says_where_the_next_pick_stands_in_its_repeats_however_late_they_are_read(journal_path):
    from companion.draft.treadling import read_treadling
    from companion.present.weave import WeaveButton
    from tests.screens.warps import twill_warp

    warp = twill_warp(rounds=6)
    with at_the_screen(journal_path, warp) as stage:
        place = stage.app.place
        for pick in range(2, 7):
            stage.key("space")
            stage.until(shows(stage, f"pick {pick} of 24"))
        stage.touch(place.weave.button(WeaveButton.PAUSE))
        stage.until(lambda: place.ask is not None)
        assert "next: Body · pick 2/20" in place.ask.small_line
        place.take_reading(0, read_treadling(warp.pieces[0].draft))
        assert "next: Body · block 1/5 · pick 2/4 · Last pick 5" in place.ask.small_line


def test_the_treadles_show_the_tie_up_and_a_press_there_weaves_nothing(tmp_path, display, monkeypatch):
    from companion.cli.weave import demo_warp_name
    from companion.wiring.screen_app import ScreenApp
    from companion.workshop import app

    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    monkeypatch.setenv("HOME", str(tmp_path))
    program = ScreenApp(demo_warp_name(), guard=None)
    with program, Stage(program.window) as stage:
        loom = stage.app.place
        stage.touch(loom.weave.ids.harness)
        tie_up = stage.app.place
        assert tie_up.ids.headline.text == "Tie-up"
        assert any(line.text.startswith("treadle 1: ") for line in tie_up.ids.lines.children)
        stage.key("space")
        assert stage.app.place is tie_up
        stage.touch(tie_up.button("Save the card"))
        stage.until(lambda: tie_up.signs.detail.startswith("Saved: "))
        (card,) = tmp_path.rglob("Demo card.html")
        drawn = card.read_text(encoding="utf-8")
        assert "checked pick by pick" in drawn
        assert "Treadling, in order" in drawn
        stage.touch(tie_up.button("Back"))
        assert stage.app.place is loom
        assert loom.weave.ids.count.text.startswith("pick 1 ")
    done = [event for event in events_in(app.shelf().path("Demo")) if not isinstance(event, DressingEvent)]
    assert [type(event) for event in done[2:]] == [Paused]


def test_the_pause_says_where_the_warp_stands_and_leads_on(journal_path):
    from companion.present.weave import WeaveButton

    with at_the_screen(journal_path) as stage:
        stage.key("space")
        stage.until(shows(stage, "pick 2 of 12"))
        stage.touch(stage.app.place.weave.button(WeaveButton.PAUSE))
        stage.until(lambda: stage.app.place.ask is not None)
        ask = stage.app.place.ask
        assert ask.ids.words.text == "Towel"
        assert "Hem · pick 2/4 · Last pick 1" in ask.ids.detail.text
        shown = {button.text for button in [*ask.ids.answers.children, *ask.foot.buttons]}
        assert {"Weave on", "See the record", "Settings", "Tie-up", "Another warp", "Switch off"} <= shown
        stage.touch(ask.button("Switch off"))
        stage.touch(stage.app.place.ask.button("Back"))
        stage.key("space")
        stage.until(lambda: stage.app.place.ask is None)
    assert [type(event) for event in events_in(journal_path)][1:] == [Paused, Resumed]


def test_a_first_start_weaves_the_demo_in_two_touches(tmp_path, display, monkeypatch):
    from companion.wiring.screen_app import ScreenApp

    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path))
    monkeypatch.setenv("HOME", str(tmp_path))
    program = ScreenApp(None, guard=None)
    with program, Stage(program.window) as stage:
        stage.touch(stage.app.place.ask.button("Weave the demo"))
        stage.touch(stage.app.place.weave.ids.next_area)
        stage.until(lambda: stage.app.place.weave.ids.count.text.startswith("pick 2 "))


def test_settings_that_change_the_looks_lead_back_to_the_page_of_the_pause(tmp_path, display, monkeypatch):
    from companion.cli.weave import demo_warp_name
    from companion.present.weave import WeaveButton
    from companion.wiring.screen_app import ScreenApp

    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path))
    program = ScreenApp(demo_warp_name(), guard=None)
    with program, Stage(program.window) as stage:
        stage.touch(stage.app.place.weave.ids.next_area)
        stage.until(lambda: stage.app.place.weave.ids.count.text.startswith("pick 2 "))
        stage.touch(stage.app.place.weave.button(WeaveButton.PAUSE))
        stage.until(lambda: stage.app.place.ask is not None)
        left = stage.app.place
        for words in ("Settings", "Screen: dark", "Done"):
            stage.pump(4)
            stage.touch(stage.app.place.ask.button(words))
        stage.pump(4)
        assert stage.app.place is not left
        assert stage.app.place.ask.look.theme.name == "light"
        assert stage.app.place.ask.button("Switch off")


def test_after_a_long_pause_weave_on_asks_about_the_cloth_as_a_start_does(journal_path):
    from companion.present.weave import WeaveButton
    from companion.weaving.history import SESSION_GAP_MS

    clock = [0]
    with at_the_screen(journal_path, now_ms=lambda: clock[0]) as stage:
        stage.key("space")
        stage.until(shows(stage, "pick 2 of 12"))
        for gap_ms, asks in ((SESSION_GAP_MS, False), (SESSION_GAP_MS + 1, True)):
            stage.touch(stage.app.place.weave.button(WeaveButton.PAUSE))
            stage.until(lambda: stage.app.place.ask is not None)
            clock[0] = stage.app.place.progress.now.at_ms + gap_ms
            stage.key("space")
            if asks:
                assert stage.app.place.ask.ids.words.text == "Does your cloth look like this?"
                # One step back stands the page of the pause; the way on is the same, at one press.
                stage.touch(stage.app.place.ask.button("Back"))
                assert stage.app.place.ask.ids.words.text == "Towel"
                stage.key("space")
                stage.key("space")
            stage.until(lambda: stage.app.place.ask is None)
    assert [type(event) for event in events_in(journal_path)][1:] == [Paused, Resumed] * 2


def test_a_pause_on_bare_warp_asks_nothing_however_long_it_was(journal_path):
    from companion.present.weave import WeaveButton

    with at_the_screen(journal_path, now_ms=lambda: 10**12) as stage:
        stage.touch(stage.app.place.weave.button(WeaveButton.PAUSE))
        stage.until(lambda: stage.app.place.ask is not None)
        stage.key("space")
        stage.until(lambda: stage.app.place.ask is None)
    assert [type(event) for event in events_in(journal_path)] == [Paused, Resumed]


@pytest.mark.parametrize("size", SIZES)
def test_the_row_of_a_fault_is_touched_in_the_cloth_and_the_frame_stands_where_the_finger_was(journal_path, size):
    from companion.present.weave import WeaveButton

    with at_the_screen(journal_path) as stage:
        for pick in range(2, 9):
            stage.key("space")
            stage.until(shows(stage, f"pick {pick} of 12"))
        stage.resize(*size)
        stage.touch(stage.app.place.weave.button(WeaveButton.FAULT))
        stage.touch(stage.app.place.ask.button("Wrong shed"))
        ask = stage.app.place.ask
        cloth = ask.ids.cloth
        for pick in (4, 7, 1, 2):
            # The window shows the newest pick, 7, on top: one row below it is pick 6.
            high = cloth.marked_share
            x, y = cloth.to_window(*cloth.place_at(0.5, (7 - pick + 0.5) * high))
            stage.drag([(x, y)])
            assert ask.ids.words.text == f"Wrong shed in pick {pick}"
            assert cloth.marked_from <= (7 - pick + 0.5) * high < cloth.marked_from + high
        below = cloth.to_window(*cloth.place_at(0.5, 7.5 * high))
        for elsewhere in (below, (x, cloth.y + 1)):
            stage.drag([elsewhere])
            assert ask.ids.words.text == "Wrong shed in pick 2"
        stage.touch(ask.button("Mend later"))
        stage.until(lambda: len(events_in(journal_path)) == 8)
    assert events_in(journal_path)[-1] == FaultNoted(FaultKind.WRONG_SHED, 1)
