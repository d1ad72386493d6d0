"""Words are drawn as small as they are, and stand where a label as large as its box would put them."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from tests.screens.stage import Stage, walk

BOX = (300, 120)
ONE_WORD, ONE_LINE, LINES = "Shuttle", "from the left", "Set up the loom and weave on with the next piece"


@pytest.fixture
def bare(display, monkeypatch):
    from kivy.app import App
    from kivy.core.window import Window
    from kivy.uix.floatlayout import FloatLayout

    class Bare(App):
        def build(self):
            return FloatLayout()

    # One window serves all tests of a run, with the ground of the place that it showed last.
    monkeypatch.setattr(Window, "clearcolor", (0, 0, 0, 1))
    with Stage(Bare()) as stage:
        yield stage


def drawn(stage, label):
    """Return what the window shows of a label alone in its lower left corner, as whole numbers."""
    from kivy.core.window import Window
    from kivy.graphics.opengl import GL_RGBA, GL_UNSIGNED_BYTE, glReadPixels

    label.size_hint, label.pos, label.size = (None, None), (10.5, 20), BOX
    stage.app.root.clear_widgets()
    stage.app.root.add_widget(label)
    stage.pump(1)
    stage.draw()
    width, height = (int(side) for side in Window.size)
    pixels = np.frombuffer(glReadPixels(0, 0, width, height, GL_RGBA, GL_UNSIGNED_BYTE), np.uint8)
    return pixels.reshape(height, width, 4).astype(int)


@pytest.mark.parametrize("words", [ONE_WORD, LINES])
def test_words_stand_to_the_pixel_where_a_plain_label_of_the_same_box_puts_them(bare, words):
    from kivy.uix.label import Label

    from companion.screens.widgets.fit_label import FitLabel

    alike = product(("left", "center", "right"), ("middle",), ([0, 0, 0, 0], [4, 1, 4, 1], [60, 3, 8, 40]))
    for halign, valign, padding in (*alike, ("left", "top", [4, 1, 4, 1]), ("left", "bottom", [4, 1, 4, 7])):
        looks = {"text": words, "halign": halign, "valign": valign, "padding": padding, "color": (0.9, 0.6, 0, 1)}
        ours = drawn(bare, FitLabel(wanted_size=21, **looks))
        plain = drawn(bare, Label(font_size=21, text_size=BOX, **looks))
        assert ours[..., :3].any()
        assert (ours == plain).all(), (halign, valign, padding)


def test_words_that_have_no_room_are_cut_as_a_plain_label_cuts_them(bare):
    from kivy.uix.label import Label

    from companion.screens.widgets.fit_label import FitLabel

    looks = {"text": LINES * 3, "halign": "left", "valign": "middle"}
    ours = FitLabel(wanted_size=40, **looks)
    plain = Label(font_size=40, text_size=BOX, shorten=True, shorten_from="right", **looks)
    assert (drawn(bare, ours) == drawn(bare, plain)).all()
    assert ours.cut


def test_words_that_fit_are_no_larger_a_picture_than_they_are(bare):
    from companion.screens.widgets.fit_label import FitLabel

    label = FitLabel(text=ONE_LINE, wanted_size=21)
    drawn(bare, label)
    assert label.texture_size[0] < BOX[0] / 2
    assert label.texture_size[1] < BOX[1] / 3


def test_words_that_change_move_or_go_are_drawn_anew(bare):
    from companion.screens.widgets.fit_label import FitLabel

    label = FitLabel(text=ONE_WORD, wanted_size=21)
    seen = [drawn(bare, label)]
    for name, value in (("text", ONE_LINE), ("color", (1, 0, 0, 1)), ("bold", True), ("halign", "right")):
        setattr(label, name, value)
        seen.append(drawn(bare, label))
        assert (seen[-1] != seen[-2]).any(), name
    label.text = ""
    assert not drawn(bare, label)[..., :3].any()


def test_every_button_of_the_start_has_its_words_on_it(home):
    from companion.screens.widgets.word_button import WordButton
    from companion.wiring.screen_app import ScreenApp

    program = ScreenApp(None, guard=None)
    with program, Stage(program.window) as stage:
        buttons = [one for one in walk(stage.app.root) if isinstance(one, WordButton) and one.text]
        assert len(buttons) >= 5
        for button in buttons:
            (x, y), (wide, high) = button.words_pos, button.texture_size
            assert wide > 10
            assert button.x <= x
            assert x + wide <= button.right
            assert button.y <= y
            assert y + high <= button.top


def test_no_line_begins_with_the_dot_between_two_things(display):
    from companion.screens.widgets.glyphs import height_in_lines, words_drawn

    words = "Field · block 5/9 · pick 7/12"
    broken = 0
    for width in range(40, 320, 4):
        if height_in_lines(words, 20, True, width) is None:
            continue
        lines = [line.words[0].text for line in words_drawn(words, 20, True, width=width)._cached_lines]
        assert [line for line in lines if line.startswith("·")] == []
        broken += len(lines) > 1
    assert broken > 10


def test_a_line_ends_between_two_things_and_within_none_where_that_takes_no_line_more(display):
    from kivy.core.text import Label as CoreLabel

    from companion.screens.widgets.glyphs import extents, height_in_lines, words_drawn

    things = ("Field", "block 5/9", "pick 7/12", "sand on the left")
    words, whole, parted = " · ".join(things), 0, 0
    for width in range(40, 480, 4):
        if height_in_lines(words, 20, True, width) is None or extents(words, 20, True)[0] <= width:
            continue
        drawn = words_drawn(words, 20, True, width=width)
        lines = ["".join(word.text for word in line.words).replace("\u00a0", " ") for line in drawn._cached_lines]
        assert " ".join(line.strip() for line in lines) == words
        plain = CoreLabel(text=words, font_size=20, bold=True, text_size=(width, None))
        plain.refresh()
        assert (drawn.texture.height, height_in_lines(words, 20, True, width)) == (plain.texture.height,) * 2
        ends_well = all(line.rstrip().endswith(" ·") for line in lines[:-1])
        whole, parted = whole + ends_well, parted + (not ends_well)
        if width > extents(f"{things[-1]} · ", 20, True)[0] and not ends_well:
            # Nothing is wider than a line: it was parted to save one.
            assert len(lines) < len(things)
    assert whole > 40
    assert parted


def test_a_shorter_wording_is_taken_before_a_line_that_ends_within_what_belongs_together(display):
    from companion.screens.widgets.fit_label import FitLabel
    from companion.screens.widgets.glyphs import extents

    wordings = ("Field · block 5/9 · pick 7/12", "block 5/9 · pick 7/12", "pick 7/12")
    label = FitLabel(wordings=wordings, wanted_size=20, bold=True)
    line = extents(wordings[0], 20, True)[1]
    wide = extents("Field · block 5/9 · ", 20, True)[0]
    for width, words in (
        (wide, wordings[0]),
        (wide - 8, wordings[1]),
        (extents(wordings[2], 20, True)[0], wordings[2]),
    ):
        label.size = width, 2 * line
        assert (label.text, label.cut) == (words, False), width


@pytest.mark.parametrize("size", [24, 36, 44])
def test_no_word_of_a_button_lies_on_the_colour_of_its_yarn(bare, size):
    """Two lines reach into a band of a quarter of the button; where they need more room it is narrower."""
    from companion.screens.widgets.word_button import WordButton

    button = WordButton(text="Yes, weave on here", wanted_size=size, color=(1, 0, 0, 1), band=(0, 1, 0, 1))
    shown = drawn(bare, button)
    across, top = slice(30, BOX[0] - 10), 20 + BOX[1]
    band = int(button.band_height)
    assert not button.cut
    assert BOX[1] // 20 <= band <= BOX[1] // 4
    assert (shown[top - band + 1 : top - 1, across, :3] == (0, 255, 0)).all()
    assert (shown[20 : top - band, across, 0] == 255).any()
    button.band = (0, 0, 0, 0)
    assert not (drawn(bare, button)[..., 1] == 255).any()
    assert button.padding[1] == button.padding[3]
