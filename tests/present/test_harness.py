"""The picture of the loom keeps its parts inside its box and apart from each other."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.present.harness import Box, harness_layout


def boxes_of(layout):
    return [box for column in layout.ties for box in column] + list(layout.pedals) + list(layout.shafts)


def overlap(one, other):
    return (
        one.x < other.x + other.width
        and other.x < one.x + one.width
        and one.y < other.y + other.height
        and other.y < one.y + one.height
    )


@given(st.integers(1, 12), st.integers(0, 14), st.floats(120, 900), st.floats(80, 600))
def test_every_part_lies_in_the_box_and_overlaps_no_other(shafts, treadles, width, height):
    area = Box(7, 11, width, height)
    boxes = boxes_of(harness_layout(area, shafts, treadles))
    assert len(boxes) == shafts * treadles + treadles + shafts
    for box in boxes:
        assert area.x - 1e-6 <= box.x
        assert area.y - 1e-6 <= box.y
        assert box.x + box.width <= area.x + area.width + 1e-6
        assert box.y + box.height <= area.y + area.height + 1e-6
    assert not any(overlap(one, other) for one, other in combinations(boxes, 2))


def test_treadle_one_is_leftmost_and_shaft_one_lowest():
    layout = harness_layout(Box(0, 0, 400, 200), shafts=4, treadles=6)
    lefts = [box.x for box in layout.pedals]
    bottoms = [box.y for box in layout.shafts]
    assert lefts == sorted(lefts)
    assert bottoms == sorted(bottoms)
    assert layout.ties[2][1].x == pytest.approx(layout.pedals[2].x)
    assert layout.ties[2][1].y == pytest.approx(layout.shafts[1].y)


def test_fourteen_treadles_under_twenty_four_shafts_are_broad_enough_for_their_numbers():
    # The room beside the half that means "next" on a window of 800 x 480.
    layout = harness_layout(Box(0, 0, 388, 170), 24, 14)
    assert all(pedal.width >= 16 for pedal in layout.pedals)
    assert layout.shafts[-1].x + layout.shafts[-1].width <= 388
