"""A rectangle of a draft's cloth as a draft of its own, such as the good square of a gamp, repeated to a size.

The rectangle itself is never changed: at `ends` x `picks` the new cloth is its cloth, laid side by side from its first
end and first pick on. What else a cloth wants (mirrored edges, a selvedge, a border, other colours) is asked for.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass, replace

from companion.draft.edits import insert_end, insert_pick
from companion.draft.errors import DraftError
from companion.draft.gamp import Area
from companion.draft.laying_in import laid_in_among, renumbered
from companion.draft.masks import Shed, TreadleSet, bits_of, common, is_raised, treadle_set, union
from companion.draft.model import (
    MOST_THREADS,
    MOST_TREADLES,
    Draft,
    Layout,
    Lifted,
    Section,
    ThreadingBlock,
    Treadled,
    Yarn,
)
from companion.draft.sley import sley_of_ends, widened
from companion.draft.tabby import tabby_sheds

BORDER = "Border"
MOST_AT_EDGE = 500
"""Ends of a selvedge, or picks of a border: more is a slip."""


@dataclass(frozen=True, slots=True)
class Finish:
    """What a square gets to become a cloth: how many ends and picks of it (None: once), and what lies around it.

    `balanced` lets both edges mirror each other where the square allows; `selvedge` ends are added at each side and
    `border` picks of plain weave before and after; `yarns` are to be used instead of those of these names.
    """

    ends: int | None = None
    picks: int | None = None
    balanced: bool = False
    selvedge: int = 0
    border: int = 0
    yarns: Mapping[str, Yarn] | None = None


def square_of(draft: Draft, area: Area, finish: Finish | None = None) -> Draft:
    """Return the area as a draft of its own; raises DraftError for an area or a size that cannot be."""
    finish = finish or Finish()
    _check(draft, area, finish)
    ends = _order(_ends_of(draft), area.first_end, area.ends, finish.ends, finish.balanced)
    picks = _order(_picks_of(draft), area.first_pick, area.picks, finish.picks, finish.balanced)
    name = area.name or f"ends {area.first_end + 1} to {area.last_end}, picks {area.first_pick + 1} to {area.last_pick}"
    threading = tuple(draft.threading[end] for end in ends)
    square = Draft(
        shafts=draft.shafts,
        threading=threading,
        lifting=_lifting(draft, threading, picks),
        yarns=draft.yarns,
        warp=tuple(draft.warp[end] for end in ends),
        weft=tuple(draft.weft[pick] for pick in picks),
        rising=draft.rising,
        sections=(Section(name, len(picks), laid_in=laid_in_among(draft, frozenset(picks))),),
        title=f"{draft.title}: {name}" if draft.title else name,
        author=draft.author,
        notes=(_origin(draft, area, name, len(ends), len(picks)),),
        warp_layout=_laid(draft.warp_layout, ends),
        weft_layout=_laid(draft.weft_layout, picks),
        blocks=(ThreadingBlock(name, len(ends)),),
        sley=sley_of_ends(draft.sley, ends),
    )
    if finish.selvedge:
        square = with_selvedges(square, finish.selvedge)
    if finish.border:
        square = with_borders(square, finish.border)
    return _used_yarns(recoloured(square, finish.yarns or {}))


def period(threads: Sequence[Hashable]) -> int:
    """Return the length of the shortest stretch that these threads are whole repeats of: 2 for `1 2 1 2`."""
    whole = len(threads)
    return next(
        length
        for length in range(1, whole + 1)
        if whole % length == 0 and all(threads[at] == threads[at % length] for at in range(whole))
    )


def with_selvedges(draft: Draft, ends: int) -> Draft:
    """Return the draft with so many ends more at each side, threaded by turns on two shafts of opposite tabby sheds.

    Of all such pairs the one is taken that leaves the shortest longest float along these ends, and of equal ones the
    first; where the threading has no plain weave, of all pairs of shafts. Raises DraftError for no pair.
    """
    pair = _selvedge_shafts(draft)
    for at_left in (True, False):
        for _ in range(ends):
            edge = 0 if at_left else -1
            draft = insert_end(
                draft,
                0 if at_left else draft.ends,
                _across_from(draft, draft.threading[edge], pair),
                draft.warp[edge],
            )
    return replace(draft, sley=widened(draft.sley, ends))


def with_borders(draft: Draft, picks: int) -> Draft:
    """Return the draft with so many picks of plain weave before and after it; raises DraftError where it has none.

    The border goes over into the cloth without two picks in one shed.
    """
    sheds = tabby_sheds(draft.threading)
    if sheds is None:
        raise DraftError("this threading weaves no plain weave for a border", mend="leave the border out")
    woven, threaded = draft.sheds(), union(sheds)
    draft, moves = _with_moves(draft, sheds)
    opened = sheds if draft.rising else sheds[::-1]
    bare = replace(draft, sections=())
    for beside, yarn, before in ((woven[0], draft.weft[0], True), (woven[-1], draft.weft[-1], False)):
        turn = int(common(beside, threaded) == opened[0])
        for pick in range(picks):
            bare = insert_pick(bare, 0 if before else bare.picks, moves[(turn + pick) % 2], yarn, 0 if before else None)
    return replace(bare, sections=(Section(BORDER, picks), *draft.sections, Section(BORDER, picks)))


def recoloured(draft: Draft, yarns: Mapping[str, Yarn]) -> Draft:
    """Return the draft with other yarns in place of those of these names; raises DraftError for a name it has not."""
    there = {yarn.name for yarn in draft.yarns}
    for name in yarns:
        if name not in there:
            raise DraftError(f"there is no yarn {name!r:.40}", mend=f"the yarns are {', '.join(sorted(there))}")
    return replace(draft, yarns=tuple(yarns.get(yarn.name, yarn) for yarn in draft.yarns))


def _check(draft: Draft, area: Area, finish: Finish) -> None:
    for what, first, last, there in (
        ("ends", area.first_end, area.last_end, draft.ends),
        ("picks", area.first_pick, area.last_pick, draft.picks),
    ):
        if not 0 <= first < last <= there:
            raise DraftError(
                f"{what} {first + 1} to {last} are no stretch", mend=f"choose some of the {there} there are"
            )
    for what, wanted in (("ends", finish.ends), ("picks", finish.picks)):
        if wanted is not None and not 1 <= wanted <= MOST_THREADS:
            raise DraftError(f"{wanted:,} {what}", mend=f"give 1 to {MOST_THREADS:,}")
    for what, number in (("ends of a selvedge", finish.selvedge), ("picks of a border", finish.border)):
        if not 0 <= number <= MOST_AT_EDGE:
            raise DraftError(f"{number:,} {what}", mend=f"give 0 to {MOST_AT_EDGE}")


def _ends_of(draft: Draft) -> Callable[[int], Hashable]:
    layout = draft.warp_layout
    return lambda end: (draft.threading[end], draft.warp[end], *_sizes(layout, end))


def _picks_of(draft: Draft) -> Callable[[int], Hashable]:
    sheds, layout = draft.sheds(), draft.weft_layout
    return lambda pick: (sheds[pick], draft.weft[pick], *_sizes(layout, pick))


def _sizes(layout: Layout, thread: int) -> tuple[float, ...]:
    return tuple(sizes[thread] for sizes in (layout.spacing_cm, layout.thickness_cm) if sizes)


def _order(
    thread_at: Callable[[int], Hashable], first: int, there: int, wanted: int | None, balanced: bool
) -> tuple[int, ...]:
    """Return the threads (indices) of the old draft that follow each other in the new one."""
    begin, number = 0, wanted or there
    if balanced:
        begin, number = _balanced([thread_at(first + thread) for thread in range(there)], number)
    return tuple(first + (begin + thread) % there for thread in range(number))


def _balanced(threads: Sequence[Hashable], number: int) -> tuple[int, int]:
    """Return where to begin and how many threads to take, so that the repeated threads mirror about their middle.

    One thread more is taken where no axis falls into the middle of so many; threads without an axis are taken in whole
    repeats, at least one.
    """
    repeat = period(threads)
    one = threads[:repeat]
    axes = [
        axis for axis in range(repeat) if all(one[(axis - thread) % repeat] == one[thread] for thread in range(repeat))
    ]
    for many in (number, number + 1):
        for begin in range(repeat):
            if (2 * begin + many - 1) % repeat in axes:
                return begin, many
    return 0, max(repeat, number - number % repeat)


def _lifting(draft: Draft, threading: Sequence[int | None], picks: Sequence[int]) -> Treadled | Lifted:
    """Return how the picks are lifted, without treadles that nobody presses; two that weave plain weave stay."""
    if isinstance(draft.lifting, Lifted):
        return Lifted(tuple(draft.lifting.plan[pick] for pick in picks))
    pressed = [draft.lifting.treadling[pick] for pick in picks]
    kept = {treadle for moved in pressed for treadle in bits_of(moved)}
    kept.update(_tabby_treadles(draft.lifting.tieup, threading))
    order = sorted(kept)
    new = {treadle: number for number, treadle in enumerate(order, 1)}
    return Treadled(
        tuple(draft.lifting.tieup[treadle] for treadle in order),
        tuple(treadle_set(new[treadle] for treadle in bits_of(moved)) for moved in pressed),
    )


def _tabby_treadles(tieup: Sequence[Shed], threading: Sequence[int | None]) -> tuple[int, ...]:
    """Return the two treadles (indices) that weave plain weave on this threading, none where there are not both."""
    sheds = tabby_sheds(threading)
    if sheds is None:
        return ()
    ties = [common(tie, union(sheds)) for tie in tieup]
    return tuple(map(ties.index, sheds)) if all(shed in ties for shed in sheds) else ()


def _with_moves(draft: Draft, sheds: tuple[Shed, Shed]) -> tuple[Draft, tuple[Shed | TreadleSet, Shed | TreadleSet]]:
    """Return the draft with what moves for each of two sheds; treadles are added where it has none for them."""
    if isinstance(draft.lifting, Lifted):
        return draft, sheds
    treadles = _tabby_treadles(draft.lifting.tieup, draft.threading)
    if not treadles:
        if draft.treadles + 2 > MOST_TREADLES:
            raise DraftError("no treadle is free for the border's plain weave", mend="leave the border out")
        treadles = (draft.treadles, draft.treadles + 1)
        draft = replace(draft, lifting=replace(draft.lifting, tieup=(*draft.lifting.tieup, *sheds)))
    return draft, (treadle_set([treadles[0] + 1]), treadle_set([treadles[1] + 1]))


def _selvedge_shafts(draft: Draft) -> tuple[int, int]:
    shafts = sorted({shaft for shaft in draft.threading if shaft is not None})
    sheds = tabby_sheds(draft.threading)
    pairs = [
        (one, other)
        for one in shafts
        for other in shafts
        if one < other and (sheds is None or is_raised(sheds[0], one) != is_raised(sheds[0], other))
    ]
    if not pairs:
        raise DraftError("a selvedge needs two shafts", mend="leave the selvedge out")
    woven = draft.sheds()
    longest = {shaft: _longest_run([is_raised(shed, shaft) for shed in woven]) for shaft in shafts}
    return min(pairs, key=lambda pair: (max(longest[pair[0]], longest[pair[1]]), pair))


def _across_from(draft: Draft, beside: int | None, pair: tuple[int, int]) -> int:
    """Return the shaft of the pair that lies opposite to the end beside it in plain weave, or is just the other."""
    sheds = tabby_sheds(draft.threading)
    if sheds is not None and beside is not None:
        return next(shaft for shaft in pair if is_raised(sheds[0], shaft) != is_raised(sheds[0], beside))
    return pair[1] if beside == pair[0] else pair[0]


def _longest_run(ups: Sequence[bool]) -> int:
    longest = run = 0
    for at, up in enumerate(ups):
        run = run + 1 if at and up == ups[at - 1] else 1
        longest = max(longest, run)
    return longest


def _laid(layout: Layout, order: Sequence[int]) -> Layout:
    return Layout(
        tuple(layout.spacing_cm[thread] for thread in order) if layout.spacing_cm else (),
        tuple(layout.thickness_cm[thread] for thread in order) if layout.thickness_cm else (),
    )


def _used_yarns(draft: Draft) -> Draft:
    used = sorted({*draft.warp, *draft.weft})
    new = {yarn: number for number, yarn in enumerate(used)}
    return replace(
        draft,
        yarns=tuple(draft.yarns[yarn] for yarn in used),
        warp=tuple(new[yarn] for yarn in draft.warp),
        weft=tuple(new[yarn] for yarn in draft.weft),
        sections=tuple(renumbered(section, new) for section in draft.sections),
    )


def _origin(draft: Draft, area: Area, name: str, ends: int, picks: int) -> str:
    whole = f"{draft.title!r}" if draft.title else "a draft without a title"
    where = f"ends {area.first_end + 1} to {area.last_end}, picks {area.first_pick + 1} to {area.last_pick}"
    called = f"{name} ({where})" if area.name else where
    size = "once" if (ends, picks) == (area.ends, area.picks) else f"repeated to {ends} ends and {picks} picks"
    return f"A square of {whole}: {called}, {size}."
