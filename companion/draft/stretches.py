"""What a person does to a stretch of ends or of picks: edits of `edits`, for whichever way the threads run."""

from __future__ import annotations

from dataclasses import dataclass

from companion.draft import edits
from companion.draft.floats import Threads
from companion.draft.masks import NO_TREADLE
from companion.draft.model import Draft


@dataclass(frozen=True, slots=True)
class Stretch:
    """Ends or picks next to each other: `Stretch(Threads.WEFT, 4, 8)` is picks 5 to 8."""

    threads: Threads
    first: int
    last: int

    @property
    def number(self) -> int:
        """How many threads there are in it."""
        return self.last - self.first


def between(threads: Threads, one: int, other: int) -> Stretch:
    """Return the stretch from one thread to another, both in it, whichever comes first."""
    return Stretch(threads, min(one, other), max(one, other) + 1)


def number_of(threads: Threads, draft: Draft) -> int:
    """Return how many such threads the draft has."""
    return draft.ends if threads is Threads.WARP else draft.picks


def repeated(draft: Draft, stretch: Stretch, times: int) -> Draft:
    """Return the draft with the stretch `times` times, one behind the other; raises DraftError."""
    edit = edits.repeat_ends if stretch.threads is Threads.WARP else edits.repeat_picks
    return edit(draft, stretch.first, stretch.last, times)


def turned(draft: Draft, stretch: Stretch) -> Draft:
    """Return the draft with the stretch in reverse order; raises DraftError."""
    edit = edits.reverse_ends if stretch.threads is Threads.WARP else edits.reverse_picks
    return edit(draft, stretch.first, stretch.last)


def taken_out(draft: Draft, stretch: Stretch) -> Draft:
    """Return the draft without the stretch; raises DraftError."""
    edit = edits.delete_ends if stretch.threads is Threads.WARP else edits.delete_picks
    return edit(draft, stretch.first, stretch.last)


def copied(draft: Draft, stretch: Stretch, before: int) -> Draft:
    """Return the draft with the stretch once more before thread `before`, or behind the last; raises DraftError."""
    edit = edits.copy_ends if stretch.threads is Threads.WARP else edits.copy_picks
    return edit(draft, stretch.first, stretch.last, before)


def of_yarn(draft: Draft, stretch: Stretch, yarn: int) -> Draft:
    """Return the draft with the stretch of one yarn (index); raises DraftError."""
    edit = edits.set_warps if stretch.threads is Threads.WARP else edits.set_wefts
    return edit(draft, stretch.first, stretch.last, yarn)


def with_empty(draft: Draft, threads: Threads, at: int, like: int) -> Draft:
    """Return the draft with an end on no shaft, or a pick that moves none, before thread `at` or behind the last.

    It is of the yarn of thread `like`, and a pick is in that one's section; raises DraftError.
    """
    if threads is Threads.WARP:
        return edits.insert_end(draft, at, None, draft.warp[like])
    return edits.insert_pick(draft, at, NO_TREADLE, draft.weft[like], like)
