"""Small drawings stand before words that leave room for them, and never take any of it away."""

from __future__ import annotations

import pytest

from companion.present.icons import CLOTH, NOTE, SHUTTLE, TREADLE
from companion.present.loom_drawing import ACROSS, Disc, Stroke
from tests.screens.at_the_loom import at_the_screen
from tests.screens.looked_at import SIZES, texts_clipped
from tests.screens.newcomer import choose, opened
from tests.screens.stage import Stage, walk


def pixels_of(shape):
    return shape.points if isinstance(shape, Stroke) else (shape.centre,)


@pytest.mark.parametrize("icon", [CLOTH, NOTE, SHUTTLE, TREADLE])
def test_every_icon_is_drawn_of_strokes_within_its_square(icon):
    assert all(isinstance(shape, Stroke | Disc) for shape in icon)
    assert all(0 <= x <= ACROSS and 0 <= y <= ACROSS for shape in icon for x, y in pixels_of(shape))


def test_no_icon_stands_alone_or_makes_words_smaller(home):
    from companion.screens.widgets.icon_button import IconButton

    program = opened()
    with program, Stage(program.window) as stage:
        shown = set()
        for size in SIZES:
            stage.resize(*size)
            buttons = [one for one in walk(stage.app.place) if isinstance(one, IconButton)]
            assert len(buttons) == 4
            assert texts_clipped(stage.app.place) == []
            # A page draws all of them or none, so that no button looks like another kind.
            assert len({button.icon_shown for button in buttons}) == 1
            for button in buttons:
                assert button.text
                assert int(button.font_size) == int(stage.app.sizes.word)
                drawn = button.canvas.after.children
                assert bool(drawn) == button.icon_shown
                shown.add((size, button.icon_shown))
        assert (SIZES[0], True) in shown
        choose(stage, "Write a draft")


def test_a_narrow_button_keeps_its_words_and_leaves_the_icon_out(tmp_path, display):
    from companion.screens.widgets.icon_button import IconButton

    with at_the_screen(tmp_path / "towel.journal"):
        button = IconButton(CLOTH, text="Open a draft", wanted_size=30, size=(400, 80))
        assert (button.icon_shown, button.cut) == (True, False)
        button.size = (140, 90)
        assert (button.icon_shown, button.cut) == (False, False)
        # Where only the height is there it stands above the words, and these below it.
        button.size = (200, 130)
        assert (button.icon_shown, button.cut, button.padding[0]) == (True, False, button.padding[2])
        assert button.padding[1] > 30
        button.widest = 220
        assert not button.icon_shown
