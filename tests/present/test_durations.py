"""Durations are rounded in one place and to the nearest: screen, page and document tell of one length of time."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.present.durations import (
    MINUTE_MS,
    duration_words,
    short_duration_words,
    tenths_of_minutes,
    whole_minutes,
)


@pytest.mark.parametrize(
    ("milliseconds", "page", "screen", "document"),
    [
        (0, "0 s", "", 0.0),
        (29_999, "30 s", "", 0.5),
        (30_000, "30 s", "1 min", 0.5),
        (59_999, "1 min", "1 min", 1.0),
        (61_000, "1 min", "1 min", 1.0),
        # A threading of 119 s was "1 min" on the screen and 2.0 in the document.
        (119_000, "2 min", "2 min", 2.0),
        (3_599_000, "1 h 00 min", "60 min", 60.0),
        (3_600_000 * 26 + 300_000, "26 h 05 min", "26.1 h", 1565.0),
    ],
)
def test_durations_in_words_and_numbers(milliseconds, page, screen, document):
    assert duration_words(milliseconds) == page
    assert short_duration_words(milliseconds) == screen
    assert tenths_of_minutes(milliseconds) == document


@given(st.integers(0, 10_000_000))
def test_nothing_is_told_further_off_than_half_of_its_last_place(milliseconds):
    assert abs(whole_minutes(milliseconds) * MINUTE_MS - milliseconds) <= MINUTE_MS / 2
    assert abs(tenths_of_minutes(milliseconds) * MINUTE_MS - milliseconds) <= MINUTE_MS / 20 + 1e-6
