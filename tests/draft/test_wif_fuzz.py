"""Whatever the bytes, the reader gives a draft or a DraftError: no other exception, and no endless work."""

from __future__ import annotations

import time
import tracemalloc
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.errors import DraftError
from companion.draft.wif_read import read_wif
from companion.draft.wif_write import write_wif
from tests.draft.random_drafts import drafts, words
from tests.draft.wif_mutations import HOSTILE_LINES, mutated


def attempt(data):
    """The draft, or the one line of the refusal."""
    try:
        return read_wif(data).draft
    except DraftError as error:
        refusal = str(error)
    assert "\n" not in refusal
    assert len(refusal) < 400
    return None


@given(st.binary(max_size=200))
def test_any_bytes(data):
    attempt(data)


@given(st.lists(st.sampled_from(HOSTILE_LINES), max_size=20))
def test_any_order_of_hostile_lines(lines):
    attempt("\n".join(["[WIF]", *lines]).encode())


@given(drafts(most_threads=6, texts=words), st.integers(0, 2**32))
def test_a_damaged_file_that_is_still_read_can_be_written_and_read_again(draft, seed):
    read = attempt(mutated(write_wif(draft), Random(seed)))
    if read is not None:
        assert read_wif(write_wif(read)).draft == read


@pytest.mark.parametrize(
    "data",
    [
        pytest.param(b"[THREADING]\n1=" + b"9" * 1_000_000, id="one number of a million digits"),
        pytest.param(b"[THREADING]\n1=" + b"0," * 200_000, id="a list of 200,000 zeros"),
        pytest.param(b"[THREADING]\n" + b"1=1\n" * 50_000, id="one line 50,000 times"),
        pytest.param(b"[" * 1_000_000, id="a million brackets"),
        pytest.param(b"[X]\n" * 50_000, id="50,000 sections"),
        pytest.param(b"\0" * 1_000_000, id="a million NULs"),
        pytest.param(b"\n" * 1_000_000, id="a million line ends"),
        pytest.param(b"[WARP]\nThreads=99999\n[WEFT]\nThreads=99999\n[THREADING]\n[LIFTPLAN]\n1=1", id="large counts"),
    ],
)
def test_a_hostile_file_costs_no_more_than_its_size(data):
    """Within 10 s on a busy machine: what is guarded against would take hours."""
    began = time.process_time()
    attempt(data)
    assert time.process_time() - began < 10


def test_large_counts_do_not_fill_the_memory():
    tracemalloc.start()
    attempt(b"[WARP]\nThreads=29999\n[WEFT]\nThreads=29999\n[THREADING]\n1=1\n[LIFTPLAN]\n1=1")
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 40_000_000
