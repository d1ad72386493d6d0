"""Pages hold everything once, in order, and turn round at both ends."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from companion.present.paging import page_of


@given(st.integers(0, 40), st.integers(1, 9))
def test_the_pages_together_are_the_list(count, most):
    things = range(count)
    first = page_of(things, 0, most)
    pages = [page_of(things, number, most) for number in range(first.of)]
    assert [one for page in pages for one in page.shown] == list(things)
    assert all(len(page.shown) <= most for page in pages)
    assert page_of(things, first.of, most) == first
    assert page_of(things, -1, most) == pages[-1]


def test_one_page_needs_no_words():
    assert page_of("abc", 0, 3).words == ""
    assert page_of("abcd", 1, 3).words == "page 2 of 2"
