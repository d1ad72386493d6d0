"""Ends on no shaft, told where a warp is counted: the outermost ones are floating selvedges."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.present.dressing_counts_words import no_shaft_words
from tests.weaving.world import lever_draft


@pytest.mark.parametrize(
    ("threading", "words"),
    [
        ((0, 1, 2, 3), ""),
        ((None, 0, 1, None), "2 on no shaft: floating selvedges (ends 1 and 4)"),
        ((None, 0, 1, 2), "1 on no shaft: floating selvedge (end 1)"),
        ((0, 1, 2, None), "1 on no shaft: floating selvedge (end 4)"),
        ((None, 0, None, None), "3 on no shaft, of these 2 floating selvedges (ends 1 and 4)"),
        ((0, None, 1, 2), "1 on no shaft"),
        ((None, None, None, None), "4 on no shaft"),
    ],
)
def test_the_outermost_ends_on_no_shaft_are_floating_selvedges_and_others_are_not(threading, words):
    assert no_shaft_words(replace(lever_draft([], ends=4), threading=threading)) == words
