"""A draft made as wide as a cloth: end by end its own threading, read over and over."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.errors import DraftError
from companion.draft.sley import Sley
from companion.draft.threaded_to import threaded_to
from tests.weaving.world import lever_draft


@given(ends=st.integers(1, 40), own=st.integers(1, 12))
def test_end_number_n_is_the_draft_s_end_n_counted_round(ends, own):
    draft = replace(lever_draft([0, 1], ends=own), warp=tuple(end % 2 for end in range(own)))
    wide = threaded_to(draft, ends)
    assert wide.threading == tuple(draft.threading[end % own] for end in range(ends))
    assert wide.warp == tuple(draft.warp[end % own] for end in range(ends))
    assert (wide.lifting, wide.weft) == (draft.lifting, draft.weft)


def test_the_dents_follow_the_ends_and_the_reed_stays():
    draft = replace(lever_draft([0, 1]), sley=Sley((2, 2, 2, 2), 4.0))
    assert threaded_to(draft, 11).sley == Sley((2, 2, 2, 2, 2, 1), 4.0)


@pytest.mark.parametrize("ends", [0, -3, 10**9])
def test_a_width_that_cannot_be_is_refused(ends):
    with pytest.raises(DraftError):
        threaded_to(lever_draft([0, 1]), ends)
