"""One scale of type: no words on any screen have a size of their own, in any window, spelling, units, size of text.

The help of each screen is laid out too, and its sign lies over nothing.
"""

from __future__ import annotations

import re

import pytest

from companion.draft.units import Units
from companion.present.asking import Asked
from companion.present.preferences import Preferences
from companion.present.trade_words import AS_WRITTEN, Trade
from companion.screens.theme import SMALLEST_TARGET_DP, SMALLEST_WORD_PX, sizes_for
from companion.workshop.places import asset
from companion.workshop.preference_file import preference_file, save_preferences
from tests.present.every_flow import flows
from tests.present.every_page import ENOUGH, further_flows
from tests.screens.looked_at import lay_out
from tests.screens.pictures import WINDOWS, Shown, show_every_screen
from tests.screens.stage import Stage, walk, worded

MOST_SIZES = 3
LARGE = 1.3
NARROW = (WINDOWS[0], WINDOWS[-1])
LEAST_ROOM = (*NARROW, WINDOWS[2])
"""The lowest, the narrowest, and the one whose words are largest beside its width."""
AMERICAN = Trade(american=True, harness=True, mistake=True)
OF_EACH_FLOW = 4
"""So many questions of each flow are followed."""


def lies_over(sign, widget):
    """Tell whether the sign of the help lies over what a widget holds within its padding."""
    left, bottom, right, top = getattr(widget, "padding", (0, 0, 0, 0))
    x, y = widget.to_window(*widget.pos)
    across = min(sign.right, x + widget.width - right) - max(sign.x, x + left)
    up = min(sign.top, y + widget.height - top) - max(sign.y, y + bottom)
    return across > 1 and up > 1


def faults(stage, name, own, sizes):
    """Yield what is wrong with the words of the place on the screen."""
    from kivy.uix.behaviors import ButtonBehavior

    scale = {int(sizes.sign), int(sizes.title), int(sizes.word)}
    words = [label for label in worded(stage.app.place) if label.text and label.height > 1]
    assert words
    if len({int(label.font_size) for label in words}) > MOST_SIZES:
        yield f"{name}: more than three sizes"
    for label in words:
        if int(label.font_size) not in scale or label.font_size < SMALLEST_WORD_PX:
            yield f"{name}: {label.text!r} at {label.font_size}, not of {sorted(scale)}"
        if getattr(label, "cut", False) and not any(one in label.text for one in own):
            yield f"{name}: {label.text!r} is cut in {label.size}"
    sign = stage.app.root.help_sign
    if stage.app.place.has_help:
        shown = [*words, *(one for one in walk(stage.app.place) if isinstance(one, ButtonBehavior))]
        under = [one for one in shown if lies_over(sign, one)]
        yield from (f"{name}: the help lies over {getattr(one, 'text', one)!r}" for one in under)
    for button in (label for label in words if isinstance(label, ButtonBehavior)):
        row = [one for one in button.parent.children if isinstance(one, ButtonBehavior) and hasattr(one, "font_size")]
        if len({one.font_size for one in row if one.text and one.y == button.y}) > 1:
            yield f"{name}: the row of {button.text!r} has several sizes"


@pytest.mark.parametrize(
    ("trade", "units", "text_scales"),
    [
        (AS_WRITTEN, Units.METRIC, (1.0, LARGE)),
        (AMERICAN, Units.INCH, (LARGE,)),
    ],
    ids=["British metric", "American inch"],
)
def test_every_screen_keeps_to_three_sizes_and_cuts_nothing(home_of_its_own, trade, units, text_scales):
    """At large text only what is no question: those are measured so below, each once."""
    # Names are the weaver's, as long as they are: those of the drafts that come along, and of the folder of a test.
    own = [path.stem.replace("-", " ") for path in asset("drafts").iterdir()] + [
        str(home_of_its_own),
        "Demo: the draft",
    ]
    save_preferences(preference_file(), Preferences(trade=trade, units=units))
    found, seen, helped = [], [], []
    opened_at, *others = text_scales

    def snap(stage, name):
        app, place = stage.app, stage.app.place
        before = tuple(app.root.size)
        assert before in WINDOWS

        def look(name, window, text_scale):
            # Laid out as in a window of this size; what is measured here need not be drawn.
            lay_out(app, window, text_scale)
            sizes = sizes_for(*window, SMALLEST_TARGET_DP, text_scale)
            wrong = list(faults(stage, name, own, sizes))
            if wrong:
                # A list whose cloths have come from their thread just now lies still some frames later.
                lay_out(app, window, text_scale)
                wrong = list(faults(stage, name, own, sizes))
            found.extend(f"{window} {text_scale} {fault}" for fault in wrong)

        question = getattr(place, "ask", None) is not None
        if place.topics not in helped and opened_at != LARGE:
            helped.append(place.topics)
            app.help_wanted()
            # A page of help is like another: each is laid out in one of the two narrow windows.
            look(f"help with {name}", NARROW[len(helped) % 2], max(text_scales))
            app.place.go_out()
        assert app.place is place
        # The page is left as it was found: laid out in its own window last.
        for window in sorted(WINDOWS, key=lambda window: window == before):
            for text_scale in (*(others if window in NARROW else ()), opened_at):
                if text_scale != LARGE or not question:
                    look(name, window, text_scale)
        app.root.size_hint = (1, 1)
        seen.append(name)

    show_every_screen(Shown(1024, 600, "dark", text_scale=opened_at), snap)
    assert len(set(seen)) >= 25
    assert len(helped) >= 15 or opened_at == LARGE
    assert found == [], "\n".join(found)


def questions_of(flow):
    """Yield the questions of a flow nearest to its beginning, breadth first."""
    yield flow
    waiting, met = [flow], 0
    while waiting and met < OF_EACH_FLOW:
        question = waiting.pop(0)
        met += 1
        answers = [one for one in (*question.strips, *question.answers, *question.foot) if one.words]
        keys = [key for key in question.pad if key.words in ENOUGH]
        for step in [one.leads_to() for one in (*answers, *keys)]:
            if isinstance(step, Asked):
                yield step
                waiting.append(step)


def looks_of(question):
    """Return what a question looks like, whatever numbers stand in it."""
    words = [question.words, question.detail, *question.lines]
    words += [one.words for one in (*question.strips, *question.answers, *question.foot)]
    return question.as_list, question.with_cloth, tuple(re.sub(r"\d+", "1", one) for one in words)


def test_every_question_keeps_to_three_sizes_and_cuts_nothing_at_large_text(nothing_drawn):
    """The questions of all flows, those that no walk comes by, too, by turns in the windows that have least room."""
    from kivy.clock import Clock

    from companion.screens.flow_place import FlowPlace
    from companion.screens.window import FellsideWindow

    asked = {looks_of(one): one for flow in (*flows(), *further_flows()) for one in questions_of(flow) if one.words}
    assert len(asked) > 150
    window = FellsideWindow(
        lambda window: FlowPlace(Asked("Well?", ()), window.surroundings, lambda _result: None), trade=AMERICAN
    )
    found = []
    with Stage(window) as stage:
        for at, size in enumerate(LEAST_ROOM):
            lay_out(stage.app, size, LARGE)
            sizes = sizes_for(*size, SMALLEST_TARGET_DP, LARGE)
            for question in [*asked.values()][at :: len(LEAST_ROOM)]:
                stage.app.place._flow.begin(question)
                for _ in range(4):
                    Clock.tick()
                found += [f"{size} {fault}" for fault in faults(stage, question.words, (), sizes)]
    assert found == [], "\n".join(found)


@pytest.fixture
def nothing_drawn(display, monkeypatch):
    """Pages are laid out, and neither words nor pictures drawn, which takes most of the time."""
    from companion.screens.widgets.cloth_picture import ClothPicture
    from companion.screens.widgets.harness_picture import HarnessPicture
    from companion.screens.widgets.words import DrawnWords

    # Kivy finds what it calls by its name.
    def _draw_words(_label, *_): ...
    def _draw(_picture, *_): ...

    monkeypatch.setattr(DrawnWords, "_draw_words", _draw_words)
    for picture in (ClothPicture, HarnessPicture):
        monkeypatch.setattr(picture, "_draw", _draw)


@pytest.fixture
def home_of_its_own(tmp_path, monkeypatch, nothing_drawn):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    return tmp_path
