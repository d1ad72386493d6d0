"""One question on its way to the answer, part by part, and how long each part may take.

Every part has its budget (see `budget`): what it has not proved by then it calls not proven. The fewest treadles come
first, and their budget does not ask how many treadles the loom has: so neither does what comes out. Where it is not
known by then whether the draft fits, the answer says so and still brings a plan of tying anew and the other ways, as it
does whenever somebody says stop. A thorough answer keeps to the budgets first: only when every part has been answered
is what they left open worked at without limit, so that nobody has less for having waited longer.

At reach 2 the fewest for reach 1 are looked for first, as long as on a loom of reach 1: every one of those answers is
one at reach 2 as well, so the longer reach never has the worse answer.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from companion.remap.aim import Aim
from companion.remap.aimed import tied_for
from companion.remap.alternatives import other_ways
from companion.remap.feet.place_tieup import PlacedTieUp, place_best
from companion.remap.feet.tied_stage import TiedStage
from companion.remap.loom.question import Question, each_alone
from companion.remap.loom.targets import Columns, Target
from companion.remap.proof import ProofFailedError, weaves_the_draft
from companion.remap.remapped import OnAnswer, Remapping, Verdict
from companion.remap.search.alike import names_of
from companion.remap.search.answers import (
    OnProgress,
    Outcome,
    OutOfBudget,
    Part,
    ProvedImpossible,
    SearchProgress,
    ShouldStop,
    Solved,
    tell_nobody,
)
from companion.remap.search.bounds import Bounds
from companion.remap.search.budget import NO_LIMIT, Budget, BudgetShare
from companion.remap.search.conflict import Conflict, conflict_among
from companion.remap.search.fewest import fewest_treadles, minimal_answers
from companion.remap.search.remembered import LastFew
from companion.remap.stages.known_fits import KnownFits
from companion.remap.stages.laps import sections_tied_anew
from companion.remap.stages.plan_stages import StagePlan, plan_stages

EFFORTS_AT_FIRST = 0.1
"""How long the fewest treadles are searched for before a first answer is given to whoever listens."""
DONE_AT_ONCE = 8
"""With no more sheds than these the whole answer comes as soon as a first one would."""
EFFORTS_FOR_FEWEST = 2.0
"""How long they are searched for in all, whatever the loom has."""
EFFORTS_FOR_OTHERS = 1.0
"""How long other answers with as few treadles are looked for."""
EFFORTS_FOR_STAGES = 2.0
EFFORTS_FOR_CONFLICT = 1.0
EFFORTS_OF_OTHER_WAY = 0.65
"""How long the fewest treadles of one other way are searched for."""

_sought_last: LastFew[tuple[tuple[Target, ...], int, Columns | None, float], Outcome] = LastFew(6)
"""Outcomes by targets (named), reach, what was known to do, and efforts."""


class Pipeline:
    """Puts the parts together; `so_far` hears a whole answer early where the last one takes longer."""

    def __init__(
        self,
        asked: Question,
        aim: Aim,
        thorough: bool,
        should_stop: ShouldStop,
        progress: OnProgress,
        so_far: OnAnswer | None = None,
        *,
        planned: bool = True,
    ) -> None:
        """Without `planned` nothing is said of a draft that is known not to fit, or not known to, but how few do."""
        self._asked = asked
        self._planned = planned
        self._aim = aim
        self._thorough = thorough
        self._should_stop = should_stop
        self._listener = progress
        self._so_far = so_far
        self._told = SearchProgress(Bounds(0, asked.one_each), 0)
        self._by_reach: dict[int, Columns] = {}
        """The fewest columns that feet of each reach can press, as far as they are known."""

    def answer(self) -> Remapping:
        """Return the answer. Raises RemapError for an aim that cannot be."""
        if self._so_far is not None and self._asked.one_each > DONE_AT_ONCE:
            found = self._fewest_treadles(EFFORTS_AT_FIRST)
            if not self._should_stop():
                # Whatever can be stopped is, at its first look: a plan, feet and bounds come along all the same.
                quick = Pipeline(self._asked, self._aim, False, lambda: True, self._listener, planned=self._planned)
                quick._by_reach = dict(self._by_reach)
                self._so_far(quick._answered(found, 0.0))
            if isinstance(found, Solved):
                return self._answered(found, EFFORTS_FOR_STAGES)
        return self._answered(self._fewest_treadles(EFFORTS_FOR_FEWEST), EFFORTS_FOR_STAGES)

    def _answered(self, found: Outcome, efforts: float) -> Remapping:
        fewest = _fewest_of(found, self._asked.one_each)
        if self._fits(fewest):
            return self._fitting(found, fewest)
        too_many = fewest.at_least > self._asked.loom.treadles
        if not self._planned and (too_many or self._should_stop()):
            return Remapping(
                self._asked.loom, Verdict.RE_TIE if too_many else Verdict.UNKNOWN, fewest, self._asked.sheds
            )
        return self._re_tied(found, fewest, efforts)

    def _fits(self, fewest: Bounds) -> bool:
        return fewest.best is not None and fewest.best <= self._asked.loom.treadles

    def _budget(self, efforts: float) -> Budget:
        return Budget(self._should_stop, NO_LIMIT if self._thorough else efforts)

    def _begin(self, part: Part) -> None:
        self._told = replace(self._told, part=part)
        self._listener(self._told)

    def _tell(self, progress: SearchProgress) -> None:
        self._told = progress
        self._listener(progress)

    def _fewest_treadles(self, efforts: float) -> Outcome:
        """Search for the fewest treadles; reach 1 first, which may do as well."""
        # By names that do not depend on how the shafts are numbered, and so the answer does not.
        names = names_of(self._asked.treadling)
        wanted = [names.target(target) for target in self._asked.wanted]
        known: Columns | None = None
        for reach in range(1, self._asked.loom.reach + 1):
            last = reach == self._asked.loom.reach
            share = Budget(self._should_stop, efforts if last else min(efforts, EFFORTS_FOR_FEWEST))
            tell = self._tell if last else tell_nobody
            found = self._sought(wanted, reach, known, share, tell)
            known = found.columns
            if known is not None:
                self._by_reach[reach] = names.unnamed(known)
        if isinstance(found, ProvedImpossible) or found.columns is None:
            return found
        return replace(found, columns=names.unnamed(found.columns))

    def _sought(
        self, wanted: Sequence[Target], reach: int, known: Columns | None, budget: Budget, tell: OnProgress
    ) -> Outcome:
        """Search for the fewest treadles, or remember what came out for another aim, if nobody had said stop then."""
        key = tuple(wanted), reach, known, budget.left
        remembered = _sought_last.get(key)
        if remembered is not None:
            tell(SearchProgress(remembered.bounds, remembered.nodes))
            return remembered
        looking = budget.share(len(wanted), reach)
        found = fewest_treadles(wanted, reach, known=known, should_stop=looking, progress=tell)
        if not self._should_stop():
            _sought_last.keep(key, found)
        return found

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
            return place_best(
                job,
                self._tieups(found, budget),
                self._should_stop,
                lambda: budget.cut_short,
                no_others=self._aim is Aim.TREADLES,
            )

        return tied_for(self._aim, asked, self._fewest_by_reach(found), place_fewest, self._should_stop)

    def _fewest_by_reach(self, found: Outcome) -> tuple[Columns, ...]:
        """Return the answers with fewest treadles that feet of each reach up to the loom's can press."""
        own = found.columns if found.columns is not None else each_alone(self._asked.wanted)
        return tuple(dict.fromkeys((*self._by_reach.values(), own)))

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

    def _re_tied(self, found: Outcome, fewest: Bounds, efforts: float) -> Remapping:
        """Return a plan of tying anew, what is in the way and what else would do; it may fit after all."""
        asked = self._asked
        self._begin(Part.STAGES)
        fits = KnownFits(asked, Budget(self._should_stop, efforts))
        plan = plan_stages(asked, fits, Budget(self._should_stop, efforts))
        if len(plan.stages) == 1:
            return self._fitting(*self._fitting_after_all(fits, fewest))
        self._begin(Part.CONFLICT)
        fits.go_on(Budget(self._should_stop, EFFORTS_FOR_CONFLICT * bool(efforts)))
        conflict = self._conflict(fits)
        self._begin(Part.OTHER_WAYS)
        alternatives = other_ways(asked, found, EFFORTS_OF_OTHER_WAY * bool(efforts), self._should_stop)
        if self._thorough:
            if not fewest.proven:
                found = self._fewest_treadles(NO_LIMIT)
                fewest = fewest.narrowed(_fewest_of(found, asked.one_each))
                if self._fits(fewest):
                    return self._fitting(found, fewest)
            if not plan.fewest_stages:
                self._begin(Part.STAGES)
                plan = self._planned_without_limit(plan, fits)
            if conflict is None or not conflict.irreducible:
                self._begin(Part.CONFLICT)
                fits.go_on(Budget(self._should_stop, NO_LIMIT), NO_LIMIT)
                conflict = self._conflict(fits) or conflict
            self._begin(Part.OTHER_WAYS)
            alternatives = other_ways(asked, found, NO_LIMIT, self._should_stop, alternatives)
        if fits.unfit:
            fewest = fewest.narrowed(Bounds(asked.loom.treadles + 1, None))
        return Remapping(
            asked.loom,
            Verdict.RE_TIE if fewest.at_least > asked.loom.treadles else Verdict.UNKNOWN,
            fewest,
            asked.sheds,
            plan.stages,
            self._proven(plan.stages),
            fewest_stages=plan.fewest_stages,
            fewest_cords_in_all=plan.fewest_cords_in_all,
            tied_anew_each_lap=sections_tied_anew(asked.draft.sections, plan.stages),
            conflict=conflict,
            alternatives=alternatives,
        )

    def _fitting_after_all(self, fits: KnownFits, fewest: Bounds) -> tuple[Outcome, Bounds]:
        """Return what is known once the plan needs no stop: whether so many treadles do is an easier question."""
        columns = fits.columns(frozenset(self._asked.wanted))
        if columns is None:
            raise AssertionError("a plan without a stop has a tie-up")
        fewest = fewest.narrowed(Bounds(fewest.at_least, sum(map(bool, columns))))
        return OutOfBudget(columns, fewest), fewest

    def _planned_without_limit(self, plan: StagePlan, fits: KnownFits) -> StagePlan:
        """Plan the stages once more with all the time there is; a plan that was stopped has to have fewer of them."""
        budget = Budget(self._should_stop, NO_LIMIT)
        fits.go_on(budget, NO_LIMIT)
        again = plan_stages(self._asked, fits, budget)
        return plan if self._should_stop() and len(again.stages) >= len(plan.stages) else again

    def _conflict(self, fits: KnownFits) -> Conflict | None:
        """Return what is in the way, sought among few sheds that are known not to fit."""
        if self._should_stop():
            return None
        fewest = min(fits.unfit, key=len, default=frozenset(self._asked.wanted))
        sheds = [shed for shed in self._asked.sheds if self._asked.targets[shed] in fewest]

        return conflict_among(sheds, fits.of_sheds)


def _less_to_do(one: TiedStage, other: TiedStage) -> bool:
    """Tell whether a stage changes fewer cords, or as few with less footwork."""
    return _to_do(one) < _to_do(other)


def _to_do(stage: TiedStage) -> tuple[int, int]:
    return stage.cords_changed or 0, 0 if stage.footwork is None else stage.footwork.cost


def _fewest_of(found: Outcome, one_each: int) -> Bounds:
    """Return what the search knows; one treadle for each shed always does."""
    return found.bounds.narrowed(Bounds(0, one_each))
