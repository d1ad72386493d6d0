"""Every job takes as many touches as the help page says, and no more than a weaver at the loom has patience for."""

from __future__ import annotations

import random
import re
import statistics

import pytest

from companion.draft.facing import FROM_LEFT
from companion.draft.reading import read_draft
from companion.draft.units import Units
from companion.journal.store import Journal
from companion.present.asking import Answered
from companion.present.find import ask_place
from companion.remap.loom.loom import Action, Loom
from companion.weaving.decide import pause
from companion.weaving.onward import onward
from companion.weaving.warp import LoomProfile, Piece, Warp
from companion.workshop.loomside import AtTheLoom
from companion.workshop.places import asset
from tests.bench.bench_lost import standing
from tests.present.lost_weaver import LostWeaver
from tests.screens.at_the_loom import at_the_screen, events_in, shows
from tests.screens.stage import Stage, walk

MOST = {
    "the demo to its first pick": 1,
    "a draft of your own to its first pick": 8,
    "a new bobbin": 2,
    "a fault noted": 3,
    "the place found, a few picks off": 3,
}
"""What a weaver was promised."""


@pytest.fixture(scope="module")
def told():
    """What the page says of each job."""
    page = asset("help/touches.md").read_text(encoding="utf-8")
    return {job: int(count) for job, count in re.findall(r"^\| ([^|]+) \| (\d+) \|", page, re.MULTILINE)}


class Finger:
    """Touches what it is told, and counts."""

    def __init__(self, stage):
        self._stage = stage
        self.touches = 0

    def on(self, widget):
        self.touches += 1
        self._stage.pump(4)
        self._stage.touch(widget)

    def answer(self, words):
        self.on(self._stage.app.place.ask.button(words))


def test_no_job_takes_more_than_was_promised(told):
    assert {job for job in MOST if told[job] > MOST[job]} == set()


def test_from_the_start_to_the_first_pick(home, told):
    from companion.wiring.screen_app import ScreenApp

    def count(*way):
        program = ScreenApp(None, guard=None)
        with program, Stage(program.window) as stage:
            finger = Finger(stage)
            for words in way:
                if words == "Tied: weave on":
                    stage.until(lambda: stage.app.place.signs.accept)
                    finger.on(stage.app.place.button(words))
                else:
                    finger.answer(words)
            if way[-1] != "Write a draft":
                assert stage.app.place.weave.ids.count.text.startswith("pick 1 of ")
                assert stage.app.place.weave.parent is stage.app.place
            return finger.touches

    assert count("Write a draft") == told["a draft begun from nothing"]
    own = count("Open a draft", "towel", "4 treadles", "Jack", "Tied: weave on")
    assert own == told["a draft of your own to its first pick"]
    again = count("Open a draft", "towel", "4 treadles, jack", "Tied: weave on")
    assert again == told["the same on the loom used last"]


def test_a_draft_far_down_the_list_and_the_help_of_its_page(home, told):
    from companion.wiring.screen_app import ScreenApp

    program = ScreenApp(None, guard=None)
    with program, Stage(program.window) as stage:
        finger = Finger(stage)
        for words in ("Open a draft", "By letter", "O", "overshot four shaft"):
            finger.answer(words)
        assert stage.app.place.ask.ids.words.text == "How many treadles on your loom?"
        assert finger.touches == told["a draft far down a long list"]
        finger.on(stage.app.root.help_sign)
        assert stage.app.place.title == "Which loom"
        assert finger.touches - told["a draft far down a long list"] == told["the help of a page"]


def test_the_demo_is_one_touch_away(home, told):
    from companion.wiring.screen_app import ScreenApp

    program = ScreenApp(None, guard=None)
    with program, Stage(program.window) as stage:
        finger = Finger(stage)
        finger.answer("Weave the demo")
        assert stage.app.place.weave.ids.count.text == "pick 1 of 300"
        assert finger.touches == told["the demo to its first pick"]
        finger.on(stage.app.place.weave.ids.harness)
        page = stage.app.place
        finger.on(page.button("Save the card"))
        stage.until(lambda: page.signs.detail.startswith("Saved: "))
        assert finger.touches - 1 == told["the tie-up card saved"]


def test_at_the_loom(tmp_path, display, told):
    from companion.present.weave import WeaveButton

    path = tmp_path / "towel.journal"
    with at_the_screen(path) as stage:
        place = stage.app.place
        ids = place.weave.ids

        def job(name, *way, becomes=None):
            before = len(events_in(path))
            finger = Finger(stage)
            for step in way:
                if isinstance(step, str):
                    finger.answer(step)
                else:
                    finger.on(step)
            stage.until(becomes or (lambda: len(events_in(path)) == before + 1))
            assert (name, finger.touches) == (name, told[name])

        button = place.weave.button
        job("a pick woven", ids.next_area, becomes=shows(stage, "pick 2 of 12"))
        job("a new bobbin", ids.shuttle_part, "Not known")
        job("a fault noted", button(WeaveButton.FAULT), "Wrong shed", "Mend later")
        job("a phrase noted", button(WeaveButton.NOTE), "Tension set again")
        job("the last deed undone", button(WeaveButton.UNDO), "Undo it")
        job("the newest pick out", button(WeaveButton.BACK), "It is out")
        if place.ask is not None:
            stage.touch(place.ask.button("Weave on"))
        surface = place.weave.surface
        job("the cloth turned over", ids.cloth_part, becomes=lambda: place.weave.surface != surface)
        job("on to the next section", ids.place_part, "On to the next section")
        for _ in range(3):
            stage.key("space")
        stage.until(shows(stage, "pick 8 of 12"))
        job(
            "the place found, a few picks off", button(WeaveButton.FIND), "2 back", becomes=shows(stage, "pick 6 of 12")
        )


class LostAtTheWindow(LostWeaver):
    """The same weaver, whose finger lies on the real window; she takes every page as she finds it there."""

    def at(self, stage):
        self.stage, self.finger = stage, Finger(stage)
        return self

    def _follow(self, asked, words):
        place = self.stage.app.place
        if isinstance(words, tuple):
            pictured = next(one for one in walk(place.ask) if getattr(one, "pointed", None))
            self.finger.touches += 1
            self.stage.drag([pictured.to_window(*pictured.place_at(*words))])
        elif isinstance(words, list):
            for word in words:
                asked = self._follow(asked, word)
        else:
            while (button := self._button(place.ask, words)) is None:
                self.finger.answer("More")
            self.finger.on(button)
        return place.ask.asked if place.ask is not None else Answered(None)

    @staticmethod
    def _button(ask, wanted):
        words, rows = (wanted, ()) if isinstance(wanted, str) else (wanted.words, wanted.rows)
        answered = [
            item for part in (ask._strip_buttons, ask._buttons, ask._pad_keys) for item in part._answers.items()
        ]
        same = [button for button, answer in answered if answer.words == words and (not rows or answer.rows == rows)]
        return next(iter(same or [button for button in ask.foot.buttons if button.text == words]), None)


def test_touches_that_find_a_place_are_those_of_the_real_window(tmp_path, display):
    from companion.present.weave import WeaveButton

    draft = read_draft(asset("drafts/overshot-four-shaft.txt").read_bytes())
    profile = LoomProfile("levers", Loom(shafts=4, treadles=0, action=Action.LEVERS))
    warp = Warp("Overshot", profile, (Piece("Overshot", draft),))
    path, at = tmp_path / "overshot.journal", 39
    with AtTheLoom(Journal.create(path, warp, at_ms=0), iter(range(1, 10**6)).__next__) as loom:
        for _ in range(at + 1):
            loom.do(onward)
        loom.do(pause)
    with at_the_screen(path) as stage:
        stage.touch(next(one for one in stage.app.place.ask.ids.answers.children if one.text == "Yes, weave on"))
        for off in (1, -3, 5, -7, 2, -12):
            weaver = LostAtTheWindow(warp, at + off, off).at(stage)
            counted = LostWeaver(warp, at + off, off)
            counted.find(ask_place(warp, stage.app.place.progress, FROM_LEFT, Units.METRIC))
            weaver.finger.on(stage.app.place.weave.button(WeaveButton.FIND))
            weaver.find(stage.app.place.ask.asked)
            at += off
            stage.until(shows(stage, f"pick {at + 2} of {draft.picks}"))
            assert weaver.finger.touches == 1 + counted.touches, (off, weaver.asked_for)


def test_the_place_is_found_in_a_median_of_so_many_touches(told):
    chance = random.Random(17)
    profile = LoomProfile("levers", Loom(shafts=16, treadles=0, action=Action.LEVERS))
    drafts = [(path.stem, read_draft(path.read_bytes())) for path in sorted(asset("drafts").glob("*four-shaft*"))]
    warps = [Warp(name, profile, (Piece(name, draft),)) for name, draft in drafts if draft.picks > 12]
    counts = []
    for _ in range(30):
        warp = chance.choice(warps)
        picks = warp.pieces[0].picks
        journal = chance.randrange(5, picks)
        off = round(chance.gauss(0, 3)) or chance.choice((-1, 1))
        truth = min(max(journal + off, 0), picks - 1)
        weaver = LostWeaver(warp, truth, truth - journal)
        weaver.find(ask_place(warp, standing(warp, journal + 1), FROM_LEFT, Units.METRIC))
        # The first touch is on Find.
        counts.append(1 + weaver.touches)
    assert max(counts) > 2
    assert statistics.median(counts) == told["the place found, a few picks off"]
