"""The draft on the loom, put so that a search can be asked: its sheds there, and what each asks of the treadles."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from companion.draft.masks import Shed, common, every_shaft
from companion.draft.model import Draft, Treadled, distinct
from companion.remap.loom.loom import Action, Loom, Tie, TieUp
from companion.remap.loom.targets import targets_of, tie_of


@dataclass(frozen=True, slots=True)
class Job:
    """The picks to tie for: a target per pick, on the loom, with `shafts` of it in use and the tie-up now on it."""

    loom: Loom
    shafts: int
    treadling: tuple[int, ...]
    present: TieUp | None
    draft_order: tuple[int, ...] = ()
    """The draft's own columns in their order, which ours follow where nothing speaks against it."""


@dataclass(frozen=True, slots=True)
class Question:
    """One draft on one loom. `shafts` of the loom are in use; `present` ties only these.

    `sheds` are the distinct sheds in the order of first use, `targets` what each asks for (see `targets`).
    """

    draft: Draft
    loom: Loom
    shafts: int
    present: TieUp | None
    shed_of_pick: tuple[Shed, ...]
    sheds: tuple[Shed, ...]
    targets: Mapping[Shed, int]
    treadling: tuple[int, ...]
    draft_order: tuple[int, ...]
    """The columns of the draft's own treadles; empty for a lift plan."""

    @property
    def one_each(self) -> int:
        """How many treadles do where each shed has one of its own."""
        return sum(1 for target in self.targets.values() if target)

    def job(self, first: int, stop: int, present: TieUp | None) -> Job:
        """Return the job to tie for the picks from `first` up to `stop`, `present` being tied by then."""
        return Job(self.loom, self.shafts, self.treadling[first:stop], present, self.draft_order)

    def each_alone(self, targets: Iterable[int]) -> TieUp:
        """Return the tie-up that gives each of these targets a treadle of its own."""
        return tuple(tie_of(target, self.shafts, self.loom.action) for target in sorted(set(targets)) if target)


def question(draft: Draft, loom: Loom, present: TieUp | None) -> Question:
    """Put the question. Shafts of the draft that the loom lacks are cut off: no end may hang on them."""
    shafts = min(draft.shafts, loom.shafts)
    within_loom = every_shaft(shafts)
    cut = {shed: common(shed, within_loom) for shed in set(draft.sheds())}
    shed_of_pick = tuple(cut[shed] for shed in draft.sheds())
    sheds = distinct(shed_of_pick)
    if loom.action is Action.LEVERS:
        return Question(draft, loom, shafts, None, shed_of_pick, sheds, {}, (), ())
    targets = dict(zip(sheds, targets_of(sheds, shafts, loom.action), strict=True))
    return Question(
        draft,
        loom,
        shafts,
        None if present is None else tuple(_cut(tied, within_loom) for tied in present),
        shed_of_pick,
        sheds,
        targets,
        tuple(targets[shed] for shed in shed_of_pick),
        _draft_order(draft, loom, shafts),
    )


def _draft_order(draft: Draft, loom: Loom, shafts: int) -> tuple[int, ...]:
    if not isinstance(draft.lifting, Treadled):
        return ()
    every = every_shaft(shafts)
    ties = [common(tied, every) for tied in draft.lifting.tieup]
    if not draft.rising:
        ties = [Shed(every ^ tied) for tied in ties]
    return targets_of(ties, shafts, loom.action)


def _cut(tied: Tie, within_loom: Shed) -> Tie:
    return Tie(common(tied.up, within_loom), common(tied.down, within_loom))
