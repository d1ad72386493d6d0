"""Treadle sensors at the end of a real cable: warned before the beat, woven when the feet come off, lamps lit."""

from __future__ import annotations

import time

import pytest

from companion.weaving.beating import BeatTimes
from companion.weaving.dressing_events import DressingEvent
from companion.weaving.events import NearMiss, PickTakenOut, PickWoven
from companion.weaving.onward import onward
from companion.weaving.pick_view import this_pick
from companion.weaving.sensing import treadles_in
from companion.workshop.sensed_feet import SensedFeet
from drivers.messages import Lamps, bits_of
from tests.screens.stage import Stage
from tests.screens.warps import twill_warp
from tests.weaving.world import AtLoom


@pytest.fixture
def program(tmp_path, display, monkeypatch, board):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    from companion.cli.weave import demo_warp_name
    from companion.present.preferences import Preferences
    from companion.wiring.screen_app import ScreenApp
    from companion.workshop.preference_file import preference_file, save_preferences

    save_preferences(preference_file(), Preferences(pedal=board.port, sounds=False, advance_by_treadles=True))
    return ScreenApp(demo_warp_name())


def events():
    """What happened at the loom, after the demo was dressed and its tie-up accepted and tied."""
    from companion.workshop import app

    with app.shelf().open_to_read(app.DEMO_NAME) as journal:
        happened = [entry.event for entry in journal.entries()]
    return [event for event in happened if not isinstance(event, DressingEvent)][2:]


def wanted_now():
    from companion.workshop import app

    with app.shelf().open_to_read(app.DEMO_NAME) as journal:
        piece = journal.warp.pieces[0]
    return [treadles_in(footing.pressed) for footing in piece.footings]


def test_the_right_treadles_light_up_and_weave_the_pick_when_the_feet_come_off(program, board):
    first, second, *_ = wanted_now()
    with program, Stage(program.window) as stage:
        board.answer(pedals=1, treadles=6)
        stage.until(lambda: stage.app.place.weave.ids.pedal.text == "pedal")
        assert board.hear() == Lamps(bits_of(first))
        board.state(treadles=bits_of(first))
        board.state(treadles=bits_of(first))
        stage.until(lambda: stage.app.place.weave.ids.harness.feet_right)
        for _ in range(4):
            board.state(treadles=0)
        stage.until(lambda: stage.app.place.weave.ids.count.text.startswith("pick 2 "))
        # Orders are repeated until the board says that its lamps are so; the last word is what counts.
        heard = board.hear()
        while heard == Lamps(bits_of(first)):
            heard = board.hear()
        assert heard == Lamps(bits_of(second))
    assert events()[0] == PickWoven(0)


def test_a_beat_on_the_right_treadles_is_the_press_and_no_other_beat_is(tmp_path, display, monkeypatch, board):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    from companion.cli.weave import demo_warp_name
    from companion.present.preferences import Preferences
    from companion.wiring.screen_app import ScreenApp
    from companion.workshop.preference_file import preference_file, save_preferences

    save_preferences(
        preference_file(), Preferences(pedal=board.port, sounds=False, beater=True, beater_with_treadles=True)
    )
    pedal, beater = 0b01, 0b10

    def beat(treadles):
        for contacts in (beater, 0):
            for _ in range(4):
                board.state(contacts, treadles)

    with ScreenApp(demo_warp_name()) as program, Stage(program.window) as stage:
        board.answer(pedals=2, treadles=6)
        stage.until(lambda: stage.app.place.weave.ids.pedal.text == "pedal")
        first = bits_of(wanted_now()[0])
        for _ in range(8):
            board.state(treadles=first)
        stage.until(lambda: stage.app.place.weave.ids.harness.feet_right)
        assert events() == []
        opened_s = time.monotonic()
        # No beat is believed sooner than a shuttle can have crossed, by our clock and by the board's.
        stage.until(lambda: time.monotonic() - opened_s > BeatTimes().least_throw_s)
        for _ in range(8):
            board.state(treadles=first)
        beat(first)
        stage.until(lambda: stage.app.place.weave.ids.count.text.startswith("pick 2 "))
        beat(first)
        # What the board said before this has been heard when the pedal's hold is: the shed to take out is shown.
        for _ in range(20):
            board.state(pedal, first)
        board.rest()
        stage.until(lambda: stage.app.place.ask is not None)
        # Feet that open it weave nothing, whatever the beater does.
        for _ in range(8):
            board.state(treadles=first)
        beat(first)
        board.rest()
        for _ in range(20):
            board.state(pedal)
        board.rest()
        stage.until(lambda: stage.app.place.weave.ids.count.text.startswith("pick 1 "))
    woven_or_out = [event for event in events() if isinstance(event, PickWoven | PickTakenOut)]
    assert woven_or_out == [PickWoven(0), PickTakenOut(0)]


@pytest.mark.parametrize("come_off", ["before she weaves on", "after it"])
def test_feet_that_open_a_shed_while_a_pick_is_taken_out_weave_nothing(come_off):
    loom = AtLoom(twill_warp())
    view = this_pick(loom.warp, loom.progress)
    wanted, feet = treadles_in(view.footing.pressed), SensedFeet(loom.warp, advances=True)
    feet.stand_at(loom.progress, view, 0.0)
    assert not feet.felt(wanted, 1.0, weaving=False)
    assert not feet.passed(3.0, weaving=False)
    assert not feet.felt(frozenset(), 4.0, weaving=come_off == "after it")
    # From here on she weaves: the next step of the same feet is the pick.
    assert not feet.felt(wanted, 5.0)
    assert [felt.command for felt in feet.passed(6.0)] == [None]
    assert [felt.command for felt in feet.felt(frozenset(), 7.0)] == [onward]


def test_a_wrong_treadle_is_crossed_out_before_the_beat_and_noted_once(program, board):
    first = wanted_now()[0]
    other = next(treadle for treadle in range(6) if treadle not in first)
    with program, Stage(program.window) as stage:
        board.answer(pedals=1, treadles=6)
        stage.until(lambda: stage.app.place.weave.ids.pedal.text == "pedal")
        board.state(treadles=bits_of(frozenset({other})))
        board.state(treadles=bits_of(frozenset({other})))
        stage.until(lambda: stage.app.place.weave.ids.harness.wrong == [other])
        assert f"Not treadle {other + 1}" in stage.app.place.weave.ids.news.text
        assert stage.app.place.weave.ids.harness.missing == sorted(first)
        stage.until(lambda: len(events()) == 1)
        assert stage.app.place.weave.ids.count.text.startswith("pick 1 ")
        assert "Not treadle" in stage.app.place.weave.ids.news.text
    assert events()[0] == NearMiss(0, (other,), tuple(sorted(first)))


def test_a_double_tap_does_what_the_weaver_gave_it_and_the_voice_says_the_feet(tmp_path, display, monkeypatch, board):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    from companion.cli.weave import demo_warp_name
    from companion.present.preferences import Preferences
    from companion.present.weave import WeaveButton
    from companion.wiring.screen_app import ScreenApp
    from companion.workshop.preference_file import preference_file, save_preferences

    said = []
    monkeypatch.setattr("companion.workshop.voice.Voice.say", lambda _voice, words: said.append(words))
    save_preferences(
        preference_file(), Preferences(pedal=board.port, sounds=False, voice=True, double_tap=WeaveButton.NOTE)
    )
    with ScreenApp(demo_warp_name()) as program, Stage(program.window) as stage:
        board.answer(pedals=1, treadles=6)
        stage.until(lambda: stage.app.place.weave.ids.pedal.text == "pedal")
        stage.touch(stage.app.place.weave.ids.next_area)
        stage.until(lambda: stage.app.place.weave.ids.count.text.startswith("pick 2 "))
        assert len(said) == 1
        assert ("left" in said[0]) or ("right" in said[0])
        assert "sea from the right" in said[0]
        # Two taps of 0.2 s each, 0.2 s apart.
        for pedals in (1, 0, 1, 0):
            for _ in range(4):
                board.state(pedals)
        stage.until(lambda: stage.app.place.ask is not None)
        assert stage.app.place.ask.ids.words.text == "Note what?"
