"""Floats are those of the cloth between floating selvedges, found there as in a cloth without them."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from companion.draft.facts import floats_of
from companion.draft.floats import Threads
from tests.draft.random_drafts import drafts


@settings(max_examples=25)
@given(drafts(most_threads=8), st.booleans(), st.booleans())
def test_floating_selvedges_add_no_float_and_shift_the_places(draft, before, after):
    threading = tuple(0 if shaft is None else shaft for shaft in draft.threading)
    assume(threading)
    plain = replace(draft, threading=threading)
    edged = replace(
        plain,
        threading=(*[None] * before, *threading, *[None] * after),
        warp=(*draft.warp[:1] * before, *draft.warp, *draft.warp[:1] * after),
        warp_layout=type(draft.warp_layout)(),
        blocks=(),
    )
    for bare, there in zip(floats_of(plain), floats_of(edged), strict=True):
        assert (bare.length, bare.count) == (there.length, there.count)
        moved = [
            (one.thread + before, one.first, one.length)
            if bare.threads is Threads.WARP
            else (one.thread, one.first + before, one.length)
            for one in bare.places
        ]
        assert [(one.thread, one.first, one.length) for one in there.places] == moved
