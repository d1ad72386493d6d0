"""Can this loom weave this draft, and how do the feet move? The whole answer, from the draft to the proof.

`remap` puts the parts together: the search for the fewest treadles (`fewest`), the choice among its answers and the
feet (`tying`), and, where it does not fit, what is in the way (`conflict`), where to stop and tie anew (`stages`) and
what else would do (`alternatives`). Nothing leaves here that `proof` has not woven.

A loom with fewer shafts than the draft declares weaves it as long as no end is on the missing shafts: lifting an
empty shaft changes no cloth. Otherwise the verdict says which shafts are missing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cached_property

from companion.draft.masks import Shed, common, every_shaft
from companion.draft.model import Draft, Treadled, distinct
from companion.remap.alternatives import other_ways
from companion.remap.answers import (
    OnProgress,
    Outcome,
    OutOfBudget,
    ProvedImpossible,
    ShouldStop,
    Solved,
    never_stop,
    tell_nobody,
)
from companion.remap.askable import check_askable
from companion.remap.conflict import conflict_among
from companion.remap.fewest import fewest_treadles, fits, minimal_answers
from companion.remap.footings import columns_of
from companion.remap.footwork import Walk
from companion.remap.levers import lever_changes
from companion.remap.loom import Action, Loom, Tie, TieUp
from companion.remap.proof import ProofFailedError, same_cloth, shafts_up, weaves_the_draft
from companion.remap.remapped import Fewest, Legwork, Remapping, TiedStage, Verdict
from companion.remap.retying import Plan, fewest_cords_in_all
from companion.remap.stages import Furthest, fewest_stages
from companion.remap.targets import targets_of, tie_of
from companion.remap.tying import Job, by_treadle, keeping_most, shed_feet, stage_of, tie, tie_to


def remap(
    draft: Draft,
    loom: Loom,
    *,
    present: TieUp | None = None,
    should_stop: ShouldStop = never_stop,
    progress: OnProgress = tell_nobody,
) -> Remapping:
    """Find how this loom weaves the draft; `present` is the tie-up now on it, where that is to be kept.

    Stops as soon as it can when `should_stop` says so, with what is known by then. Raises RemapError for a loom that
    makes no sense (more than 20 treadles, a present tie-up larger than the loom).
    """
    check_askable(loom, present)
    used = {shaft + 1 for shaft in draft.threading if shaft is not None}
    missing = tuple(sorted(shaft for shaft in used if shaft > loom.shafts))
    if missing:
        return Remapping(loom, Verdict.TOO_FEW_SHAFTS, Fewest(None, 0), distinct(draft.sheds()), missing_shafts=missing)
    return _Question(draft, loom, present, should_stop, progress).answer()


class _Question:
    """One draft on one loom; holds what every part of the answer needs."""

    def __init__(
        self, draft: Draft, loom: Loom, present: TieUp | None, should_stop: ShouldStop, progress: OnProgress
    ) -> None:
        self.draft = draft
        self.loom = loom
        self.should_stop = should_stop
        self.progress = progress
        self.shafts = min(draft.shafts, loom.shafts)
        within_loom = every_shaft(self.shafts)
        self.present = None if present is None else tuple(_cut(tied, within_loom) for tied in present)
        cut = {shed: common(shed, within_loom) for shed in set(draft.sheds())}
        self.shed_of_pick = tuple(cut[shed] for shed in draft.sheds())
        self.sheds = distinct(self.shed_of_pick)
        self._known_to_fit: dict[frozenset[int], TieUp] = {}
        self._tied: dict[tuple[tuple[int, ...], TieUp | None], tuple[TieUp, Walk, Legwork, bool]] = {}
        """Stages worked out before: the stages of a repeat are alike."""

    def answer(self) -> Remapping:
        if self.loom.action is Action.LEVERS:
            return self._levers()
        if not self.sheds:
            return Remapping(self.loom, Verdict.FITS, Fewest(0, 0), (), proven_cloth=self._same_without_treadles())
        self._targets = dict(zip(self.sheds, targets_of(self.sheds, self.shafts, self.loom.action), strict=True))
        self._treadling = tuple(self._targets[shed] for shed in self.shed_of_pick)
        found = fewest_treadles(
            self.sheds,
            self.shafts,
            self.loom.action,
            self.loom.reach,
            should_stop=self.should_stop,
            progress=self.progress,
        )
        fewest = _fewest_of(found, self._one_each())
        if fewest.treadles is not None and fewest.treadles <= self.loom.treadles:
            stage = self._tie(0, len(self._treadling), self._tieups(found), self.present, at_section_end=False)
            return Remapping(self.loom, Verdict.FITS, fewest, self.sheds, (stage,), self._proven((stage,)))
        if fewest.at_least <= self.loom.treadles:
            return Remapping(self.loom, Verdict.UNKNOWN, fewest, self.sheds)
        return self._re_tied(fewest)

    def _levers(self) -> Remapping:
        if not same_cloth(self.draft, shafts_up(self.shed_of_pick, self.draft.shafts)):
            raise ProofFailedError("the levers do not weave the draft")
        changes = lever_changes(self.shed_of_pick)
        return Remapping(self.loom, Verdict.FITS, Fewest(0, 0), self.sheds, proven_cloth=True, levers=changes)

    def _same_without_treadles(self) -> bool:
        return same_cloth(self.draft, shafts_up((), self.draft.shafts))

    def _one_each(self) -> int:
        return sum(1 for target in self._targets.values() if target)

    def _tieups(self, found: Outcome) -> Iterator[TieUp]:
        """Yield tie-ups with so few treadles, the one that the search found first."""
        first = found.answer if isinstance(found, Solved) else found.best if isinstance(found, OutOfBudget) else None
        if first is None or first.treadles > self._one_each():
            yield self._each_alone(set(self._targets.values()))
            return
        yield first.tieup
        if isinstance(found, Solved):
            for answer in minimal_answers(
                self.sheds,
                self.shafts,
                self.loom.action,
                self.loom.reach,
                first.treadles,
                should_stop=self.should_stop,
            ):
                if set(answer.tieup) != set(first.tieup) or self.loom.reach == 2:
                    yield answer.tieup

    def _tie(
        self, first: int, stop: int, tieups: Iterator[TieUp], present: TieUp | None, *, at_section_end: bool
    ) -> TiedStage:
        job = Job(self.loom, self.shafts, self._treadling[first:stop], present, self._draft_order)
        key = (job.treadling, present)
        if key not in self._tied:
            if present is not None and self.loom.reach == 1 and first and not self.should_stop():
                tieups = _after(keeping_most(present, job), tieups)
            self._tied[key] = tie(job, tieups, self.should_stop)
        tieup, walk, legwork, fewest_cords = self._tied[key]
        feet = shed_feet(self.shed_of_pick[first:stop], walk.footings)
        # A later stage may use more treadles than the fewest; that no such answer has fewer cords is not proven.
        return stage_of(
            job,
            first,
            tieup,
            walk,
            legwork,
            feet,
            fewest_cords=fewest_cords and not first,
            at_section_end=at_section_end,
        )

    @cached_property
    def _draft_order(self) -> tuple[int, ...]:
        if not isinstance(self.draft.lifting, Treadled):
            return ()
        every = every_shaft(self.shafts)
        ties = [common(tied, every) for tied in self.draft.lifting.tieup]
        if not self.draft.rising:
            ties = [Shed(every ^ tied) for tied in ties]
        return targets_of(ties, self.shafts, self.loom.action)

    def _proven(self, stages: tuple[TiedStage, ...]) -> bool:
        for stage in stages:
            if not weaves_the_draft(self.draft, self.loom, stage.tieup, stage.footings, first=stage.first):
                raise ProofFailedError(f"picks {stage.first + 1} to {stage.last + 1} are other cloth")
        return True

    def _re_tied(self, fewest: Fewest) -> Remapping:
        shed_of = {target: shed for shed, target in self._targets.items()}

        def fit(targets: frozenset[int]) -> bool:
            if len(targets) <= self.loom.treadles:
                return True
            found = self._decide([shed_of[target] for target in sorted(targets)])
            if found is None:
                raise _UndecidedError
            if isinstance(found, Solved):
                self._known_to_fit[targets] = found.answer.tieup
            return isinstance(found, Solved)

        ends: list[int] = []
        for section in self.draft.sections:
            ends.append((ends[-1] if ends else 0) + section.picks)
        try:
            furthest = Furthest(self._treadling, fit)
            whole = self._whole_plan(furthest, ends)
            stages = self._stage_by_stage(furthest, ends) if whole is None else self._planned(whole, ends)
        except _UndecidedError:
            return Remapping(self.loom, Verdict.UNKNOWN, fewest, self.sheds)
        answer = Remapping(
            self.loom,
            Verdict.RE_TIE,
            fewest,
            self.sheds,
            stages,
            self._proven(stages),
            None if self.should_stop() else conflict_among(self.sheds, self._verdict),
            other_ways(self.draft, self.loom, self.shafts, self.shed_of_pick, self.should_stop),
        )
        return replace(answer, fewest_cords_in_all=whole is not None and answer.cords_in_all <= whole.cords)

    def _whole_plan(self, furthest: Furthest, ends: Sequence[int]) -> Plan | None:
        """Return the plan that changes fewest cords in all, where every tie-up the loom can hold can be weighed."""
        if self.loom.reach != 1 or self.should_stop():
            return None
        present = None
        if self.present is not None:
            tied = columns_of(self.present, self.shafts, self.loom.action)
            present = by_treadle(tied, range(len(tied)), self.loom.treadles)
        try:
            return fewest_cords_in_all(furthest, ends, self.loom.treadles, present, self.should_stop)
        except _UndecidedError:
            # It asks how far more stages go than stage by stage need be known.
            return None

    def _planned(self, plan: Plan, ends: Sequence[int]) -> tuple[TiedStage, ...]:
        stages: list[TiedStage] = []
        before = self.present
        for picks, columns in zip(plan.stages, plan.columns, strict=True):
            job = Job(self.loom, self.shafts, self._treadling[picks.start : picks.stop], before, self._draft_order)
            tieup, walk, legwork = tie_to(job, columns, self.should_stop)
            feet = shed_feet(self.shed_of_pick[picks.start : picks.stop], walk.footings)
            at_end = picks.start in ends
            # Fewest are the cords of the whole plan; one stage may change more to spare the next.
            stages.append(
                stage_of(job, picks.start, tieup, walk, legwork, feet, fewest_cords=False, at_section_end=at_end)
            )
            before = tieup
        return tuple(stages)

    def _stage_by_stage(self, furthest: Furthest, ends: Sequence[int]) -> tuple[TiedStage, ...]:
        """Return the stages with most stops at section ends, the cords chosen from the stage before, one by one."""
        stages: list[TiedStage] = []
        before = self.present
        for picks in fewest_stages(furthest, ends):
            sheds = distinct(self.shed_of_pick[picks.start : picks.stop])
            stage = self._tie(
                picks.start, picks.stop, self._stage_tieups(sheds), before, at_section_end=picks.start in ends
            )
            stages.append(stage)
            before = stage.tieup
        return tuple(stages)

    def _stage_tieups(self, sheds: tuple[Shed, ...]) -> Iterator[TieUp]:
        """Yield tie-ups for the sheds of a stage: those with fewest treadles, else the one that proved that it fits."""
        loom = self.loom
        answers = minimal_answers(
            sheds, self.shafts, loom.action, loom.reach, loom.treadles, should_stop=self.should_stop
        )
        any_answer = False
        for answer in answers:
            any_answer = True
            yield answer.tieup
        if not any_answer:
            targets = frozenset(self._targets[shed] for shed in sheds)
            yield self._known_to_fit.get(targets) or self._each_alone(targets)

    def _each_alone(self, targets: Iterable[int]) -> TieUp:
        return tuple(tie_of(target, self.shafts, self.loom.action) for target in sorted(targets) if target)

    def _decide(self, sheds: Sequence[Shed]) -> Solved | ProvedImpossible | None:
        loom = self.loom
        found = fits(sheds, self.shafts, loom.action, loom.reach, loom.treadles, should_stop=self.should_stop)
        return None if isinstance(found, OutOfBudget) else found

    def _verdict(self, sheds: Sequence[Shed]) -> bool | None:
        found = self._decide(sheds)
        return None if found is None else isinstance(found, Solved)


class _UndecidedError(Exception):
    """The search was stopped before it knew whether a stage fits."""


def _fewest_of(found: Outcome, one_each: int) -> Fewest:
    """Return what the search knows; one treadle for each shed always does."""
    if isinstance(found, Solved):
        return Fewest(found.treadles, found.at_least)
    if isinstance(found, OutOfBudget) and found.best is not None:
        return Fewest(min(found.best.treadles, one_each), found.at_least)
    return Fewest(one_each, found.at_least)


def _after(first: TieUp | None, rest: Iterator[TieUp]) -> Iterator[TieUp]:
    if first is not None:
        yield first
    yield from rest


def _cut(tied: Tie, within_loom: Shed) -> Tie:
    return Tie(common(tied.up, within_loom), common(tied.down, within_loom))
