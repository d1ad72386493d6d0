"""A second touch at the same spot means the same again, or nothing: every button of every flow."""

from __future__ import annotations

from itertools import permutations
from types import SimpleNamespace

import pytest

from companion.present.asking import Asked
from tests.present.every_flow import flows, steps_of
from tests.screens.stage import Stage, walk

LAYOUTS = 4
"""After so many frames a page that was just put up lies still."""


class OneScreen:
    """One page of questions in a window, on which each question lies as it would when it is asked."""

    def __init__(self, place):
        self.place, self.settled = place, 0
        self._laid_out = {}
        place.settle = self._count

    def _count(self):
        self.settled += 1

    def spots(self, question):
        """Return the boxes of the buttons of a question, each with its words."""
        from kivy.clock import Clock
        from kivy.uix.behaviors import ButtonBehavior

        key = id(question)
        if key not in self._laid_out:
            self.place._flow.begin(question)
            for _ in range(LAYOUTS):
                Clock.tick()
            shown = [
                one for one in walk(self.place.ask) if isinstance(one, ButtonBehavior) and getattr(one, "text", "")
            ]
            # The question is kept with its spots: no other one gets its identity.
            self._laid_out[key] = question, [(one.to_window(*one.pos), tuple(one.size), one.text) for one in shown]
        return self._laid_out[key][1]


def at(spot, boxes):
    """Return the words of the button under a spot, None where there is none."""
    for (x, y), (width, height), words in boxes:
        if x <= spot[0] < x + width and y <= spot[1] < y + height:
            return words
    return None


@pytest.fixture
def screen(display):
    from companion.screens.flow_place import FlowPlace
    from companion.screens.window import FellsideWindow

    window = FellsideWindow(lambda window: FlowPlace(Asked("Well?", ()), window.surroundings, lambda _result: None))
    with Stage(window):
        yield OneScreen(window.place)


@pytest.fixture(scope="module")
def steps():
    return [step for flow in flows() for step in steps_of(flow)]


def extremes(steps):
    """Return, for each kind of question that is asked bit by bit, those that lie most differently.

    They have the shortest and the longest head, the fewest and the most buttons.
    """
    kinds = {}
    for question, _answer, step in steps:
        for asked in (question, step):
            if asked is not None and asked.bit_by_bit:
                kinds.setdefault(asked.bit_by_bit, {})[id(asked)] = asked

    def head(asked):
        return len(asked.words) + len(asked.detail)

    def buttons(asked):
        return sum(bool(answer.words) for answer in (*asked.answers, *asked.pad, *asked.foot))

    return [
        {id(one): one for key in (head, buttons) for pick in (min, max) for one in [pick(kind.values(), key=key)]}
        for kind in kinds.values()
    ]


def test_where_a_finger_may_go_on_at_once_the_same_button_lies_under_it_or_none(screen, steps):
    """Wherever something else lies under the finger the page settles first, and answers no touch meanwhile.

    So what is left are the questions that are asked bit by bit: one more, one row lower, one more digit.
    """
    from companion.screens.flow import lies_as_before

    goes_on = 0
    for kind in extremes(steps):
        for before, after in permutations(kind.values(), 2):
            if lies_as_before(before, after):
                for (x, y), (width, height), words in screen.spots(before):
                    under = at((x + width / 2, y + height / 2), screen.spots(after))
                    assert under in (words, None), (before.words, words, after.words, under)
                    goes_on += 1
    assert goes_on > 300


def test_a_page_settles_whenever_another_answer_may_lie_under_the_finger(steps):
    """The flow itself decides it, here without anything to draw on: every answer of every flow is followed."""
    from companion.screens.flow import Flow, FlowEnds

    host = SimpleNamespace(settled=0)
    host.settle = lambda: setattr(host, "settled", host.settled + 1)
    shown = SimpleNamespace(parent=host, show=lambda _asked, _ways_back: None)
    flow = Flow(host, None, FlowEnds(lambda _result: None), lambda asked: asked)
    flow.ask = shown
    settled = lasted = 0
    for question, answer, step in steps:
        flow.begin(question)
        before = host.settled
        if step is not None:
            flow.lead_on(step)
            there = (*step.strips, *step.answers, *step.pad, *step.foot)
            changed = [one.words for one in there if one.words] != [
                one.words for one in (*question.strips, *question.answers, *question.pad, *question.foot) if one.words
            ]
            another_question = not question.bit_by_bit or question.bit_by_bit != step.bit_by_bit
            assert host.settled > before or not another_question, (question.words, answer.words)
            lasted += host.settled == before
            settled += host.settled > before and changed
    assert settled > 800
    assert lasted > 500


def test_a_settling_page_answers_no_second_touch_and_a_lasting_one_does(screen):
    """Real fingers, twice at the same spot while the clock stands still, on a page of each kind."""
    from kivy.core.window import Window

    from companion.present.number_pad import ask_number
    from tests.screens.stage import Stage as _Stage

    stage = _Stage(screen.place.get_root_window().children[0])
    root = screen.place.parent
    root.settle_s, now = 0.3, [1.0]
    root._clock = lambda: now[0]
    screen.place.settle = root.changed

    def touched_twice(question, words):
        screen.place._flow.begin(question)
        stage.pump(1)
        now[0] += 1.0
        (x, y), (width, height), _ = next(box for box in screen_boxes(screen) if box[2] == words)
        down = (x + width / 2, Window.height - y - height / 2, "left", [])
        stood = []
        for _ in range(2):
            Window.dispatch("on_mouse_down", *down)
            Window.dispatch("on_mouse_up", *down)
            stage.pump(1)
            stood.append(screen.place.asking.words)
        return stood

    assert touched_twice(ask_number("Which", 99, lambda _number: None), "5") == ["Which: 5", "Which: 55"]
    fault = next(flows())
    once, twice = touched_twice(fault, "Wrong shed")
    assert once == twice
    assert once.startswith("Wrong shed in pick")


def screen_boxes(screen):
    from kivy.uix.behaviors import ButtonBehavior

    shown = [one for one in walk(screen.place.ask) if isinstance(one, ButtonBehavior) and getattr(one, "text", "")]
    return [(one.to_window(*one.pos), tuple(one.size), one.text) for one in shown]
