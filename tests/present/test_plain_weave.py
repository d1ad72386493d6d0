"""Where plain weave is wrong is touched on its picture, wider and wider, until an end is as wide as a finger."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.facing import FROM_LEFT, FROM_RIGHT
from companion.draft.masks import shed_of
from companion.present.asking import Answered, Asked
from companion.present.plain_weave import WHICH, ask_where, plain_picture
from companion.present.threads_picture import CELL, ThreadInks
from companion.present.touched_thread import LAST
from tests.weaving.world import lever_draft

INKS = ThreadInks((10, 10, 10), (40, 40, 40), (90, 90, 90), (200, 200, 200))
ODD = shed_of([1, 3])


def of(ends, **more):
    return replace(lever_draft([1, 1], ends=ends), **more)


def asked(ends, facing=FROM_LEFT):
    return ask_where(of(ends), ODD, facing, INKS, Answered)


def lies(question):
    """The first and the last end (from 1) on the picture, from left to right."""
    words = question.detail.split()
    return int(words[1]), int(words[3].rstrip(","))


def touch(question, end):
    """Touch the middle of an end (index) where it lies on the picture."""
    left, right = lies(question)
    place = abs(end + 1 - left) + 0.5
    return question.pointed.leads_to(place / (abs(right - left) + 1), 0.5)


@settings(max_examples=60)
@given(st.integers(1, 2_000), st.data(), st.sampled_from([FROM_LEFT, FROM_RIGHT]))
def test_whoever_touches_an_end_wherever_it_lies_comes_to_it_and_to_no_other(ends, data, facing):
    end = data.draw(st.integers(0, ends - 1))
    step, touches = asked(ends, facing), 0
    while isinstance(step, Asked):
        left, right = lies(step)
        assert min(left, right) <= end + 1 <= max(left, right)
        assert (left < right) == (facing is FROM_LEFT) or left == right
        step, touches = touch(step, end), touches + 1
    assert step.result == end
    assert touches <= (1 if ends <= LAST else 2 if ends <= 6 * LAST else 3 if ends <= 36 * LAST else 4)


@settings(max_examples=40)
@given(st.integers(60, 900), st.integers(0, 59), st.data())
def test_who_touched_beside_it_finds_the_end_by_going_further(ends, began, data):
    """A finger that missed sees ends further left and right by one touch, and the last of all is within reach."""
    end = data.draw(st.integers(0, ends - 1))
    step = touch(asked(ends), began)
    for _ in range(ends):
        left, right = lies(step)
        if left <= end + 1 <= right:
            break
        words = "Further left" if end + 1 < left else "Further right"
        step = next(answer for answer in step.foot if answer.words == words).leads_to()
    assert left <= end + 1 <= right


def test_the_last_picture_shows_each_end_in_its_heddle_above_plain_weave():
    threading = tuple(0 if end % 2 == 0 else 1 for end in range(12))
    draft = of(12, threading=threading)
    question = ask_where(draft, ODD, FROM_LEFT, INKS, Answered)
    assert question.words == WHICH
    pixels = question.pointed.draw(800, 300, (0, 0, 0)).pixels
    wider = pixels.shape[1] // (12 * CELL)
    assert abs(pixels.shape[1] / pixels.shape[0] - 800 / 300) < 0.3, "it fills the room from side to side"
    pixels = pixels[:, ::wider]
    heddles = pixels[: draft.shafts * CELL]
    middles = [CELL // 2 + end * CELL for end in range(12)]
    warp = draft.yarns[draft.warp[0]].colour
    for end, shaft in enumerate(threading):
        row = (draft.shafts - 1 - shaft) * CELL + 4
        assert (heddles[row, middles[end]] == INKS.mark).all(), "the eye's edge marks the heddle"
    # Below, every two neighbours lie apart.
    top = pixels[draft.shafts * CELL + CELL // 4, middles]
    over = [bool((colour == warp).all()) for colour in top]
    assert over == [end % 2 == 0 for end in range(12)]


@pytest.mark.parametrize("ends", [13, 200, 5_000])
def test_a_wide_warp_fills_the_room_and_stays_within_what_a_small_computer_draws(ends):
    pixels = plain_picture(of(ends), ODD, range(ends), INKS, 780, 300).pixels
    assert max(pixels.shape) <= 2_048
    assert abs(pixels.shape[1] / pixels.shape[0] - 780 / 300) < 0.3


def test_of_ends_finer_than_their_weave_the_colours_are_drawn():
    stripes = tuple(0 if end < 600 else 2 for end in range(1_200))
    pixels = plain_picture(of(1_200, warp=stripes), ODD, range(1_200), INKS, 600, 100).pixels
    yarns = of(1).yarns
    assert np.array_equal(pixels[:, :300].reshape(-1, 3), np.tile(yarns[0].colour, (30_000, 1)))
    assert np.array_equal(pixels[:, 300:].reshape(-1, 3), np.tile(yarns[2].colour, (30_000, 1)))
