"""Faults counted against the picks woven: in all, where the feet change much, by section, by hour at the loom.

A rate is faults per 1,000 picks woven there, picks taken out again included, because each was a chance for a mistake.
A fault counts where and when its pick was woven, not where and when it was found. Where the pick is not in the cloth
when the fault is noted, it counts as listed, in the hour in which it was found. What is wrong with the threading, the
sleying or the tie-up is no mistake of a pick: it is counted by its kind, and in no rate.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass

from companion.draft.masks import shafts_of
from companion.weaving.events import FaultKind, FaultState
from companion.weaving.history import Fault, History, WovenPick
from companion.weaving.warp import Piece, Warp

HOUR_MS = 3_600_000


@dataclass(frozen=True, slots=True)
class FaultRate:
    """`faults` over `picks` woven, under a heading."""

    heading: str
    faults: int
    picks: int

    @property
    def per_thousand(self) -> float | None:
        """Faults per 1,000 picks; None where no pick was woven."""
        return 1000 * self.faults / self.picks if self.picks else None


@dataclass(frozen=True, slots=True)
class FaultCount:
    """All of the counts; `by_change` goes by how many treadles differ from the pick on which it was woven."""

    all_picks: FaultRate
    by_kind: tuple[tuple[FaultKind, int], ...]
    by_state: tuple[tuple[FaultState, int], ...]
    by_change: tuple[FaultRate, ...]
    by_section: tuple[FaultRate, ...]
    by_hour: tuple[FaultRate, ...]


def count_faults(warp: Warp, told: History) -> FaultCount:
    """Return the counts of a journal's faults."""
    in_picks = [fault for fault in told.faults if not fault.kind.of_loom]
    moved = [_moved(piece) for piece in warp.pieces]

    def change(woven: WovenPick) -> _Key:
        before = frozenset[int]() if woven.below is None else moved[woven.piece][woven.below]
        return len(before ^ moved[woven.piece][woven.pick]), 0

    kinds = Counter(fault.kind for fault in told.faults)
    states = Counter(fault.state for fault in told.faults)
    return FaultCount(
        all_picks=FaultRate("all picks", len(in_picks), len(told.woven)),
        by_kind=tuple((kind, kinds[kind]) for kind in FaultKind if kinds[kind]),
        by_state=tuple((state, states[state]) for state in FaultState if states[state]),
        by_change=_rates(told, change, lambda key: _change_heading(key[0])),
        by_section=_rates(
            told,
            lambda woven: (woven.piece, warp.pieces[woven.piece].section_at(woven.pick)),
            lambda key: _section_heading(warp, key[0], key[1]),
        ),
        by_hour=_rates(
            told,
            lambda woven: (woven.at_loom_ms // HOUR_MS, 0),
            lambda key: f"hour {key[0] + 1} at the loom",
            of_time=True,
        ),
    )


_Key = tuple[int, int]


def _rates(
    told: History,
    key_of: Callable[[WovenPick], _Key],
    heading: Callable[[_Key], str],
    of_time: bool = False,
) -> tuple[FaultRate, ...]:
    """Count faults and picks by a key; `of_time`: picks told of afterwards have none and do not count."""
    picks = Counter(key_of(woven) for woven in told.woven if not (woven.told and of_time))
    faults = Counter(key_of(_pick_of(told, fault)) for fault in told.faults if not fault.kind.of_loom)
    return tuple(FaultRate(heading(key), faults[key], picks[key]) for key in sorted({*picks, *faults}))


def _pick_of(told: History, fault: Fault) -> WovenPick:
    if fault.woven is not None:
        return told.woven[fault.woven]
    listed_below = fault.pick - 1 if fault.pick else None
    return WovenPick(fault.piece, fault.pick, fault.found_at_ms, fault.found_at_loom_ms, below=listed_below)


def _moved(piece: Piece) -> tuple[frozenset[int], ...]:
    """Return for each pick the treadles (levers, on a lever loom) that are moved for it."""
    if piece.footings:
        return tuple(frozenset(footing.left + footing.right) for footing in piece.footings)
    return tuple(frozenset(shafts_of(shed)) for shed in piece.sheds)


def _change_heading(number: int) -> str:
    return {0: "nothing changes", 1: "1 treadle or lever changes"}.get(number, f"{number} treadles or levers change")


def _section_heading(warp: Warp, piece: int, section: int) -> str:
    name = warp.pieces[piece].sections[section].name
    return name if len(warp.pieces) == 1 else f"{warp.pieces[piece].name}: {name}"
