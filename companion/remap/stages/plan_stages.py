"""The stages of a treadling that does not fit the loom on one tie-up: where to stop, and what to tie there.

`fewest_stages` says where to stop; on small looms `fewest_cords` then finds the plan that changes fewest cords in all,
elsewhere the cords of each stage are chosen from the stage before, one by one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate

from companion.remap.feet.footwork import Walk
from companion.remap.feet.place_tieup import shed_feet, stage_of, tie, tie_to
from companion.remap.feet.tied_stage import Legwork, TiedStage
from companion.remap.loom.loom import TieUp
from companion.remap.loom.question import Question, each_alone, on_treadles
from companion.remap.loom.targets import Columns
from companion.remap.search.answers import ShouldStop
from companion.remap.search.fewest import minimal_answers
from companion.remap.search.patience import Patience
from companion.remap.stages.fewest_cords import Plan, fewest_cords_in_all
from companion.remap.stages.fewest_stages import Furthest, fewest_stages
from companion.remap.stages.keeping import keeping_most
from companion.remap.stages.known_fits import KnownFits, StoppedError

EFFORTS_OF_STAGE = 0.2
"""How long other tie-ups with as few treadles are looked for, for one stage."""


@dataclass(frozen=True, slots=True)
class TiedAnew:
    """The stages; `fewest_stages` and `fewest_cords_in_all` as in `Remapping`."""

    stages: tuple[TiedStage, ...]
    fewest_stages: bool
    fewest_cords_in_all: bool


def tied_anew(asked: Question, fits: KnownFits, patience: Patience) -> TiedAnew:
    """Plan the stages. Raises StoppedError when stopped before it was known where they end."""
    return _Plan(asked, fits, patience).tied()


class _Plan:
    def __init__(self, asked: Question, fits: KnownFits, patience: Patience) -> None:
        self._asked = asked
        self._fits = fits
        self._patience = patience
        self._should_stop: ShouldStop = patience.should_stop
        self._ends = tuple(accumulate(section.picks for section in asked.draft.sections))
        self._tied: dict[tuple[tuple[int, ...], TieUp | None], tuple[TieUp, Walk, Legwork, bool]] = {}
        """Stages worked out before: the stages of a repeat are alike."""

    def tied(self) -> TiedAnew:
        furthest = Furthest(self._asked.treadling, self._fits)
        where = fewest_stages(furthest, self._ends)
        fewest = not self._fits.undecided
        whole = self._whole_plan(furthest) if fewest else None
        if whole is None:
            return TiedAnew(self._one_by_one(where), fewest, False)
        stages = self._planned(whole)
        cords = sum(stage.cords_changed or 0 for stage in stages)
        return TiedAnew(stages, fewest, cords <= whole.cords)

    def _whole_plan(self, furthest: Furthest) -> Plan | None:
        """Return the plan that changes fewest cords in all, where every tie-up the loom can hold can be weighed."""
        loom = self._asked.loom
        if loom.reach != 1 or self._should_stop():
            return None
        present = on_treadles(self._asked.present, self._asked.shafts, loom)
        try:
            plan = fewest_cords_in_all(furthest, self._ends, loom.treadles, present, self._should_stop)
        except StoppedError:
            # It asks how far more stages go than stage by stage need be known.
            return None
        return None if self._fits.undecided else plan

    def _planned(self, plan: Plan) -> tuple[TiedStage, ...]:
        stages: list[TiedStage] = []
        before = self._asked.present
        for picks, columns in zip(plan.stages, plan.columns, strict=True):
            job = self._asked.job(picks.start, picks.stop, before)
            tieup, walk, legwork = tie_to(job, columns, self._should_stop)
            feet = shed_feet(self._asked.shed_of_pick[picks.start : picks.stop], walk.footings)
            at_end = picks.start in self._ends
            # Fewest are the cords of the whole plan; one stage may change more to spare the next.
            stages.append(
                stage_of(job, picks.start, tieup, walk, legwork, feet, fewest_cords=False, at_section_end=at_end)
            )
            before = tieup
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
        if key not in self._tied:
            tieups, cut_short = self._tieups(picks)
            before = job.present_columns
            if before is not None and job.loom.reach == 1 and picks.start and not self._should_stop():
                tieups = _after(keeping_most(before, job), tieups)
            self._tied[key] = tie(job, tieups, self._should_stop, cut_short)
        tieup, walk, legwork, fewest_cords = self._tied[key]
        feet = shed_feet(self._asked.shed_of_pick[picks.start : picks.stop], walk.footings)
        # A later stage may use more treadles than the fewest; that no such answer has fewer cords is not proven.
        return stage_of(
            job,
            picks.start,
            tieup,
            walk,
            legwork,
            feet,
            fewest_cords=fewest_cords and not picks.start,
            at_section_end=picks.start in self._ends,
        )

    def _tieups(self, picks: range) -> tuple[Iterator[Columns], Callable[[], bool]]:
        """Return the columns of tie-ups for the sheds of a stage, and whether they were cut short.

        Those with fewest treadles; where there was no time for them, the one that proved that it fits.
        """
        asked, loom = self._asked, self._asked.loom
        targets = frozenset(asked.treadling[picks.start : picks.stop])
        turn = self._patience.turn(len(targets), loom.reach, EFFORTS_OF_STAGE)
        answers = minimal_answers(sorted(targets), loom.reach, loom.treadles, should_stop=turn)

        def tieups() -> Iterator[Columns]:
            any_answer = False
            for columns in answers:
                any_answer = True
                yield columns
            if not any_answer:
                yield self._fits.columns(targets) or each_alone(targets)

        return tieups(), lambda: turn.cut_short


def _after(first: Columns | None, rest: Iterator[Columns]) -> Iterator[Columns]:
    if first is not None:
        yield first
    yield from rest
