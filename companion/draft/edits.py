"""What a person does to a draft by touch, each a pure function from draft to draft, and the history to undo them.

Indices count from 0; a stretch is given by its first thread and the one after its last. Sections, colours and sizes of
threads follow the picks and ends that they belong to. All functions raise DraftError where there is no such thread.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from companion.draft.errors import DraftError
from companion.draft.masks import Shed, TreadleSet, with_shaft
from companion.draft.model import MOST_THREADS, Draft, Layout, Lifted, Section, ThreadingBlock, Treadled
from companion.draft.named_stretches import counts_cut, counts_grown

MOST_STEPS = 500
"""How many edits can be undone; the oldest are forgotten first."""

_Thread = TypeVar("_Thread")


def set_thread(draft: Draft, end: int, shaft: int | None) -> Draft:
    """Return the draft with one end on another shaft (index), or on none."""
    _check_thread(end, draft.ends, "end")
    return replace(draft, threading=_with(draft.threading, end, shaft))


def set_warp(draft: Draft, end: int, yarn: int) -> Draft:
    """Return the draft with one end of another yarn (index)."""
    _check_thread(end, draft.ends, "end")
    return replace(draft, warp=_with(draft.warp, end, yarn))


def set_weft(draft: Draft, pick: int, yarn: int) -> Draft:
    """Return the draft with one pick thrown by another shuttle (index of its yarn)."""
    _check_thread(pick, draft.picks, "pick")
    return replace(draft, weft=_with(draft.weft, pick, yarn))


def set_tie(draft: Draft, treadle: int, shaft: int, tied: bool) -> Draft:
    """Return the draft with one shaft tied to a treadle (both indices), or untied from it."""
    if not isinstance(draft.lifting, Treadled):
        raise DraftError("a lift plan has no tie-up", mend="change the picks instead")
    _check_thread(treadle, draft.treadles, "treadle")
    _check_thread(shaft, draft.shafts, "shaft")
    tie = with_shaft(draft.lifting.tieup[treadle], shaft, tied)
    return replace(draft, lifting=replace(draft.lifting, tieup=_with(draft.lifting.tieup, treadle, tie)))


def set_treadles(draft: Draft, pick: int, pressed: TreadleSet) -> Draft:
    """Return the draft with other treadles pressed at one pick."""
    if not isinstance(draft.lifting, Treadled):
        raise DraftError("a lift plan has no treadles", mend="set the shafts that are lifted")
    _check_thread(pick, draft.picks, "pick")
    return replace(draft, lifting=replace(draft.lifting, treadling=_with(draft.lifting.treadling, pick, pressed)))


def set_lift(draft: Draft, pick: int, lifted: Shed) -> Draft:
    """Return the draft with other shafts moved at one pick of its lift plan."""
    if not isinstance(draft.lifting, Lifted):
        raise DraftError("a draft with a tie-up has no lift plan", mend="set the treadles that are pressed")
    _check_thread(pick, draft.picks, "pick")
    return replace(draft, lifting=Lifted(_with(draft.lifting.plan, pick, lifted)))


def insert_pick(draft: Draft, at: int, moved: TreadleSet | Shed, yarn: int, like: int | None = None) -> Draft:
    """Return the draft with a pick put in before pick `at`, or behind the last.

    `moved` are treadles or, for a lift plan, shafts. It belongs to the section of pick `like`, and is as thick and as
    far apart as that one, which is the pick before it where none is named.
    """
    _check_thread(at, draft.picks + 1, "pick")
    _check_length(draft.picks + 1, "picks")
    if draft.picks == 0:
        one: Treadled | Lifted
        if isinstance(draft.lifting, Treadled):
            one = replace(draft.lifting, treadling=(TreadleSet(moved),))
        else:
            one = Lifted((Shed(moved),))
        return replace(draft, lifting=one, weft=(yarn,), sections=_grown(draft.sections, 0, 1))
    model = max(at - 1, 0) if like is None else like
    _check_thread(model, draft.picks, "pick")
    grown = _picks_put_in(draft, at, [model], model)
    grown = set_weft(grown, at, yarn)
    if isinstance(grown.lifting, Treadled):
        return set_treadles(grown, at, TreadleSet(moved))
    return set_lift(grown, at, Shed(moved))


def delete_picks(draft: Draft, first: int, last: int) -> Draft:
    """Return the draft without a stretch of picks; a section that loses all its picks goes with them."""
    _check_stretch(first, last, draft.picks, "pick")
    order = [*range(first), *range(last, draft.picks)]
    return _picks_in_order(draft, order, _cut(draft.sections, first, last))


def reverse_picks(draft: Draft, first: int, last: int) -> Draft:
    """Return the draft with a stretch of picks in reverse order; sections keep their lengths."""
    _check_stretch(first, last, draft.picks, "pick")
    order = [*range(first), *range(last - 1, first - 1, -1), *range(last, draft.picks)]
    return _picks_in_order(draft, order, draft.sections)


def repeat_picks(draft: Draft, first: int, last: int, times: int) -> Draft:
    """Return the draft with a stretch of picks woven `times` times (1 is as it was); its last section grows."""
    _check_stretch(first, last, draft.picks, "pick")
    _check_repeats(last - first, times, draft.picks, "picks")
    return _picks_put_in(draft, last, list(range(first, last)) * (times - 1), last - 1)


def copy_picks(draft: Draft, first: int, last: int, before: int) -> Draft:
    """Return the draft with a stretch of picks woven once more before pick `before`, or behind the last.

    The copy belongs to the section of the pick that it stands before.
    """
    _check_stretch(first, last, draft.picks, "pick")
    _check_thread(before, draft.picks + 1, "pick")
    _check_length(draft.picks + last - first, "picks")
    return _picks_put_in(draft, before, range(first, last), min(before, draft.picks - 1))


def set_wefts(draft: Draft, first: int, last: int, yarn: int) -> Draft:
    """Return the draft with a stretch of picks thrown by one shuttle (index of its yarn)."""
    _check_stretch(first, last, draft.picks, "pick")
    return replace(draft, weft=(*draft.weft[:first], *[yarn] * (last - first), *draft.weft[last:]))


def insert_end(draft: Draft, at: int, shaft: int | None, yarn: int) -> Draft:
    """Return the draft with an end put in before end `at`, or behind the last, as thick as the end before it."""
    _check_thread(at, draft.ends + 1, "end")
    _check_length(draft.ends + 1, "ends")
    if draft.ends == 0:
        return replace(draft, threading=(shaft,), warp=(yarn,), blocks=_wider(draft.blocks, 0, 1))
    grown = _ends_put_in(draft, at, [max(at - 1, 0)], max(at - 1, 0))
    return set_warp(set_thread(grown, at, shaft), at, yarn)


def delete_ends(draft: Draft, first: int, last: int) -> Draft:
    """Return the draft without a stretch of ends."""
    _check_stretch(first, last, draft.ends, "end")
    counts = counts_cut([block.ends for block in draft.blocks], first, last)
    blocks = tuple(
        replace(block, ends=ends) for block, ends in zip(draft.blocks, counts, strict=True) if ends or not block.ends
    )
    return _ends_in_order(draft, [*range(first), *range(last, draft.ends)], blocks)


def reverse_ends(draft: Draft, first: int, last: int) -> Draft:
    """Return the draft with a stretch of ends in reverse order."""
    _check_stretch(first, last, draft.ends, "end")
    order = [*range(first), *range(last - 1, first - 1, -1), *range(last, draft.ends)]
    return _ends_in_order(draft, order, draft.blocks)


def repeat_ends(draft: Draft, first: int, last: int, times: int) -> Draft:
    """Return the draft with a stretch of ends threaded `times` times; 1 is as it was."""
    _check_stretch(first, last, draft.ends, "end")
    _check_repeats(last - first, times, draft.ends, "ends")
    return _ends_put_in(draft, last, list(range(first, last)) * (times - 1), last - 1)


def copy_ends(draft: Draft, first: int, last: int, before: int) -> Draft:
    """Return the draft with a stretch of ends threaded once more before end `before`, or behind the last."""
    _check_stretch(first, last, draft.ends, "end")
    _check_thread(before, draft.ends + 1, "end")
    _check_length(draft.ends + last - first, "ends")
    return _ends_put_in(draft, before, range(first, last), min(before, draft.ends - 1))


def set_warps(draft: Draft, first: int, last: int, yarn: int) -> Draft:
    """Return the draft with a stretch of ends of one yarn (index)."""
    _check_stretch(first, last, draft.ends, "end")
    return replace(draft, warp=(*draft.warp[:first], *[yarn] * (last - first), *draft.warp[last:]))


@dataclass(frozen=True, slots=True)
class EditHistory:
    """A draft under edit: what it is, what it was before each edit, and what undoing took back."""

    now: Draft
    past: tuple[Draft, ...] = ()
    future: tuple[Draft, ...] = ()

    def edited(self, draft: Draft) -> EditHistory:
        """Return the history with one edit more; what was undone before can then no longer be redone."""
        if draft == self.now:
            return self
        return EditHistory(draft, (*self.past, self.now)[-MOST_STEPS:])

    def undo(self) -> EditHistory:
        """Return the history with the last edit taken back; as it is when there is none."""
        if not self.past:
            return self
        return EditHistory(self.past[-1], self.past[:-1], (*self.future, self.now))

    def redo(self) -> EditHistory:
        """Return the history with the edit that was taken back last made again; as it is when there is none."""
        if not self.future:
            return self
        return EditHistory(self.future[-1], (*self.past, self.now), self.future[:-1])


def _picks_in_order(draft: Draft, order: Sequence[int], sections: tuple[Section, ...]) -> Draft:
    lifting: Treadled | Lifted
    if isinstance(draft.lifting, Treadled):
        lifting = replace(draft.lifting, treadling=_ordered(draft.lifting.treadling, order))
    else:
        lifting = Lifted(_ordered(draft.lifting.plan, order))
    return replace(
        draft,
        lifting=lifting,
        weft=_ordered(draft.weft, order),
        weft_layout=_layout_in_order(draft.weft_layout, order),
        sections=sections,
    )


def _picks_put_in(draft: Draft, at: int, picks: Sequence[int], like: int) -> Draft:
    """Return the draft with copies of these picks put in before pick `at`, into the section of pick `like`."""
    order = [*range(at), *picks, *range(at, draft.picks)]
    return _picks_in_order(draft, order, _grown(draft.sections, like, len(picks)))


def _ends_put_in(draft: Draft, at: int, ends: Sequence[int], like: int) -> Draft:
    """Return the draft with copies of these ends put in before end `at`, into the block of end `like`."""
    order = [*range(at), *ends, *range(at, draft.ends)]
    return _ends_in_order(draft, order, _wider(draft.blocks, like, len(ends)))


def _ends_in_order(draft: Draft, order: Sequence[int], blocks: tuple[ThreadingBlock, ...]) -> Draft:
    return replace(
        draft,
        threading=_ordered(draft.threading, order),
        warp=_ordered(draft.warp, order),
        warp_layout=_layout_in_order(draft.warp_layout, order),
        blocks=blocks,
    )


def _layout_in_order(layout: Layout, order: Sequence[int]) -> Layout:
    return Layout(
        spacing_cm=_ordered(layout.spacing_cm, order) if layout.spacing_cm else (),
        thickness_cm=_ordered(layout.thickness_cm, order) if layout.thickness_cm else (),
    )


def _ordered(threads: tuple[_Thread, ...], order: Sequence[int]) -> tuple[_Thread, ...]:
    return tuple(threads[thread] for thread in order)


def _with(threads: tuple[_Thread, ...], at: int, value: _Thread) -> tuple[_Thread, ...]:
    return (*threads[:at], value, *threads[at + 1 :])


def _grown(sections: tuple[Section, ...], pick: int, more: int) -> tuple[Section, ...]:
    counts = counts_grown([section.picks for section in sections], pick, more)
    return tuple(replace(section, picks=picks) for section, picks in zip(sections, counts, strict=True))


def _wider(blocks: tuple[ThreadingBlock, ...], end: int, more: int) -> tuple[ThreadingBlock, ...]:
    counts = counts_grown([block.ends for block in blocks], end, more)
    return tuple(replace(block, ends=ends) for block, ends in zip(blocks, counts, strict=True))


def _cut(sections: tuple[Section, ...], first: int, last: int) -> tuple[Section, ...]:
    counts = counts_cut([section.picks for section in sections], first, last)
    return tuple(
        replace(section, picks=picks)
        for section, picks in zip(sections, counts, strict=True)
        if picks or not section.picks
    )


def _check_repeats(length: int, times: int, threads: int, what: str) -> None:
    if times < 1:
        raise DraftError(f"{times} times", mend="repeat a stretch at least once, or delete it")
    _check_length(threads + length * (times - 1), what)


def _check_length(threads: int, what: str) -> None:
    if threads > MOST_THREADS:
        raise DraftError(f"{threads:,} {what}", mend=f"at most {MOST_THREADS:,} are woven")


def _check_thread(index: int, count: int, what: str) -> None:
    if not 0 <= index < count:
        raise DraftError(f"there is no {what} {index + 1}", mend=f"there are {count}")


def _check_stretch(first: int, last: int, count: int, what: str) -> None:
    if not 0 <= first < last <= count:
        raise DraftError(f"{what}s {first + 1} to {last} are no stretch", mend=f"choose some of the {count} there are")
