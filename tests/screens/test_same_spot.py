"""Every button of every flow is touched twice at the same spot: it means the same again, or nothing."""

from __future__ import annotations

import pytest

from companion.draft.facing import FROM_LEFT
from companion.draft.units import Units
from companion.present.asking import Asked, AskedToWrite
from companion.present.cloth_end import ask_sides
from companion.present.deeds import ask_undo
from companion.present.elsewhere import ask_elsewhere
from companion.present.fault import ask_fault
from companion.present.find import ask_place
from companion.present.looms import ask_looms
from companion.present.measure import ask_measure
from companion.present.new_warp import ask_new_warp
from companion.present.note import ask_note
from companion.present.preferences import Preferences, ask_preferences
from companion.present.resume import ask_resume
from companion.present.start import Around, MenuItem, ask_start
from companion.present.teach import ask_key
from companion.weaving import decide
from companion.weaving.events import FaultKind
from tests.present.test_looms import FLOOR
from tests.present.test_new_warp import LOOKUP, new_warp
from tests.screens.stage import Stage, walk
from tests.weaving.world import AtLoom, lever_draft, lever_warp

QUESTIONS_OF_A_FLOW = 3
"""So many of each flow, the ones nearest to its beginning that look each otherwise."""


def flows():
    loom = AtLoom(lever_warp(lever_draft([0, 1, 2] * 8)))
    loom.weave(7)
    loom.do(decide.note_fault, FaultKind.OTHER, 3)
    warp, progress = loom.warp, loom.progress
    yield ask_fault(warp, progress, FROM_LEFT)
    yield ask_place(warp, progress, FROM_LEFT, Units.METRIC)
    yield from (ask(warp, progress) for ask in (ask_elsewhere, ask_sides))
    for ask in (ask_note, ask_measure, ask_undo):
        yield ask(warp, progress, Units.INCH)
    yield ask_resume(warp, progress, FROM_LEFT, Units.METRIC, 0)
    yield ask_preferences(Preferences(), ("/dev/port",), can_speak=True)
    yield ask_looms((FLOOR,), Units.METRIC)
    drafts = [MenuItem("/d/towel.wif", "towel")]
    yield ask_start([MenuItem("w", "Warp")], Around(lambda: drafts, lambda _path: Asked("no", ()), lambda: (FLOOR,)))
    yield ask_new_warp(new_warp(), LOOKUP)
    yield ask_key(True, lambda: None)


def questions_of(asked):
    """Return the questions of a flow, breadth first, and whole runs of those that are asked bit by bit."""
    waiting, met = [asked], {}
    while waiting and len(met) < QUESTIONS_OF_A_FLOW:
        question = waiting.pop(0)
        looks = question.bit_by_bit or question.words, tuple(answer.words for answer in question.answers)
        if looks in met:
            continue
        met[looks] = question
        for answer in (*question.strips, *question.answers, *question.pad, *question.foot):
            step = answer.leads_to() if answer.words else None
            if isinstance(step, Asked) and not isinstance(step, AskedToWrite):
                waiting.append(step)
    return list(met.values())


class TwiceAtTheSameSpot:
    """A flow on the screen, fingers that come down twice while the clock stands still, and what each of them did."""

    def __init__(self, stage, place, ended):
        self.stage, self.place, self.ended = stage, place, ended
        self.now_s = 0.0
        stage.app.root.settle_s = 0.3
        stage.app.root._clock = lambda: self.now_s

    def ask(self, question):
        """Put this question on the screen, and let it lie still."""
        self.ended.clear()
        self.place.lead_on(question)
        self.stage.pump(1)
        self.now_s += 1.0

    def buttons(self):
        from kivy.uix.behaviors import ButtonBehavior

        shown = [widget for widget in walk(self.place.ask) if isinstance(widget, ButtonBehavior) and widget.text]
        return {one.to_window(*one.center): one.text for one in shown}

    def stands(self):
        """What the weaver looks at, and what the flow has ended in."""
        return self.place.asking, self.place.write, tuple(self.ended), self.place.ask.small_line

    def touch(self, spot):
        from kivy.core.window import Window

        at = (spot[0], Window.height - spot[1], "left", [])
        for what in ("on_mouse_down", "on_mouse_up"):
            Window.dispatch(what, *at)
            self.stage.pump(1)
        return self.stands()


@pytest.mark.usefixtures("display")
def test_a_second_touch_at_the_same_spot_means_the_same_or_nothing():
    from companion.screens.flow import FlowPlace
    from companion.screens.window import FellsideWindow

    ended, touched, again = [], 0, 0

    def place_of(window):
        return FlowPlace(Asked("Well?", ()), window.surroundings, ended.append)

    window = FellsideWindow(place_of)
    with Stage(window) as stage:
        fingers = TwiceAtTheSameSpot(stage, window.place, ended)
        for flow in flows():
            for question in questions_of(flow):
                fingers.ask(question)
                for spot, words in fingers.buttons().items():
                    fingers.ask(question)
                    once = fingers.touch(spot)
                    there = {} if once[1] else fingers.buttons()
                    twice = fingers.touch(spot)
                    touched += 1
                    if twice != once:
                        again += 1
                        assert there.get(spot) == words, (question.words, words, there.get(spot))
                    if once[1] is not None:
                        fingers.place.go_back()
    assert touched > 150, touched
    assert again > 20, again
