"""The record in a real window: pages that turn, words that are not cut off, and large buttons."""

from __future__ import annotations

from itertools import combinations

import pytest

from companion.draft.facing import FROM_LEFT
from companion.draft.units import Units
from companion.record.pages import record_pages
from companion.record.sheet import sheet
from tests.screens.looked_at import SIZES, texts_clipped, touch_targets
from tests.screens.stage import Stage
from tests.weaving.world import AtLoom, two_stage_warp


def woven_pages():
    from companion.weaving.decide import re_tie, write_note

    loom = AtLoom(two_stage_warp())
    loom.weave(4)
    loom.do(write_note, "a long note that goes on and on, such as one writes after an evening with many broken ends")
    loom.do(re_tie)
    loom.weave(3)
    return record_pages(sheet(loom.warp, loom.entries), Units.METRIC, FROM_LEFT)


def rows_seen_whole(place):
    """Return which rows of the page (indices) stand whole in the window."""
    scroll, firsts = place.ids.scroll, place._rows.children[::-1][::2]
    low, high = scroll.to_window(*scroll.pos)[1], scroll.to_window(scroll.x, scroll.top)[1]
    return {
        at
        for at, row in enumerate(firsts)
        if row.to_window(*row.pos)[1] >= low - 1 and row.to_window(row.x, row.top)[1] <= high + 1
    }


@pytest.mark.parametrize("text_scale", [1.0, 1.3], ids=["usual", "large"])
@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
def test_every_page_fits_and_can_be_turned(display, size, text_scale):
    from companion.present.record_page import READING, RecordDeed
    from companion.screens.record import RecordScreen
    from companion.screens.window import FellsideWindow

    left = []

    def screen(window):
        screen = RecordScreen(window.surroundings, lambda: None, lambda: None)
        screen.leave = lambda: left.append(1)
        return screen

    pages = woven_pages()
    with Stage(FellsideWindow(screen, text_scale=text_scale)) as stage:
        stage.resize(*size)
        place = stage.app.place
        assert place.title == READING
        place.show_pages(pages)
        stage.pump(4)
        for number, page in enumerate(pages, 1):
            assert (place.title, place.where.partition(" · ")[0]) == (page.title, f"{number} of {len(pages)}")
            assert texts_clipped(place.ids.buttons) == texts_clipped(place.ids.title) == []
            for label in place._rows.children:
                assert label.texture_size[0] <= label.width + 1
                assert label.texture_size[1] <= label.height + 1
            for one, other in combinations(touch_targets(place), 2):
                assert min(*one.size, *other.size) >= 48
                assert one.right <= other.x + 1 or other.right <= one.x + 1
            seen = set()
            for _ in range(20):
                seen |= rows_seen_whole(place)
                more = place.where.endswith("more below")
                stage.touch(place.button(RecordDeed.LATER))
                if not more:
                    break
            # Whoever reads on has read every row before the next page comes.
            assert page.picture is not None or seen == set(range(len(page.rows))), (number, seen)
        assert place.where.startswith("1 of")
        place.go_back()
        assert left == [1]


def test_for_the_left_hand_the_buttons_of_the_record_lie_the_other_way_round(display):
    from companion.present.record_page import RecordDeed
    from companion.screens.record import RecordScreen
    from companion.screens.window import FellsideWindow

    def screen(window):
        nothing = [lambda: None] * 2
        return RecordScreen(window.surroundings, *nothing)

    with Stage(FellsideWindow(screen, mirrored=True)) as stage:
        stage.app.place.show_pages(woven_pages())
        stage.pump(4)
        places = [stage.app.place.button(deed).x for deed in RecordDeed]
        assert places == sorted(places, reverse=True)
        assert len(set(places)) == len(places)
        while stage.app.place.where.endswith("more below"):
            stage.touch(stage.app.place.button(RecordDeed.LATER))
        stage.touch(stage.app.place.button(RecordDeed.LATER))
        assert stage.app.place.where.startswith("2 of")
