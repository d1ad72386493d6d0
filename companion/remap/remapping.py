"""Can this loom weave this draft, and how do the feet move? The whole answer, from the draft to the proof.

`remap` puts the parts together, in this order: the draft becomes a question in sheds and targets (`question`), the
search finds columns (`fewest`), a tie-up is chosen for what is aimed at, with the feet on it (`aimed`), and the cloth
is woven and compared (`proof`). Where it does not fit: what is in the way (`conflict`), where to stop and
tie anew (`plan_stages`) and what else would do (`alternatives`). Only this order belongs here, and how long each part
may take; nothing leaves that has not been proved.

Every part has its budget (see `budget`): what a part has not proved by then it calls not proven. First comes whether
the draft fits; that alone is searched for ten times longer than how few treadles might do as well. A thorough answer
keeps to the budgets first: only when every part has been answered is what they left open worked at without limit, so
that whoever stops it never has less for having waited longer.

A shaft without ends is no cloth: sheds are said of the shafts that carry ends, and lifting another changes nothing. So
a loom with fewer shafts than the draft declares weaves it as long as no end is on the missing shafts.
Otherwise the verdict says which shafts are missing.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from companion.draft.masks import Shed
from companion.draft.model import Draft, distinct
from companion.draft.tabby import tabby_sheds
from companion.remap.aim import Aim
from companion.remap.aimed import tied_for
from companion.remap.alternatives import other_ways
from companion.remap.askable import check_askable
from companion.remap.errors import RemapError
from companion.remap.feet.place_tieup import PlacedTieUp, place_best
from companion.remap.feet.tied_stage import TiedStage
from companion.remap.loom.levers import lever_changes
from companion.remap.loom.loom import Action, Loom, TieUp
from companion.remap.loom.question import Question, each_alone, question
from companion.remap.loom.targets import Columns
from companion.remap.proof import ProofFailedError, same_cloth, shafts_up, weaves_the_draft
from companion.remap.remapped import Remapping, Verdict
from companion.remap.search.alike import names_of
from companion.remap.search.answers import (
    OnProgress,
    Outcome,
    Part,
    ProvedImpossible,
    SearchProgress,
    ShouldStop,
    Solved,
    never_stop,
    tell_nobody,
)
from companion.remap.search.bounds import Bounds
from companion.remap.search.budget import NO_LIMIT, Budget, BudgetShare
from companion.remap.search.conflict import Conflict, conflict_among
from companion.remap.search.fewest import fewest_treadles, minimal_answers
from companion.remap.stages.known_fits import KnownFits, StoppedError
from companion.remap.stages.plan_stages import StagePlan, plan_stages
from companion.remap.turned_over import told_of_the_back, turned_over

EFFORTS_TO_FIT = 20.0
"""How long it is searched whether the draft fits."""
EFFORTS_FOR_FEWEST = 2.0
"""How long it is searched for the fewest treadles once that is known."""
EFFORTS_FOR_OTHERS = 1.0
"""How long other answers with as few treadles are looked for."""
EFFORTS_FOR_STAGES = 2.0
EFFORTS_FOR_CONFLICT = 1.0


def remap(
    draft: Draft,
    loom: Loom,
    *,
    present: TieUp | None = None,
    aim: Aim | None = None,
    face_down: bool = False,
    thorough: bool = False,
    should_stop: ShouldStop = never_stop,
    progress: OnProgress = tell_nobody,
) -> Remapping:
    """Find how this loom weaves the draft; `present` is the tie-up now on it, where that is to be kept.

    `aim` says what the tie-up is chosen for; where nobody says, fewest cords with a present tie-up, else the feet.

    With `face_down` the cloth lies with its face below, and sheds, tie-up and feet are those on the loom.
    Stops as soon as it can when `should_stop` says so, with what is known by then. Without that every part ends at the
    end of its budget; `thorough` gives every part all the time there is. Raises RemapError for a loom that makes no
    sense (more than 20 treadles, a present tie-up larger than the loom), for a draft to be woven face down that has an
    end on no shaft, and for an aim that cannot be: fewest cords without a present tie-up, or the draft's own tie-up
    where it has none for this loom.
    """
    wanted = turned_over(draft) if face_down else draft
    if aim is None:
        aim = Aim.FEET if present is None else Aim.CORDS
    if aim is Aim.CORDS and present is None and loom.action is not Action.LEVERS:
        raise RemapError("fewest cords are counted from the tie-up now on the loom", mend="say it with --present")
    found = _answer(wanted, loom, present, aim, thorough, should_stop, progress)
    answer = replace(found, aim=aim, tabby=tabby_sheds(draft.threading))
    return told_of_the_back(draft, answer) if face_down else answer


def _answer(
    draft: Draft,
    loom: Loom,
    present: TieUp | None,
    aim: Aim,
    thorough: bool,
    should_stop: ShouldStop,
    progress: OnProgress,
) -> Remapping:
    check_askable(loom, present)
    used = {shaft + 1 for shaft in draft.threading if shaft is not None}
    missing = tuple(sorted(shaft for shaft in used if shaft > loom.shafts))
    if missing:
        sheds = distinct(draft.sheds_of_ends())
        return Remapping(loom, Verdict.TOO_FEW_SHAFTS, Bounds(0, None), sheds, missing_shafts=missing)
    asked = question(draft, loom, present)
    if loom.action is Action.LEVERS:
        return _levers(asked)
    if not asked.sheds:
        same = same_cloth(draft, shafts_up((), draft.shafts))
        return Remapping(loom, Verdict.FITS, Bounds(0, 0), (), proven_cloth=same)
    return _Pipeline(asked, aim, thorough, should_stop, progress).answer()


def _levers(asked: Question) -> Remapping:
    if not same_cloth(asked.draft, shafts_up(asked.shed_of_pick, asked.draft.shafts)):
        raise ProofFailedError("the levers do not weave the draft")
    changes = lever_changes(asked.shed_of_pick)
    return Remapping(asked.loom, Verdict.FITS, Bounds(0, 0), asked.sheds, proven_cloth=True, levers=changes)


class _Pipeline:
    """One question on its way to the answer, part by part."""

    def __init__(
        self, asked: Question, aim: Aim, thorough: bool, should_stop: ShouldStop, progress: OnProgress
    ) -> None:
        self._asked = asked
        self._aim = aim
        self._thorough = thorough
        self._should_stop = should_stop
        self._listener = progress
        self._told = SearchProgress(Bounds(0, asked.one_each), 0)

    def answer(self) -> Remapping:
        asked = self._asked
        found = self._fewest_treadles(EFFORTS_FOR_FEWEST)
        fewest = _fewest_of(found, asked.one_each)
        if fewest.best is not None and fewest.best <= asked.loom.treadles:
            return self._fitting(found, fewest)
        if fewest.at_least <= asked.loom.treadles:
            return Remapping(asked.loom, Verdict.UNKNOWN, fewest, asked.sheds)
        return self._re_tied(found, fewest)

    def _budget(self, efforts: float) -> Budget:
        return Budget(self._should_stop, NO_LIMIT if self._thorough else efforts)

    def _begin(self, part: Part) -> None:
        self._told = replace(self._told, part=part)
        self._listener(self._told)

    def _tell(self, progress: SearchProgress) -> None:
        self._told = progress
        self._listener(progress)

    def _fewest_treadles(self, efforts: float) -> Outcome:
        """Search until it is known whether it fits; from then on only for so many efforts."""
        asked = self._asked
        looking = self._budget(EFFORTS_TO_FIT).share(len(asked.sheds), asked.loom.reach)
        closing_in = Budget(self._should_stop, efforts).share(len(asked.sheds), asked.loom.reach)

        def stop() -> bool:
            told, treadles = self._told.bounds, asked.loom.treadles
            best = asked.one_each if told.best is None else min(told.best, asked.one_each)
            closing_in()
            return looking() or (closing_in.cut_short and (best <= treadles or told.at_least > treadles))

        # By names that do not depend on how the shafts are numbered, and so the answer does not.
        names = names_of(asked.treadling)
        wanted = [names.target(target) for target in asked.wanted]
        found = fewest_treadles(wanted, asked.loom.reach, should_stop=stop, progress=self._tell)
        if isinstance(found, ProvedImpossible) or found.columns is None:
            return found
        return replace(found, columns=names.unnamed(found.columns))

    def _fitting(self, found: Outcome, fewest: Bounds) -> Remapping:
        asked = self._asked
        self._begin(Part.FEET)
        stage = self._on_one_tieup(found)
        if self._thorough and not fewest.proven:
            found = self._fewest_treadles(NO_LIMIT)
            before, fewest = fewest, fewest.narrowed(_fewest_of(found, asked.one_each))
            if fewest.best != before.best and not self._should_stop():
                self._begin(Part.FEET)
                again = self._on_one_tieup(found)
                if self._aim is Aim.TREADLES or _less_to_do(again, stage):
                    stage = again
        return Remapping(asked.loom, Verdict.FITS, fewest, asked.sheds, (stage,), self._proven((stage,)))

    def _on_one_tieup(self, found: Outcome) -> TiedStage:
        asked = self._asked

        def place_fewest() -> PlacedTieUp:
            budget = self._budget(EFFORTS_FOR_OTHERS).share(len(asked.sheds), asked.loom.reach)
            job = asked.job(0, len(asked.treadling), asked.present)
            return place_best(job, self._tieups(found, budget), self._should_stop, lambda: budget.cut_short)

        return tied_for(self._aim, asked, self._fewest_by_reach(found), place_fewest, self._should_stop)

    def _fewest_by_reach(self, found: Outcome) -> tuple[Columns, ...]:
        """Return the answers with fewest treadles that feet of each reach up to the loom's can press."""
        asked = self._asked
        own = found.columns if found.columns is not None else each_alone(asked.wanted)
        if asked.loom.reach == 1 or self._aim not in (Aim.FEET, Aim.CORDS):
            return (own,)
        names = names_of(asked.treadling)
        share = Budget(self._should_stop, EFFORTS_FOR_FEWEST).share(len(asked.sheds), 1)
        one = fewest_treadles([names.target(target) for target in asked.wanted], 1, should_stop=share)
        return (own,) if one.columns is None else (names.unnamed(one.columns), own)

    def _tieups(self, found: Outcome, budget: BudgetShare) -> Iterator[Columns]:
        """Yield the columns of tie-ups with so few treadles, the one that the search found first."""
        asked = self._asked
        first = found.columns
        if not isinstance(found, Solved):
            # Fewer treadles may do, and of others with as many none is looked for: nothing is the least of them all.
            budget.cut_short = True
        if first is None or len(first) > asked.one_each:
            yield each_alone(asked.wanted)
            return
        yield first
        if isinstance(found, Solved):
            for columns in minimal_answers(asked.wanted, asked.loom.reach, len(first), should_stop=budget):
                if set(columns) != set(first) or asked.loom.reach == 2:
                    yield columns

    def _proven(self, stages: tuple[TiedStage, ...]) -> bool:
        for stage in stages:
            if not weaves_the_draft(
                self._asked.draft, self._asked.loom, stage.tieup, stage.footings, first=stage.first
            ):
                raise ProofFailedError(f"picks {stage.first + 1} to {stage.last + 1} are other cloth")
        return True

    def _re_tied(self, found: Outcome, fewest: Bounds) -> Remapping:
        asked = self._asked
        self._begin(Part.STAGES)
        budget = Budget(self._should_stop, EFFORTS_FOR_STAGES)
        fits = KnownFits(asked, budget)
        try:
            plan = plan_stages(asked, fits, budget)
        except StoppedError:
            return Remapping(asked.loom, Verdict.UNKNOWN, fewest, asked.sheds)
        self._begin(Part.CONFLICT)
        fits.go_on(Budget(self._should_stop, EFFORTS_FOR_CONFLICT))
        conflict = self._conflict(fits)
        self._begin(Part.OTHER_WAYS)
        alternatives = other_ways(asked, found, False, self._should_stop)
        if self._thorough:
            if not fewest.proven:
                found = self._fewest_treadles(NO_LIMIT)
                fewest = fewest.narrowed(_fewest_of(found, asked.one_each))
            if not plan.fewest_stages:
                self._begin(Part.STAGES)
                plan = self._planned_without_limit(plan, fits)
            if conflict is None or not conflict.irreducible:
                self._begin(Part.CONFLICT)
                fits.go_on(Budget(self._should_stop, NO_LIMIT), NO_LIMIT)
                conflict = self._conflict(fits) or conflict
            self._begin(Part.OTHER_WAYS)
            more = other_ways(asked, found, True, self._should_stop)
            alternatives = more if len(more) >= len(alternatives) else alternatives
        return Remapping(
            asked.loom,
            Verdict.RE_TIE,
            fewest,
            asked.sheds,
            plan.stages,
            self._proven(plan.stages),
            fewest_stages=plan.fewest_stages,
            fewest_cords_in_all=plan.fewest_cords_in_all,
            conflict=conflict,
            alternatives=alternatives,
        )

    def _planned_without_limit(self, plan: StagePlan, fits: KnownFits) -> StagePlan:
        """Plan the stages once more with all the time there is; a plan that was stopped has to have fewer of them."""
        budget = Budget(self._should_stop, NO_LIMIT)
        fits.go_on(budget, NO_LIMIT)
        try:
            again = plan_stages(self._asked, fits, budget)
        except StoppedError:
            return plan
        return plan if self._should_stop() and len(again.stages) >= len(plan.stages) else again

    def _conflict(self, fits: KnownFits) -> Conflict | None:
        """Return what is in the way, sought among few sheds that are known not to fit."""
        if self._should_stop():
            return None
        fewest = min(fits.unfit, key=len, default=frozenset(self._asked.wanted))
        sheds = [shed for shed in self._asked.sheds if self._asked.targets[shed] in fewest]

        def verdict(some: Sequence[Shed]) -> bool | None:
            try:
                return fits.of_sheds(some)
            except StoppedError:
                return None

        return conflict_among(sheds, verdict)


def _less_to_do(one: TiedStage, other: TiedStage) -> bool:
    """Tell whether a stage changes fewer cords, or as few with less footwork."""
    return _to_do(one) < _to_do(other)


def _to_do(stage: TiedStage) -> tuple[int, int]:
    return stage.cords_changed or 0, 0 if stage.footwork is None else stage.footwork.cost


def _fewest_of(found: Outcome, one_each: int) -> Bounds:
    """Return what the search knows; one treadle for each shed always does."""
    return found.bounds.narrowed(Bounds(0, one_each))
