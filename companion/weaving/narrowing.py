"""Which question next, at the loom: the one that saves most for what it costs a tired weaver. Pure.

What a question saves is counted in bits: how much surer the place is after its answer, on average, where each place is
as likely as `likelihood` says. What it costs is the touches that it takes and how hard it is to see or to count; these
costs stand in `COSTS`, once, and are our own choice (no source). Rows further down cost more, and a row that cannot be
counted off at the draft's floats is never asked for. Where few places are left, showing them costs less than asking on.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

import numpy as np
from numpy.typing import NDArray

from companion.weaving.clues import Clues
from companion.weaving.finder import Evidence, SeenRow
from companion.weaving.pick_table import PickTable
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
    Ask.REPEAT: 0.8,
    Ask.LENGTH: 1.5,
    Ask.END: 1.5,
}
"""How hard each question is to answer, beside its touches: to touch once more is 1."""
EACH_ROW_DOWN = 0.6
"""What every row further down costs more."""
EACH_PICK_COUNTED, EACH_REPEAT_COUNTED = 0.1, 0.05
"""What every pick costs more that may have to be counted since the shuttle changed, and every repeat of a section."""
BITS_A_TOUCH = 1.6
"""So much a touch tells on average where more is asked."""
LENGTH_ERROR = 0.04
"""A tape on cloth under tension is right within this share of the length, and within a centimetre (our own choice)."""
HOW_FAR_OFF = ((0.60, 2.0), (0.25, 20.0))
"""How weavers lose the place, as shares with picks from the journal's place: a press forgotten or one too many, and
picks woven on or taken out while the program stood elsewhere. The rest may be anywhere. Our own choice, no source."""

SEEN_AT_ONCE, OVERLOOKED = 3, 0.15
"""A cloth so few picks off is told at once, beside the picture; this share of those weavers asks on all the same."""


def likelihood(table: PickTable, found: NDArray[np.int64]) -> NDArray[np.float64]:
    """Return how likely each of these places (indices, int64) is the fell, as shares of 1; alike without a journal."""
    likely = np.full(len(found), 1.0)
    if table.lying.away is not None:
        away = table.lying.away[found]
        likely *= (1 - sum(share for share, _ in HOW_FAR_OFF)) / table.picks
        for share, picks in HOW_FAR_OFF:
            likely += share / (2 * picks) * np.exp(-away / picks)
        likely[away <= SEEN_AT_ONCE] *= OVERLOOKED
    return np.asarray(likely / max(likely.sum(), 1e-300), dtype=np.float64)


def easiest_question(
    table: PickTable,
    clues: Clues,
    found: NDArray[np.int64],
    known: Evidence = NOTHING_KNOWN,
    unsure: Collection[About] = (),
    however_few: bool = False,
) -> PlaceQuestion | None:
    """Return the question about these places (indices, int64) with most bits per cost.

    None where none tells any apart or, unless `however_few`, where showing the places takes no more touches than asking
    and showing. What is `known` is not asked again, nor is what the weaver was `unsure` of.
    """
    likely = likelihood(table, found)
    best, best_worth, best_split = None, 1e-9, None
    for split in (*splits(table, found, False, known, likely), *_more_splits(table, clues, found, likely, known)):
        kept = split.kept[split.kept > 1e-12]
        if not len(kept) or split.about in unsure or (split.row >= clues.countable and split.row > 0):
            continue
        after = kept + split.either / len(kept)
        bits = float(-(after * np.log2(np.minimum(kept + split.either, 1.0))).sum())
        if split.ask is Ask.LENGTH:
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
    return None if pages(likely) <= touches_of(best_split) + _pages_after(code, likely) else best


def cost_of(split: Split) -> float:
    """Return what a question costs: its touches, and how hard it is to answer."""
    each = {Ask.SINCE_CHANGE: EACH_PICK_COUNTED, Ask.REPEAT: EACH_REPEAT_COUNTED}.get(split.ask, 0.0)
    counted = each * (len(np.trim_zeros(split.kept, "b")) - 1) if each else 0.0
    return touches_of(split) + COSTS[split.ask] + EACH_ROW_DOWN * split.row + counted


def touches_of(split: Split) -> float:
    """Return how many touches an answer takes on average."""
    kept = split.kept
    there = np.flatnonzero(kept > 1e-12)
    if split.ask is Ask.ROW:
        return pages(kept[there] / kept.sum())
    if split.ask is Ask.LENGTH or (split.ask is Ask.REPEAT and len(there) > MOST_REPEATS_TOUCHED):
        return 3.0
    page = np.arange(len(there)) // ON_A_PAGE + 1
    return float((page * kept[there]).sum() / max(kept.sum(), 1e-12)) if len(there) > ON_A_PAGE else 1.0


def pages(likely: NDArray[np.float64]) -> float:
    """Return how many pages of pictures are looked at on average, the likeliest first; `likely` (places, float64)."""
    ranked = np.sort(likely)[::-1]
    return float(((np.arange(len(ranked)) // SHOWN_AT_ONCE + 1) * ranked).sum())


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
        yield Split(Ask.REPEAT, count_of(clues.repeat[found], likely))
    if clues.cm is not None:
        yield Split(Ask.LENGTH, _about_as_long(clues.cm[found], likely))


def _about_as_long(cm: NDArray[np.float64], likely: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return for each place the share of all that a length measured there keeps (float64)."""
    order = np.argsort(cm)
    below = np.concatenate(([0.0], np.cumsum(likely[order])))
    unknown = float(likely[np.isnan(cm)].sum())
    error = LENGTH_ERROR * cm + 1.0
    first, last = np.searchsorted(cm[order], cm - error), np.searchsorted(cm[order], cm + error, side="right")
    return np.where(np.isnan(cm), 1.0, np.minimum(below[last] - below[first] + unknown, 1.0))


def newest_rows(table: PickTable, found: NDArray[np.int64]) -> tuple[int, ...]:
    """Return one of these places (indices, int64) for each way the newest row may look, the likeliest first."""
    _, code = np.unique(table.look[found], return_inverse=True)
    share = np.bincount(code, weights=likelihood(table, found))
    first = np.full(len(share), len(found))
    np.minimum.at(first, code, np.arange(len(found)))
    return tuple(int(found[first[look]]) for look in np.argsort(-share, kind="stable"))


def as_seen(table: PickTable, place: int, wefts: frozenset[int]) -> SeenRow:
    """Return the row at a place as wholly seen: its weft is one of `wefts`, and every end lies as it does there."""
    raised = table.raised[table.shed_code[place]]
    up, down = np.flatnonzero(raised), np.flatnonzero(~raised)
    return SeenRow(wefts, tuple(up.tolist()), tuple(down.tolist()))
