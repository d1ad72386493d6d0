"""What else would do when a draft does not fit: face down, a foot on two treadles, another action. Each worked out.

Several ways may ask the same of the treadles: a sinking loom pulls what a rising one pulls for the cloth face down,
and a countermarche face down pulls up what it else pulls down. Then one search answers for both.

Lemmas and proofs: assets/mathematics.md, "Targets, pulls and columns".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from companion.draft.masks import Shed, complement, pulls, pulls_down, pulls_up
from companion.draft.model import distinct
from companion.remap.loom.loom import Action, Footing, Loom
from companion.remap.loom.pressing import feet_for
from companion.remap.loom.question import Question
from companion.remap.loom.targets import Column, Columns, Target, targets_of, tieup_of
from companion.remap.proof import ProofFailedError, weaves_the_draft
from companion.remap.remapped import Alternative
from companion.remap.search.answers import Outcome, ProvedImpossible, ShouldStop
from companion.remap.search.budget import Budget
from companion.remap.search.fewest import fewest_treadles


@dataclass(frozen=True, slots=True)
class _Way:
    what: str
    loom: Loom
    face_down: bool = False


def other_ways(
    asked: Question, found: Outcome, efforts: float, should_stop: ShouldStop, known: Sequence[Alternative] = ()
) -> tuple[Alternative, ...]:
    """Return the other ways to weave this cloth, those that fit first and fewer treadles before more.

    `found` is the outcome for the loom as it is. Face down is left out where an end is on no shaft: such an end lies
    below every pick on any loom, so that the cloth turned over would be another. Each way is searched for so many
    `efforts`; when these end, or there is no time for any, its bounds say how far it came. What is `known` of the ways
    by now stays known.
    """
    ways = [way for way in _ways(asked.loom) if not (way.face_down and None in asked.draft.threading)]
    searches = _Searches(asked, found, should_stop)
    before = {(other.what, other.loom): other for other in known}
    told = []
    for way in ways:
        other = before.get((way.what, way.loom))
        if other is None or not other.fewest.proven:
            other = _told(asked, way, searches.outcome(way, efforts), other)
        told.append(other)
    return tuple(sorted(told, key=lambda way: (not way.fits, way.fewest.at_least)))


def _ways(loom: Loom) -> Iterator[_Way]:
    yield _Way("face down", loom, face_down=True)
    if loom.reach == 1:
        yield _Way("reach 2", replace(loom, reach=2))
    for action in (Action.RISING, Action.SINKING, Action.COUNTERMARCHE):
        if action is not loom.action:
            yield _Way(action.value, replace(loom, action=action))


class _Searches:
    """The searches made so far, by what they asked of the treadles: the targets, and the reach."""

    def __init__(self, asked: Question, found: Outcome, should_stop: ShouldStop) -> None:
        self._asked = asked
        self._should_stop = should_stop
        as_it_is = _Way("", asked.loom)
        self._known = {self._key(as_it_is): (as_it_is, found)}

    def outcome(self, way: _Way, efforts: float) -> Outcome:
        """Return what is known of this way after so many efforts, searched for only where it is not known yet."""
        key = self._key(way)
        if key not in self._known:
            targets = _targets(self._asked, way)
            share = Budget(self._should_stop, efforts).share(len(targets), way.loom.reach)
            # What opens all at reach 1 opens all at reach 2.
            _, same = self._known.get((*key[:2], 1), (way, None))
            known = None if same is None or key[2] == 1 else same.columns
            self._known[key] = way, fewest_treadles(targets, way.loom.reach, known=known, should_stop=share)
        other, found = self._known[key]
        if way.loom.action is not Action.COUNTERMARCHE or way.face_down is other.face_down:
            return found
        return _up_and_down_exchanged(found, self._asked.shafts)

    def _key(self, way: _Way) -> tuple[bool, frozenset[Target], int]:
        targets = _targets(self._asked, replace(way, face_down=_turned(way)))
        return way.loom.action is Action.COUNTERMARCHE, frozenset(targets), way.loom.reach


def _up_and_down_exchanged(found: Outcome, shafts: int) -> Outcome:
    """Return the outcome of a countermarche for the cloth turned over."""
    if isinstance(found, ProvedImpossible) or found.columns is None:
        return found
    columns = tuple(Column(pulls(pulls_down(c, shafts), pulls_up(c, shafts), shafts)) for c in found.columns)
    return replace(found, columns=columns)


def _turned(way: _Way) -> bool:
    """Tell whether what this way asks of the treadles differs by more than names from what it asks face up."""
    return way.face_down and way.loom.action is not Action.COUNTERMARCHE


def _sheds(asked: Question, way: _Way) -> tuple[Shed, ...]:
    """Return the distinct sheds, in the order of the draft's."""
    if not way.face_down:
        return asked.sheds
    return distinct(tuple(complement(shed, asked.shafts) for shed in asked.sheds))


def _targets(asked: Question, way: _Way) -> tuple[Target, ...]:
    return targets_of(_sheds(asked, way), asked.shafts, way.loom.action, carrying=asked.carrying)


def _told(asked: Question, way: _Way, found: Outcome, before: Alternative | None) -> Alternative:
    fewest = found.bounds if before is None else found.bounds.narrowed(before.fewest)
    if found.columns is not None:
        _prove(asked, way, found.columns)
    fits: bool | None = None
    if fewest.best is not None and fewest.best <= way.loom.treadles:
        fits = True
    elif fewest.at_least > way.loom.treadles:
        fits = False
    return Alternative(way.what, way.loom, fewest, fits, way.face_down)


def _prove(asked: Question, way: _Way, columns: Columns) -> None:
    feet: dict[Shed, Footing] = {}
    for shed, target in zip(_sheds(asked, way), _targets(asked, way), strict=True):
        footing = feet_for(target, columns, way.loom.reach)
        if footing is None:
            raise AssertionError("one search does not answer for both ways")
        feet[shed] = footing
    sheds = asked.shed_of_pick
    if way.face_down:
        sheds = tuple(complement(shed, asked.shafts) for shed in sheds)
    wide = replace(way.loom, treadles=len(columns))
    tieup = tieup_of(columns, asked.shafts, way.loom.action)
    if not weaves_the_draft(asked.draft, wide, tieup, [feet[shed] for shed in sheds], face_down=way.face_down):
        raise ProofFailedError("another way weaves other cloth")
