"""One scale of type: no words on any screen have a size of their own, in any window, spelling, units, size of text.

The help of each screen is laid out too, and its sign lies over nothing.
"""

from __future__ import annotations

import pytest

from companion.draft.units import Units
from companion.present.preferences import Preferences
from companion.present.trade_words import AS_WRITTEN, Trade
from companion.screens.theme import SMALLEST_TARGET_DP, SMALLEST_WORD_PX, sizes_for
from companion.workshop.places import asset
from companion.workshop.preference_file import preference_file, save_preferences
from tests.screens.pictures import WINDOWS, Shown, show_every_screen
from tests.screens.stage import walk, worded

MOST_SIZES = 3
LARGE = 1.3


def lay_out(app, window, text_scale):
    """Give the place this much room, as if the window had it."""
    from kivy.clock import Clock

    app.root.size_hint, app.root.size = (None, None), window
    app.fit(sizes_for(*window, SMALLEST_TARGET_DP, text_scale))
    for _ in range(6):
        Clock.tick()


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
        (Trade(american=True, harness=True, mistake=True), Units.INCH, (LARGE,)),
    ],
    ids=["British metric", "American inch"],
)
def test_every_screen_keeps_to_three_sizes_and_cuts_nothing(home_of_its_own, trade, units, text_scales):
    # Names are the weaver's, as long as they are: those of the drafts that come along, and of the folder of a test.
    own = [path.stem.replace("-", " ") for path in asset("drafts").iterdir()] + [
        str(home_of_its_own),
        "Demo: the draft",
    ]
    save_preferences(preference_file(), Preferences(trade=trade, units=units))
    found, seen = [], []
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

        app.help_wanted()
        # A page of help is like another: each is laid out in one of the two narrow windows.
        look(f"help with {name}", WINDOWS[0 if len(seen) % 2 else -1], max(text_scales))
        app.place.go_out()
        assert app.place is place
        # The page is left as it was found: laid out in its own window last.
        for window in sorted(WINDOWS, key=lambda window: window == before):
            for text_scale in (*others, opened_at):
                look(name, window, text_scale)
        app.root.size_hint = (1, 1)
        seen.append(name)

    show_every_screen(Shown(1024, 600, "dark", text_scale=opened_at), snap)
    assert len(set(seen)) >= 25
    assert found == [], "\n".join(found)


@pytest.fixture
def home_of_its_own(tmp_path, monkeypatch, display):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    return tmp_path
