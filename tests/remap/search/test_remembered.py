"""What is kept of long searches: the newest few, each under its own key."""

from __future__ import annotations

from companion.remap.search.remembered import LastFew


def test_the_newest_few_are_kept_each_under_its_key():
    few = LastFew[str, int](2)
    few.keep("one", 1)
    few.keep("two", 2)
    few.keep("one", 11)
    few.keep("three", 3)
    assert [few.get(key) for key in ("one", "two", "three")] == [11, None, 3]
