"""Which question next, at the loom: the one that saves most for what it costs a tired weaver. Pure.

What a question saves is counted in bits: how much surer the place is after its answer, on average, where each place is
as likely as `likelihood` says. What it costs is the touches that it takes and how hard it is to see or to count; these
costs stand in `COSTS`, once, and are our own choice (no source). Rows further down cost more, and a row that cannot be
counted off at the draft's floats is never asked for. Where few places are left, showing them costs less than asking on.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator

import numpy as np
from numpy.typing import NDArray

from companion.weaving.clues import Clues
from companion.weaving.finder import Evidence, SeenRow, alike_in, rows_to_be_sure
from companion.weaving.pick_table import PickTable
from companion.weaving.pointing import AS_FAR_AS, FEWEST_PICKS, MOST_PICKS, error_picks
from companion.weaving.questions import NOTHING_KNOWN, About, Ask, PlaceQuestion, Split, count_of, splits
from companion.weaving.sides import sides_at

SHOWN_AT_ONCE = 3
"""Never more pictures than this stand side by side."""
ON_A_PAGE = 9
"""So many answers in words stand on a page."""
MOST_REPEATS_TOUCHED = 18
"""So many repeats are offered to touch; of more the number is typed."""
MOST_SECTIONS = 18
"""So many sections are offered to touch."""
COSTS = {
    Ask.ROW: 0.3,
    Ask.WEFT: 0.1,
    Ask.SECTION: 0.2,
    Ask.SINCE_CHANGE: 0.3,
    Ask.SIDE: 0.5,
    Ask.POINT: 0.8,
    Ask.REPEAT: 0.8,
    Ask.LENGTH: 1.5,
    Ask.END: 1.5,
}
"""How hard each question is to answer, beside its touches: to touch once more is 1."""
MOST_UNSURE = 2
"""Who was not sure so often of a weft, an end, a side is asked for none any more: the next one is as hard to see."""
EACH_ROW_DOWN = 0.6
"""What every row further down costs more."""
EACH_PICK_COUNTED, EACH_REPEAT_COUNTED = 0.1, 0.05
"""What every pick costs more that may have to be counted since the shuttle changed, and every repeat of a section."""
MEASURED = (Ask.LENGTH, Ask.POINT)
"""What has no few answers: each keeps the places near it."""
BITS_A_TOUCH = 1.6
"""So much a touch tells on average where more is asked."""
LENGTH_ERROR = 0.04
"""A tape on cloth under tension is right within this share of the length, and within a centimetre (our own choice)."""
HOW_FAR_OFF = ((0.60, 2.0), (0.25, 20.0))
"""How weavers who ask for their place have lost it, as shares with picks from the journal's place: a press forgotten or
one too many, and picks woven on or taken out while the program stood elsewhere. The rest may be anywhere. Our own
choice, no source."""

STEPS, OVERLOOKED = 3, 0.15
"""Beside the picture of one place so many picks further or back are one touch. Beside the first picture, that of the
journal's place, this share of those weavers overlooks it, and asks on."""
ROWS_COMPARED = 16
"""So many rows of such a picture are compared with the cloth."""
MOST_COMPARED = 64
"""Of more places than this another question is asked before any is shown: comparing them would hold up the page."""
MISTAKEN = 6.0
"""What it costs, in touches, to show places side by side that look alike in these rows, section and repeat too."""


def likelihood(
    table: PickTable, found: NDArray[np.int64], leaning: NDArray[np.float64] | None = None
) -> NDArray[np.float64]:
    """Return how likely each of these places (indices, int64) is the fell, as shares of 1; alike without a journal.

    `leaning` (places of the table, float64) is what else speaks for each place.
    """
    likely = np.full(len(found), 1.0)
    if table.lying.away is not None:
        away = table.lying.away[found]
        likely *= (1 - sum(share for share, _ in HOW_FAR_OFF)) / table.picks
        for share, picks in HOW_FAR_OFF:
            likely += share / (2 * picks) * np.exp(-away / picks)
        likely[away <= STEPS] *= OVERLOOKED
    if leaning is not None:
        likely *= leaning[found]
    return np.asarray(likely / max(likely.sum(), 1e-300), dtype=np.float64)


def easiest_question(
    table: PickTable,
    clues: Clues,
    found: NDArray[np.int64],
    known: Evidence = NOTHING_KNOWN,
    unsure: Collection[About] = (),
    however_few: bool = False,
    leaning: NDArray[np.float64] | None = None,
) -> PlaceQuestion | None:
    """Return the question about these places (indices, int64) with most bits per cost.

    `leaning` (places of the table, float64) is what else speaks for each place, as `pointing.nearness` has it.

    None where none tells any apart or, unless `however_few`, where showing the places takes no more touches than asking
    and showing. What is `known` is not asked again, nor is what the weaver was `unsure` of.
    """
    likely = likelihood(table, found, leaning)
    times_unsure = Counter(ask for ask, *_ in unsure)
    best, best_worth, best_split = None, 1e-9, None
    for split in (*splits(table, found, False, known, likely), *_more_splits(table, clues, found, likely, known)):
        kept = split.kept[split.kept > 1e-12]
        if not len(kept) or (split.row >= clues.countable and split.row > 0):
            continue
        if split.about in unsure or times_unsure[split.ask] >= MOST_UNSURE:
            continue
        after = kept + split.either / len(kept)
        bits = float(-(after * np.log2(np.minimum(kept + split.either, 1.0))).sum())
        if split.ask in MEASURED:
            bits = float(-(likely * np.log2(split.kept)).sum())
        worth = bits / cost_of(split)
        if worth > best_worth + 1e-9:
            average = float((after * (kept + split.either)).sum()) * len(found)
            worst = round(float(kept.max() + split.either) * len(found))
            best, best_worth = PlaceQuestion(split.ask, split.row, split.end, average, worst, split.yarn), worth
            best_split = split
    if best_split is None or however_few:
        return best
    code = _code_of(table, clues, found, best_split)
    shown = min(_side_by_side(table, clues, found, likely), steps_off(table, found, likely) or np.inf)
    return None if shown <= touches_of(best_split) + _pages_after(code, likely) else best


def cost_of(split: Split) -> float:
    """Return what a question costs: its touches, and how hard it is to answer."""
    each = EACH_PICK_COUNTED if split.ask is Ask.SINCE_CHANGE else EACH_REPEAT_COUNTED
    return touches_of(split) + COSTS[split.ask] + EACH_ROW_DOWN * split.row + each * split.counted


def touches_of(split: Split) -> float:
    """Return how many touches an answer takes on average."""
    kept = split.kept
    there = np.flatnonzero(kept > 1e-12)
    if split.ask is Ask.ROW:
        return pages(kept[there] / kept.sum())
    if split.ask is Ask.POINT:
        return 1.0
    if split.ask is Ask.LENGTH or (split.ask is Ask.REPEAT and len(there) > MOST_REPEATS_TOUCHED):
        return 3.0
    page = np.arange(len(there)) // ON_A_PAGE + 1
    return float((page * kept[there]).sum() / max(kept.sum(), 1e-12)) if len(there) > ON_A_PAGE else 1.0


def pages(likely: NDArray[np.float64]) -> float:
    """Return how many pages of pictures are looked at on average, the likeliest first; `likely` (places, float64)."""
    ranked = np.sort(likely)[::-1]
    return float(((np.arange(len(ranked)) // SHOWN_AT_ONCE + 1) * ranked).sum())


def _side_by_side(table: PickTable, clues: Clues, found: NDArray[np.int64], likely: NDArray[np.float64]) -> float:
    """Return what pictures of these places side by side cost: pages, and the harm where some cannot be told apart."""
    if len(found) > MOST_COMPARED:
        return pages(likely)
    named = clues.section[found] * (int(clues.repeat.max()) + 1) + clues.repeat[found]
    _, alike = np.unique(alike_in(table, found, ROWS_COMPARED, named), return_inverse=True)
    twins = np.bincount(alike)[alike] > 1
    return pages(likely) + MISTAKEN * float(likely[twins].sum())


def steps_off(table: PickTable, found: NDArray[np.int64], likely: NDArray[np.float64]) -> float | None:
    """Return how many touches it takes on average to say how far off the picture of the likeliest of these places is.

    None where that cannot be seen, because some of them look alike. `likely` (places, float64) goes with `found`.
    """
    sure = rows_to_be_sure(table, found) if len(found) <= MOST_COMPARED else None
    if sure is None or sure > ROWS_COMPARED:
        return None
    off = np.abs(table.pick[found] - table.pick[found[np.argmax(likely)]])
    return float((likely * (1 + (off + STEPS) // (2 * STEPS + 1))).sum())


def _pages_after(code: NDArray[np.int64], likely: NDArray[np.float64]) -> float:
    """Return how many touches are left on average once a question is answered that has `code` for each place.

    Showing what is left takes so many pages; where these would be many, asking on takes about a touch for so many bits.
    """
    ranked = np.lexsort((-likely, code))
    codes, share = code[ranked], likely[ranked]
    first = np.concatenate(([0], np.flatnonzero(np.diff(codes)) + 1))
    group = np.repeat(np.arange(len(first)), np.diff(np.concatenate((first, [len(codes)]))))
    rank = np.arange(len(codes)) - first[group]
    shown = np.bincount(group, weights=(rank // SHOWN_AT_ONCE + 1) * share)
    in_all = np.bincount(group, weights=share)
    bits = -np.bincount(group, weights=share * np.log2(np.maximum(share / in_all[group], 1e-300)))
    return float(np.minimum(shown, in_all + bits / BITS_A_TOUCH).sum())


def within_length(clues: Clues, cm: float) -> NDArray[np.bool_]:
    """Return for each place (bool) whether the cloth may measure so much there, as far as anybody can know."""
    if clues.cm is None:
        return np.ones(len(clues.section), dtype=np.bool_)
    return np.asarray(np.isnan(clues.cm) | (np.abs(clues.cm - cm) <= LENGTH_ERROR * cm + 1.0), dtype=np.bool_)


def _code_of(table: PickTable, clues: Clues, found: NDArray[np.int64], split: Split) -> NDArray[np.int64]:
    """Return the answer to a question at each of these places, as a number (int64)."""
    match split.ask:
        case Ask.ROW:
            return table.look[found]
        case Ask.SECTION:
            return clues.section[found]
        case Ask.REPEAT:
            return clues.repeat[found]
        case Ask.LENGTH if clues.cm is not None:
            return np.asarray(np.nan_to_num(clues.cm[found] / (2 * LENGTH_ERROR * np.nanmax(clues.cm))), dtype=np.int64)
        case Ask.POINT:
            wide = 2 * AS_FAR_AS * error_picks(_span(table, found))
            return np.asarray((table.pick[found] - table.pick[found].min()) // wide, dtype=np.int64)
        case Ask.WEFT:
            return table.look_back(table.weft, found, split.row)
        case Ask.SINCE_CHANGE:
            return table.since_change[found]
        case Ask.SIDE:
            return sides_at(table, split.yarn or 0, found)
        case _:
            raised = np.concatenate((table.raised[:, split.end or 0], [False])).astype(np.int64)
            return raised[table.look_back(table.shed_code, found, split.row)]


def _more_splits(
    table: PickTable, clues: Clues, found: NDArray[np.int64], likely: NDArray[np.float64], known: Evidence
) -> Iterator[Split]:
    if len(found) < 2:
        return
    if not (known.rows and known.rows[0].up + known.rows[0].down):
        _, code = np.unique(table.look[found], return_inverse=True)
        yield Split(Ask.ROW, count_of(code, likely))
    sections = count_of(clues.section[found], likely)
    if 1 < np.count_nonzero(sections) <= MOST_SECTIONS:
        yield Split(Ask.SECTION, sections)
    elif np.count_nonzero(sections) == 1:
        yield Split(Ask.REPEAT, count_of(clues.repeat[found], likely), counted=int(clues.repeat[found].max()))
    if clues.cm is not None:
        yield Split(Ask.LENGTH, _within(clues.cm[found], likely, LENGTH_ERROR * clues.cm[found] + 1.0))
    span = _span(table, found)
    if FEWEST_PICKS <= span <= MOST_PICKS:
        near = np.full(len(found), AS_FAR_AS * error_picks(span))
        kept = _within(table.pick[found].astype(np.float64), likely, near)
        # Where a section has one repeat there is nothing to count.
        yield Split(Ask.POINT, kept, counted=int(clues.repeats[found].max()) - 1)


def _span(table: PickTable, found: NDArray[np.int64]) -> int:
    """Return how many picks a picture shows that has all these places (indices, int64)."""
    picks = table.pick[found]
    return int(picks.max() - picks.min()) + 1


def _within(
    amount: NDArray[np.float64], likely: NDArray[np.float64], error: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return for each place the share of all that such an `amount`, read off within its `error`, keeps (float64).

    NaN is an amount that nobody can know.
    """
    order = np.argsort(amount)
    below = np.concatenate(([0.0], np.cumsum(likely[order])))
    unknown = float(likely[np.isnan(amount)].sum())
    first = np.searchsorted(amount[order], amount - error)
    last = np.searchsorted(amount[order], amount + error, side="right")
    return np.where(np.isnan(amount), 1.0, np.minimum(below[last] - below[first] + unknown, 1.0))


def newest_rows(
    table: PickTable, found: NDArray[np.int64], leaning: NDArray[np.float64] | None = None
) -> tuple[int, ...]:
    """Return one of these places (indices, int64) for each way the newest row may look, the likeliest first."""
    _, code = np.unique(table.look[found], return_inverse=True)
    share = np.bincount(code, weights=likelihood(table, found, leaning))
    first = np.full(len(share), len(found))
    np.minimum.at(first, code, np.arange(len(found)))
    return tuple(int(found[first[look]]) for look in np.argsort(-share, kind="stable"))


def as_seen(table: PickTable, place: int, wefts: frozenset[int]) -> SeenRow:
    """Return the row at a place as wholly seen: its weft is one of `wefts`, and every end lies as it does there."""
    raised = table.raised[table.shed_code[place]]
    up, down = np.flatnonzero(raised), np.flatnonzero(~raised)
    return SeenRow(wefts, tuple(up.tolist()), tuple(down.tolist()))
