"""The stages of a treadling that does not fit the loom on one tie-up: where to stop, and what to tie there.

`fewest_stages` says where to stop; on small looms `fewest_cords` then finds the plan that changes fewest cords in all,
elsewhere the cords of each stage are chosen from the stage before, one by one.

Lemmas and proofs: assets/mathematics.md, "Stages".
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate

from companion.remap.feet.place_tieup import PlacedTieUp, place_best, place_columns, stage_of
from companion.remap.feet.tied_stage import TiedStage
from companion.remap.loom.loom import TieUp
from companion.remap.loom.question import Question, each_alone, on_treadles
from companion.remap.loom.targets import Columns, Target
from companion.remap.search.answers import ShouldStop
from companion.remap.search.budget import Budget
from companion.remap.search.fewest import minimal_answers
from companion.remap.stages.fewest_cords import CordPlan, fewest_cords_in_all
from companion.remap.stages.fewest_stages import Furthest, fewest_stages
from companion.remap.stages.keeping import keeping_most
from companion.remap.stages.known_fits import KnownFits

EFFORTS_OF_STAGE = 0.2
"""How long other tie-ups with as few treadles are looked for, for one stage."""


@dataclass(frozen=True, slots=True)
class StagePlan:
    """The stages; `fewest_stages` and `fewest_cords_in_all` as in `Remapping`."""

    stages: tuple[TiedStage, ...]
    fewest_stages: bool
    fewest_cords_in_all: bool


def plan_stages(asked: Question, fits: KnownFits, budget: Budget) -> StagePlan:
    """Plan the stages; stopped early they are more, and not called the fewest."""
    return _Planner(asked, fits, budget).plan()


class _Planner:
    def __init__(self, asked: Question, fits: KnownFits, budget: Budget) -> None:
        self._asked = asked
        self._fits = fits
        self._budget = budget
        self._should_stop: ShouldStop = budget.should_stop
        self._ends = tuple(accumulate(section.picks for section in asked.draft.sections))
        self._placed: dict[tuple[tuple[Target, ...], TieUp | None], PlacedTieUp] = {}
        """Stages worked out before: the stages of a repeat are alike."""

    def plan(self) -> StagePlan:
        furthest = Furthest(self._asked.treadling, self._fits)
        where = fewest_stages(furthest, self._ends)
        fewest = not self._fits.undecided
        whole = self._whole_plan(furthest) if fewest else None
        if whole is None:
            return StagePlan(self._one_by_one(where), fewest, False)
        stages = self._planned(whole)
        cords = sum(stage.cords_changed or 0 for stage in stages)
        return StagePlan(stages, fewest, cords <= whole.cords and not self._asked.cords_in_doubt)

    def _whole_plan(self, furthest: Furthest) -> CordPlan | None:
        """Return the plan that changes fewest cords in all, where every tie-up the loom can hold can be weighed."""
        loom = self._asked.loom
        if loom.reach != 1 or self._should_stop():
            return None
        present = on_treadles(self._asked.present, self._asked.shafts, loom)
        # It asks how far more stages go than stage by stage need be known.
        plan = fewest_cords_in_all(furthest, self._ends, loom.treadles, present, self._should_stop)
        return None if self._fits.undecided else plan

    def _planned(self, plan: CordPlan) -> tuple[TiedStage, ...]:
        stages: list[TiedStage] = []
        before = self._asked.present
        for picks, columns in zip(plan.stages, plan.columns, strict=True):
            job = self._asked.job(picks.start, picks.stop, before)
            placed = place_columns(job, columns, self._should_stop)
            at_end = picks.start in self._ends
            # Fewest are the cords of the whole plan; one stage may change more to spare the next.
            stages.append(stage_of(self._asked, job, picks.start, placed, fewest_cords=False, at_section_end=at_end))
            before = placed.tieup
        return tuple(stages)

    def _one_by_one(self, where: Sequence[range]) -> tuple[TiedStage, ...]:
        stages: list[TiedStage] = []
        before = self._asked.present
        for picks in where:
            stage = self._stage(picks, before)
            stages.append(stage)
            before = stage.tieup
        return tuple(stages)

    def _stage(self, picks: range, present: TieUp | None) -> TiedStage:
        job = self._asked.job(picks.start, picks.stop, present)
        key = (job.treadling, present)
        if key not in self._placed:
            tieups, cut_short = self._tieups(picks)
            before = job.present_columns
            if before is not None and job.loom.reach == 1 and picks.start and not self._should_stop():
                tieups = _after(keeping_most(before, job), tieups)
            self._placed[key] = place_best(job, tieups, self._should_stop, cut_short)
        # A later stage may use more treadles than the fewest; that no such answer has fewer cords is not proven.
        return stage_of(
            self._asked,
            job,
            picks.start,
            self._placed[key],
            fewest_cords=not picks.start,
            at_section_end=picks.start in self._ends,
        )

    def _tieups(self, picks: range) -> tuple[Iterator[Columns], Callable[[], bool]]:
        """Return the columns of tie-ups for the sheds of a stage, and whether they were cut short.

        Those with fewest treadles; where there was no time for them, the one that proved that it fits.
        """
        asked, loom = self._asked, self._asked.loom
        targets = frozenset(asked.treadling[picks.start : picks.stop])
        share = self._budget.share(len(targets), loom.reach, EFFORTS_OF_STAGE)
        answers = minimal_answers(sorted(targets), loom.reach, loom.treadles, should_stop=share)

        def tieups() -> Iterator[Columns]:
            any_answer = False
            # Whoever waits no longer does not wait for a search to be set up either.
            for columns in () if self._should_stop() else answers:
                any_answer = True
                yield columns
            if not any_answer:
                yield self._fits.columns(targets) or each_alone(targets)

        return tieups(), lambda: share.cut_short


def _after(first: Columns | None, rest: Iterator[Columns]) -> Iterator[Columns]:
    if first is not None:
        yield first
    yield from rest
