"""Undo at the loom: one touch takes back whatever was done last, and everything stands as it stood before."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.weaving.decide import finish_piece, start_piece, weave_pick
from companion.weaving.events import (
    BobbinChanged,
    ClothTold,
    FaultNoted,
    Jumped,
    LengthMeasured,
    NoteWritten,
    Paused,
    PickTakenOut,
    PickWoven,
    Resumed,
    SidesTold,
    Undone,
)
from tests.screens.at_the_loom import at_the_screen, events_in
from tests.screens.warps import twill_warp


@pytest.fixture
def journal_path(tmp_path, display):
    return tmp_path / "towel.journal"


def standing(stage):
    """What the screen shows and what the program knows, but for the time and the number of entries."""
    place = stage.app.place
    # A line in words takes room from the cloth.
    place.say("")
    stage.pump()
    known = place._progress.now._replace(number=0, at_ms=0, at_loom_ms=0)
    return place.weave.signs, place.weave.cloth.pixels.tobytes(), known


def test_one_undo_takes_back_each_thing_that_a_weaver_does(journal_path):
    from companion.present.weave import WeaveButton

    def touched(action, *answers):
        stage.touch(stage.app.place.weave.button(action))
        for answer in answers:
            stage.touch(stage.app.place.ask.button(answer))

    def taken_out():
        touched(WeaveButton.BACK, "It is out")
        stage.until(lambda: "pick 4 " in stage.app.place.ask.asked.detail)
        stage.touch(stage.app.place.ask.button("Back"))

    def left_out():
        stage.touch(stage.app.place.weave.ids.place_part)
        stage.touch(stage.app.place.ask.button("Leave out one pick"))

    def done(number):
        stage.until(lambda: stage.app.place._progress.now.number == number)

    deeds = [
        (PickWoven, lambda: stage.touch(stage.app.place.weave.ids.next_area)),
        (PickTakenOut, taken_out),
        (FaultNoted, lambda: touched(WeaveButton.FAULT, "Wrong shed", "Mend later")),
        (NoteWritten, lambda: touched(WeaveButton.NOTE, "Tension set again")),
        (LengthMeasured, lambda: touched(WeaveButton.MEASURE, "2", "Under tension")),
        (ClothTold, lambda: touched(WeaveButton.FIND, "2 further")),
        (ClothTold, lambda: touched(WeaveButton.FIND, "3 back")),
        (BobbinChanged, lambda: touched(WeaveButton.NOTE, "New bobbin: oat wool", "Not known")),
        (Jumped, left_out),
    ]
    with at_the_screen(journal_path) as stage:
        for number in range(1, 6):
            stage.key("space")
            done(number)
        for kind, do in deeds:
            before, number = standing(stage), len(events_in(journal_path))
            do()
            done(number + 1)
            assert isinstance(events_in(journal_path)[-1], kind)
            assert standing(stage) != before
            touched(WeaveButton.UNDO, "Undo it")
            done(number + 2)
            assert stage.app.place.weave.message.startswith("undone: ")
            assert events_in(journal_path)[-1] == Undone(number + 1)
            assert standing(stage) == before, kind


def test_undo_after_a_pause_goes_back_to_the_pause_and_asks_about_the_cloth_again(journal_path):
    from companion.present.weave import WeaveButton

    with at_the_screen(journal_path) as stage:
        stage.key("space")
        stage.until(lambda: len(events_in(journal_path)) == 1)
        stage.touch(stage.app.place.weave.button(WeaveButton.PAUSE))
        stage.until(lambda: stage.app.place.ask is not None)
        stage.touch(stage.app.place.ask.button("Weave on"))
        stage.until(lambda: len(events_in(journal_path)) == 3)
        stage.touch(stage.app.place.weave.button(WeaveButton.UNDO))
        stage.touch(stage.app.place.ask.button("Undo it"))
        stage.until(lambda: stage.app.place.ask is not None)
        stage.touch(stage.app.place.ask.button("Weave on"))
        stage.until(lambda: len(events_in(journal_path)) == 5)
    assert events_in(journal_path) == [PickWoven(0), Paused(), Resumed(), Undone(3), Resumed()]


def test_a_shuttle_that_nobody_has_seen_is_touched_where_it_lies_and_one_undo_takes_that_back(journal_path):
    from companion.present.weave import WeaveButton
    from companion.present.wording import SIDE_ASKED

    def signs():
        return stage.app.place.weave.signs

    with at_the_screen(journal_path) as stage:
        side = (signs().from_left, signs().from_right)
        stage.touch(stage.app.place.weave.button(WeaveButton.FIND))
        stage.touch(stage.app.place.ask.button("Shuttle sides"))
        stage.touch(stage.app.place.ask.button("Not sure of any"))
        stage.until(lambda: signs().side_asked)
        assert (signs().from_left, signs().from_right) == (False, False)
        assert stage.app.place.weave.news[0] == SIDE_ASKED
        stage.touch(stage.app.place.weave.ids.boat_right if side[0] else stage.app.place.weave.ids.boat_left)
        stage.until(lambda: not signs().side_asked)
        assert (signs().from_right, signs().from_left) == side
        stage.touch(stage.app.place.weave.button(WeaveButton.UNDO))
        stage.touch(stage.app.place.ask.button("Undo it"))
        stage.until(lambda: signs().side_asked)
    told = [event for event in events_in(journal_path) if isinstance(event, SidesTold)]
    assert len(told) == 2


def test_picks_are_taken_out_one_large_shed_at_a_time_each_on_disk_before_the_next_is_shown(journal_path):
    from companion.present.weave import WeaveButton

    def ask():
        return stage.app.place.ask

    with at_the_screen(journal_path) as stage:
        for number in (1, 2, 3):
            stage.touch(stage.app.place.weave.ids.next_area)
            stage.until(lambda number=number: stage.app.place._progress.now.number == number)
        stage.touch(stage.app.place.weave.button(WeaveButton.FAULT))
        for answer in ("Wrong shed", "One row lower", "Unweave to it"):
            stage.touch(ask().button(answer))
        shed = ask().asked.harness
        stage.touch(ask().button("It is out"))
        stage.until(lambda: ask() is not None and "the last one" in ask().asked.detail)
        assert ask().asked.harness != shed
        assert [type(event) for event in events_in(journal_path)[3:]] == [FaultNoted, PickTakenOut]
        # Back leads to the pick, not to questions about cloth that is out.
        stage.touch(ask().button("Back"))
        stage.until(lambda: ask() is None)
    assert sum(isinstance(event, PickTakenOut) for event in events_in(journal_path)) == 1


def test_whoever_leaves_the_loom_before_a_slow_disk_is_done_is_asked_for_no_further_pick(journal_path):
    from companion.present.weave import WeaveButton

    with at_the_screen(journal_path) as stage:
        place = stage.app.place
        for number in (1, 2, 3):
            stage.touch(place.weave.ids.next_area)
            stage.until(lambda number=number: place._progress.now.number == number)
        ends, waiting = place._ends, []
        place._ends = replace(ends, submit=waiting.append)
        stage.touch(place.weave.button(WeaveButton.BACK))
        stage.touch(place.ask.button("It is out"))
        stage.key("escape")
        stage.touch(place.weave.button(WeaveButton.PAUSE))
        for command in waiting:
            ends.submit(command)
        stage.until(lambda: place._progress.now.paused)
        assert place.ask.asked.harness is None
    assert events_in(journal_path)[3:] == [PickTakenOut(2), Paused()]


def test_what_is_asked_of_a_piece_is_asked_no_more_once_a_slow_disk_has_the_next_piece_on_the_loom(journal_path):
    from companion.present.weave import WeaveButton

    one = twill_warp()
    with at_the_screen(journal_path, replace(one, pieces=one.pieces * 2)) as stage:
        place = stage.app.place
        for number in range(1, 4):
            place._ends.submit(weave_pick)
            stage.until(lambda number=number: place._progress.now.number == number)
        stage.touch(place.weave.button(WeaveButton.FIND))
        assert place.ask is not None
        for command in (finish_piece, start_piece):
            place._ends.submit(command)
        stage.until(lambda: place._progress.now.piece == 1)
        assert place.ask is None


def test_escape_leads_out_of_a_question_and_never_takes_out_a_pick(journal_path):
    from companion.present.weave import WeaveButton

    with at_the_screen(journal_path) as stage:
        stage.touch(stage.app.place.weave.ids.next_area)
        stage.until(lambda: stage.app.place._progress.now.number == 1)
        stage.key("escape")
        stage.touch(stage.app.place.weave.button(WeaveButton.FAULT))
        stage.touch(stage.app.place.ask.button("Wrong shed"))
        stage.key("escape", held=5)
        assert stage.app.place.ask.ids.words.text == "What is wrong?"
        stage.key("escape")
        assert stage.app.place.ask is None
    assert events_in(journal_path) == [PickWoven(0)]


def test_undo_asked_for_on_a_pause_can_be_left_again(tmp_path, display):
    """A monkey found it: "Undo: the pause?" had no way out but to undo."""
    from companion.present.weave import WeaveButton

    with at_the_screen(tmp_path / "towel.journal") as stage:
        place = stage.app.place
        stage.key("space")
        place.act(WeaveButton.PAUSE)
        stage.until(lambda: place.ask is not None)
        page = place.ask.asked.words
        place.act(WeaveButton.UNDO)
        assert place.ask.asked.words == "Undo: the pause?"
        place.go_back()
        assert place.ask.asked.words == page
        place.go_back()
        assert place.ask.asked.words == page
