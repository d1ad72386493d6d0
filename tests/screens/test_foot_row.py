"""The buttons at the foot of a page: words in one line where there is room, and what leads back always at one place."""

from __future__ import annotations

import pytest

from companion.screens.theme import LIGHT, SMALLEST_TARGET_DP, sizes_for

UPRIGHT, LAID = (800, 1280), (1280, 800)


def filled(window, others, done=None):
    """Return a foot filled for a window, laid out."""
    from kivy.clock import Clock

    from companion.screens.look import look_of
    from companion.screens.widgets.foot_row import FootKey, FootRow

    def key(words):
        return None if words is None else FootKey(words, lambda: None)

    foot = FootRow(size=window)
    sizes = sizes_for(*window, SMALLEST_TARGET_DP)
    foot.fill(look_of(LIGHT), sizes, back=key("Back"), others=[key(words) for words in others], done=key(done))
    for _ in range(3):
        Clock.tick()
    return foot, sizes


def lines(button):
    from companion.screens.widgets.glyphs import extents, height_in_lines

    size = int(button.font_size)
    room = int(button.width - button.padding[0] - button.padding[2])
    return round(height_in_lines(button.text, size, True, room) / extents(button.text, size, True)[1])


@pytest.mark.parametrize("window", [UPRIGHT, LAID], ids=str)
@pytest.mark.parametrize("others", [("Another warp",), ("Another warp", "See the record"), ("Save the card",)])
def test_words_stand_in_one_line_where_nothing_is_done_with_the_page(display, window, others):
    foot, sizes = filled(window, others)
    assert [lines(foot.button(words)) for words in others] == [1] * len(others)
    assert foot.height == sizes.action
    assert foot.button("Back").x == pytest.approx(0)


def test_one_alone_is_a_button_and_no_bar_where_it_has_room_so(display):
    foot, _ = filled(LAID, ("Another warp",))
    assert foot.button("Another warp").width < LAID[0] / 2


@pytest.mark.parametrize("window", [UPRIGHT, LAID], ids=str)
def test_what_is_done_with_a_page_ends_its_row(display, window):
    foot, _ = filled(window, ("More",), done="Make it")
    assert foot.button("Make it").right == pytest.approx(window[0])
    assert foot.buttons[-1].text == "Make it"
