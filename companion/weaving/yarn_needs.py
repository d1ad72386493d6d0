"""Yarn that a warp takes: the weft of every shuttle of every piece, and the warp itself, in metres and grams."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from companion.draft.laying_in import Weft
from companion.weaving.amounts import PicksAhead, planned_weft_picks, weft_picks_ahead
from companion.weaving.progress import Progress
from companion.weaving.shuttles import weft_per_pick
from companion.weaving.state import Shuttle
from companion.weaving.warp import Piece, Warp
from companion.weaving.yarn import grams

Estimate = tuple[float, float, float]
"""An amount as (least, likely, most)."""


@dataclass(frozen=True, slots=True)
class LaidLengths:
    """So many sticks, rushes or strips to lay in, each `length_cm` long, 0 where nobody told."""

    number: int
    length_cm: float


@dataclass(frozen=True, slots=True)
class WeftNeed:
    """What one shuttle of a piece still needs: picks, metres, and grams where the yarn's size is known.

    Metres and grams are None where the weft per pick is unknown. `laid_in` tells how many of the picks are laid in.
    """

    yarn: int
    name: str
    picks: int
    metres: Estimate | None
    grams: Estimate | None
    laid_in: tuple[LaidLengths, ...] = ()


@dataclass(frozen=True, slots=True)
class YarnTotal:
    """The weft of one name that several pieces take together; None where it is unknown for one of them."""

    name: str
    picks: int
    metres: Estimate | None
    grams: Estimate | None
    laid_in: tuple[LaidLengths, ...] = ()


@dataclass(frozen=True, slots=True)
class WarpYarn:
    """The ends of one name in the warp: how many, and what they take together where that is known."""

    name: str
    ends: int
    metres: float | None
    grams: float | None


def weft_needed(warp: Warp, progress: Progress) -> tuple[WeftNeed, ...]:
    """Return what each shuttle still needs to the end of the piece on the loom, in order of first use.

    Where the piece is planned longer than its treadling, that is for the planned length.
    """
    piece = warp.pieces[progress.now.piece]
    return _needs(warp, piece, weft_picks_ahead(piece, progress.now), dict(enumerate(progress.now.shuttles)))


def weft_to_come(warp: Warp, progress: Progress) -> tuple[tuple[WeftNeed, ...], ...]:
    """Return for every piece what its shuttles still need: nothing for those done, for those ahead as planned.

    What the bobbins woven up have told of a yarn holds for the pieces ahead as well.
    """
    now = progress.now
    ahead = [
        _needs(
            warp,
            piece,
            planned_weft_picks(piece),
            _shuttles_for(piece, warp, progress),
        )
        for piece in warp.pieces[now.piece + 1 :]
    ]
    return (*((),) * now.piece, weft_needed(warp, progress), *ahead)


def weft_planned(warp: Warp, piece_index: int) -> tuple[WeftNeed, ...]:
    """Return what each shuttle of a piece needs in all, by the plan and the width in the reed."""
    piece = warp.pieces[piece_index]
    return _needs(warp, piece, planned_weft_picks(piece), {})


def in_all(needs: Iterable[WeftNeed]) -> tuple[YarnTotal, ...]:
    """Return the needs added up by the yarn's name, in order of first use."""
    totals: dict[str, YarnTotal] = {}
    for need in needs:
        so_far = totals.get(need.name, YarnTotal(need.name, 0, (0.0, 0.0, 0.0), (0.0, 0.0, 0.0)))
        totals[need.name] = YarnTotal(
            need.name,
            so_far.picks + need.picks,
            _together(so_far.metres, need.metres),
            _together(so_far.grams, need.grams),
            _lengths([*so_far.laid_in, *need.laid_in]),
        )
    return tuple(totals.values())


def warp_yarns(warp: Warp, length_cm: float | None) -> tuple[WarpYarn, ...]:
    """Return what the ends of each yarn take for a warp of this length, by the first piece's draft."""
    draft = warp.pieces[0].draft
    sizes = {size.yarn: size.tex for size in warp.sizes}
    rows = []
    for yarn in dict.fromkeys(draft.warp):
        name, ends = draft.yarns[yarn].name, draft.warp.count(yarn)
        metres = None if length_cm is None else ends * length_cm / 100
        rows.append(
            WarpYarn(name, ends, metres, None if metres is None or name not in sizes else grams(metres, sizes[name]))
        )
    return tuple(rows)


def _shuttles_for(piece: Piece, warp: Warp, progress: Progress) -> dict[int, Shuttle]:
    """Return the shuttles on the loom, each under the yarn (index) that a piece has of its name."""
    yarns = warp.pieces[progress.now.piece].draft.yarns
    by_name = {yarn.name: shuttle for yarn, shuttle in zip(yarns, progress.now.shuttles, strict=True)}
    return {index: by_name[yarn.name] for index, yarn in enumerate(piece.draft.yarns) if yarn.name in by_name}


def _needs(warp: Warp, piece: Piece, ahead: PicksAhead, known: Mapping[int, Shuttle]) -> tuple[WeftNeed, ...]:
    sizes = {size.yarn: size.tex for size in warp.sizes}
    needs = []
    for yarn in piece.shuttles:
        name = piece.draft.yarns[yarn].name
        metres: Estimate | None = (0.0, 0.0, 0.0)
        picks, laid_in = 0, []
        for weft, number in ahead.by_weft:
            if weft.yarn == yarn:
                picks += number
                metres = _together(metres, _metres(warp, weft, number, known.get(yarn, Shuttle())))
                laid_in += [LaidLengths(number, weft.length_cm)] if weft.laid_in else []
        if not picks and weft_per_pick(warp, known.get(yarn, Shuttle())) is None:
            metres = None
        tex = sizes.get(name)
        weights = None
        if metres is not None and tex is not None:
            weights = (grams(metres[0], tex), grams(metres[1], tex), grams(metres[2], tex))
        needs.append(WeftNeed(yarn, name, picks, metres, weights, _lengths(laid_in)))
    return tuple(needs)


def _metres(warp: Warp, weft: Weft, picks: int, shuttle: Shuttle) -> Estimate | None:
    """Return what so many picks of a weft take: laid in as long as it was told, else as wide as the reed."""
    if weft.length_cm:
        return (picks * weft.length_cm / 100,) * 3
    each = weft_per_pick(warp, Shuttle() if weft.laid_in else shuttle)
    return None if each is None else (picks * each.least, picks * each.metres, picks * each.most)


def _lengths(laid_in: Iterable[LaidLengths]) -> tuple[LaidLengths, ...]:
    count: Counter[float] = Counter()
    for laid in laid_in:
        count[laid.length_cm] += laid.number
    return tuple(LaidLengths(number, length_cm) for length_cm, number in sorted(count.items()) if number)


def _together(one: Estimate | None, other: Estimate | None) -> Estimate | None:
    if one is None or other is None:
        return None
    return (one[0] + other[0], one[1] + other[1], one[2] + other[2])
