"""What a weaver would want to know of a draft's sheds before weaving: every finding, each with its places.

None of these makes a draft wrong: each may be meant. The rules are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise

from companion.draft.laying_in import laid_in_at
from companion.draft.masks import (
    NO_SHAFT,
    Shed,
    bits_of,
    common,
    count,
    treadles_of,
    union,
    without,
)
from companion.draft.model import Draft, Treadled
from companion.draft.selvedge import floating_ends


class FindingKind(Enum):
    """What was found; the value says it in a few words."""

    NO_SHAFT_UP = "no end is lifted"
    EVERY_SHAFT_UP = "every end is lifted"
    SHED_REPEATED = "the same shuttle goes back through the same shed"
    SHAFT_EMPTY = "a shaft carries no end"
    SHAFT_IDLE = "a shaft never changes"
    END_UNTHREADED = "an end is on no shaft"
    TREADLE_UNUSED = "a treadle is never pressed"
    TREADLE_UNTIED = "a treadle is tied to nothing"
    TREADLES_ALIKE = "treadles are tied alike"
    SHUTTLE_ENDS_ACROSS = "a shuttle ends on the side opposite to its start"
    SHED_UNBALANCED = "a shed is far from balanced"
    SLEY_MISMATCHED = "the sley plan is for another number of ends"


@dataclass(frozen=True, slots=True)
class Finding:
    """One finding with its places, all indices from 0; what does not apply is empty or None.

    `shuttle` is a yarn index, `section` the section that `SHUTTLE_ENDS_ACROSS` is about, None for the whole draft.
    """

    kind: FindingKind
    picks: tuple[int, ...] = ()
    ends: tuple[int, ...] = ()
    shafts: tuple[int, ...] = ()
    treadles: tuple[int, ...] = ()
    shuttle: int | None = None
    section: int | None = None


def check(draft: Draft, *, counterbalanced: bool = False) -> tuple[Finding, ...]:
    """Return everything found, in the order of the kinds.

    `counterbalanced` is for a loom on which shafts hang against each other over rollers (a sinking loom, as a rule):
    only there do unbalanced sheds open badly. A countermarche draws each shaft by its own cords.
    """
    findings = [
        *_sheds_that_do_not_open(draft),
        *_sheds_repeated(draft),
        *_threading(draft),
        *_idle_shafts(draft),
        *_treadles(draft),
        *_shuttles_that_end_across(draft),
        *_sley(draft),
    ]
    if counterbalanced:
        findings += _unbalanced(draft)
    order = list(FindingKind)
    return tuple(sorted(findings, key=lambda finding: order.index(finding.kind)))


def _picks_by_shed(draft: Draft) -> dict[Shed, list[int]]:
    picks: dict[Shed, list[int]] = {}
    for pick, shed in enumerate(draft.sheds_of_ends()):
        picks.setdefault(shed, []).append(pick)
    return picks


def _sheds_that_do_not_open(draft: Draft) -> Iterator[Finding]:
    """A pick that lifts none of the shafts with ends, or all of them, lies loose above or below the cloth."""
    threaded = draft.threaded_shafts()
    loose: dict[FindingKind, list[int]] = {FindingKind.NO_SHAFT_UP: [], FindingKind.EVERY_SHAFT_UP: []}
    for shed, picks in _picks_by_shed(draft).items():
        if shed == NO_SHAFT:
            loose[FindingKind.NO_SHAFT_UP] += picks
        elif shed == threaded:
            loose[FindingKind.EVERY_SHAFT_UP] += picks
    return (Finding(kind, picks=tuple(sorted(picks))) for kind, picks in loose.items() if picks)


def _sheds_repeated(draft: Draft) -> Iterator[Finding]:
    """A pick in the shed of the pick before it, with the same shuttle, is pulled out as the shuttle turns back."""
    thrown, laid_in = zip(draft.sheds_of_ends(), draft.weft, strict=True), laid_in_at(draft)
    picks = tuple(
        pick
        for pick, (before, now) in enumerate(pairwise(thrown), 1)
        if before == now and pick not in laid_in and pick - 1 not in laid_in
    )
    if picks:
        yield Finding(FindingKind.SHED_REPEATED, picks=picks)


def _threading(draft: Draft) -> Iterator[Finding]:
    """A shaft without ends is not needed; an end on no shaft is never lifted, unless it is a floating selvedge."""
    empty = tuple(bits_of(draft.empty_shafts()))
    if empty:
        yield Finding(FindingKind.SHAFT_EMPTY, shafts=empty)
    floating = floating_ends(draft)
    unthreaded = tuple(end for end, shaft in enumerate(draft.threading) if shaft is None and end not in floating)
    if unthreaded:
        yield Finding(FindingKind.END_UNTHREADED, ends=unthreaded)


def _idle_shafts(draft: Draft) -> Iterator[Finding]:
    """The ends of a shaft that is up at every pick, or at none, are not woven in."""
    if draft.picks < 2:
        return
    sheds, threaded = tuple(_picks_by_shed(draft)), draft.threaded_shafts()
    changing = common(union(sheds), union(without(threaded, shed) for shed in sheds))
    idle = tuple(bits_of(without(threaded, changing)))
    if idle:
        yield Finding(FindingKind.SHAFT_IDLE, shafts=idle)


def _treadles(draft: Draft) -> Iterator[Finding]:
    """A treadle that is never pressed, tied to nothing, or tied like another can be given to another use."""
    if not isinstance(draft.lifting, Treadled):
        return
    pressed = {treadle for treadles in set(draft.lifting.treadling) for treadle in treadles_of(treadles)}
    alike: dict[Shed, list[int]] = {}
    for treadle, tie in enumerate(draft.lifting.tieup):
        alike.setdefault(tie, []).append(treadle)
    unused = tuple(treadle for treadle in range(draft.treadles) if treadle + 1 not in pressed)
    if unused:
        yield Finding(FindingKind.TREADLE_UNUSED, treadles=unused)
    for tie, treadles in alike.items():
        if tie == NO_SHAFT:
            yield Finding(FindingKind.TREADLE_UNTIED, treadles=tuple(treadles))
        elif len(treadles) > 1:
            yield Finding(FindingKind.TREADLES_ALIKE, treadles=tuple(treadles))


def _shuttles_that_end_across(draft: Draft) -> Iterator[Finding]:
    """A shuttle that is thrown an odd number of times ends opposite to where it began.

    Told for the whole draft, as it may be repeated, and for each section that is woven to a length.
    """
    laid_in = laid_in_at(draft)
    thrown = [None if pick in laid_in else yarn for pick, yarn in enumerate(draft.weft)]
    stretches: list[tuple[int | None, list[int | None]]] = [(None, thrown)]
    first = 0
    for index, section in enumerate(draft.sections):
        if section.until_cm is not None:
            stretches.append((index, thrown[first : first + section.picks]))
        first += section.picks
    for where, weft in stretches:
        for shuttle in dict.fromkeys(weft):
            if shuttle is not None and weft.count(shuttle) % 2:
                yield Finding(FindingKind.SHUTTLE_ENDS_ACROSS, shuttle=shuttle, section=where)


def _sley(draft: Draft) -> Iterator[Finding]:
    """A plan that takes fewer ends than there are leaves the last ones without a dent; one that takes more has none for
    its last dents (named up to the end that it was made for)."""
    planned = draft.sley.ends
    if draft.sley.dents and planned != draft.ends:
        yield Finding(FindingKind.SLEY_MISMATCHED, ends=tuple(range(*sorted((planned, draft.ends)))))


def _unbalanced(draft: Draft) -> Iterator[Finding]:
    """Where shafts pull against each other, a shed with at most a quarter of them on one side opens badly."""
    threaded = draft.threaded_shafts()
    shafts = count(threaded)
    picks = [
        pick
        for shed, picks in _picks_by_shed(draft).items()
        if 0 < (up := count(shed)) < shafts and 4 * min(up, shafts - up) <= shafts
        for pick in picks
    ]
    if picks:
        yield Finding(FindingKind.SHED_UNBALANCED, picks=tuple(sorted(picks)))
