"""One evening at the loom in the window, from an empty device to the record, worked by touch alone."""

from __future__ import annotations

from companion.present.weave import WeaveButton
from companion.weaving.events import FaultNoted, Paused, PickTakenOut, PickWoven, Resumed
from tests.screens.newcomer import choose, choose_listed, opened
from tests.screens.stage import Stage


def answered(stage, action):
    """Touch a button of the weave screen and give each question its main answer, or its first; count the touches."""
    place = stage.app.place
    stage.touch(place.weave.button(action))
    touches = 1
    while place.ask is not None:
        answers = place.ask.asked.answers
        main = next((answer for answer in answers if answer.main), answers[0])
        stage.touch(place.ask.button(main.words))
        touches += 1
        assert touches < 10, "the questions do not end"
    return touches


def test_from_an_empty_device_to_the_record_of_thirty_picks(home):
    from companion.workshop import app

    with opened() as program, Stage(program.window) as stage:
        choose(stage, "Open a draft")
        choose_listed(stage, "demo double faced four shaft")
        choose(stage, "6 treadles")
        choose(stage, "Jack")
        stage.until(lambda: stage.app.place.signs.accept == "Set up the loom")
        stage.touch(stage.app.place.button("Tied: weave on"))
        weave = stage.app.place.weave
        for pick in range(2, 32):
            stage.touch(weave.ids.next_area)
            stage.until(lambda pick=pick: weave.ids.count.text.startswith(f"pick {pick} of"))
        stage.touch(weave.button(WeaveButton.BACK))
        choose(stage, "It is out")
        stage.until(lambda: weave.ids.count.text.startswith("pick 30 of"))
        choose(stage, "Back")
        assert answered(stage, WeaveButton.FAULT) <= 3
        stage.touch(weave.button(WeaveButton.PAUSE))
        stage.until(lambda: stage.app.place.ask is not None)
    (name,) = app.shelf().names()

    with opened(name) as program, Stage(program.window) as stage:
        place = stage.app.place
        choose(stage, place.ask.asked.main.words)
        stage.until(lambda: place.ask is None and place.weave.ids.count.text.startswith("pick 30 of"))
        stage.touch(place.weave.button(WeaveButton.FIND))
        for words in ("4+ off", "By number", "2", "9", "At that pick"):
            choose(stage, words)
        while place.ask is not None:
            choose(stage, place.ask.asked.main.words)
        assert place.weave.ids.count.text.startswith("pick 30 of")
        stage.touch(place.weave.button(WeaveButton.PAUSE))
        stage.until(lambda: place.ask is not None)
        choose(stage, "See the record")
        stage.until(lambda: stage.app.place is not place)

    with app.shelf().open_to_read(name) as journal:
        events = [entry.event for entry in journal.entries()]
    assert [event for event in events if isinstance(event, PickWoven)] == [PickWoven(pick) for pick in range(30)]
    assert PickTakenOut(29) in events
    assert sum(isinstance(event, FaultNoted) for event in events) == 1
    assert sum(isinstance(event, Paused) for event in events) >= 2
    assert any(isinstance(event, Resumed) and event.looked_right for event in events)
