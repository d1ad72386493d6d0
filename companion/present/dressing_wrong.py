"""What is wrong while the loom is dressed: which ends, dent or shed, found by touching where, and how it is mended."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from companion.draft.facing import Facing, Side
from companion.draft.model import Draft
from companion.draft.units import counted
from companion.present.asking import Answer, Answered, Asked, AskedToWrite, AtDressing, Commands, FlowStep
from companion.present.dressing_words import look_at_words
from companion.present.mending_words import dent_mending_words, mending_words, near_words, neighbours_words
from companion.present.plain_weave import ask_where
from companion.present.threads_picture import ThreadInks
from companion.present.threads_touched import ask_hanging, ask_sleyed
from companion.present.which_end import ask_end, end_words
from companion.remap.loom.loom import Action
from companion.weaving.decide import Command
from companion.weaving.dressing import Dressing, sley_of
from companion.weaving.dressing_commands import find_shed_wrong, note_mistake, take_out_dressing
from companion.weaving.dressing_events import DressingTask
from companion.weaving.dressing_mending import dent_mending_of, hanging, mending_of, sleyed
from companion.weaving.dressing_view import view_trial
from companion.weaving.progress import Progress
from companion.weaving.trial_weave import ends_near
from companion.weaving.warp import Warp

REPAIRED = "repair heddle"
THREADED_ANEW = "threaded again"
SLEYED_ANEW = "sleyed again"
COUNT_INSTEAD = "Count instead"


def ask_mistake(
    warp: Warp, progress: Progress, task: DressingTask | None, facing: Facing, inks: ThreadInks
) -> Asked[AtDressing]:
    """Ask what is wrong: in the test weave the shed that is shown, else which end or dent, and how it is mended."""
    wrong = _Wrong(warp, progress.now.dressing, facing, inks)
    trial = view_trial(warp, progress.now.dressing) if task is DressingTask.TEST_WEAVE else None
    if trial is not None:
        which: Answer[AtDressing] = Answer(
            "Show where" if trial.shed.plain else "Say which end",
            lambda: (
                ask_where(wrong.draft, trial.shed.up, facing, inks, wrong.in_plain_weave)
                if trial.shed.plain
                else wrong.which_end()
            ),
        )
        return Asked(
            "This shed is wrong",
            (
                _do("Note it", (partial(find_shed_wrong, test=trial.test),), main=True),
                Answer("In your own words", partial(_ask_words, trial.test)),
                which,
            ),
            detail=look_at_words(trial.shed, warp.loom.loom.action is Action.LEVERS),
            topic="Something is wrong",
        )
    if task is DressingTask.SLEYING and sleyed(warp, progress.now.dressing):
        return Asked(
            "What is wrong?",
            (Answer("The ends in a dent", wrong.which_dent), Answer("A heddle", wrong.which_end)),
            topic="Something is wrong",
        )
    return wrong.which_end()


@dataclass(frozen=True, slots=True)
class _Wrong:
    """The questions after a mistake on one warp."""

    warp: Warp
    dressing: Dressing
    facing: Facing
    inks: ThreadInks

    @property
    def draft(self) -> Draft:
        return self.warp.pieces[0].draft

    def which_end(self) -> Asked[AtDressing]:
        """Ask for the end by touch where ends hang, else by counting."""
        hang = hanging(self.warp, self.dressing)
        count: Answer[AtDressing] = Answer(COUNT_INSTEAD, self._by_counting)
        if not hang:
            return self._by_counting()
        return ask_hanging(self.draft, hang, self.facing, self.inks, self.at_end, (count,))

    def _by_counting(self) -> Asked[AtDressing]:
        return ask_end(self.draft, self.facing, self.at_end)

    def which_dent(self) -> Asked[AtDressing]:
        """Ask for the dent by touch."""
        dents = sleyed(self.warp, self.dressing)
        return ask_sleyed(self.draft, sley_of(self.warp, self.dressing), dents, self.facing, self.inks, self._at_dent)

    def at_end(self, end: int, said: Side | None = None) -> Asked[AtDressing]:
        """Say what belongs there, and ask what becomes of it."""
        near = ends_near(self.warp, end)
        return self._at_ends(end, end, (near_words(near.ends, near.shafts),), more=True, said=said)

    def in_plain_weave(self, end: int) -> Asked[AtDressing]:
        """Say the same of an end that stands together with a neighbour in plain weave."""
        return self._at_ends(end, end, neighbours_words(ends_near(self.warp, end), end))

    def _at_ends(
        self, first: int, last: int, lines: tuple[str, ...], more: bool = False, said: Side | None = None
    ) -> Asked[AtDressing]:
        mending = mending_of(self.warp, self.dressing, first, last)
        one = first == last
        answers: list[Answer[AtDressing]] = []
        if mending.threaded:
            answers.append(
                _do(
                    f"{'A repair heddle is' if one else 'Repair heddles are'} in",
                    (self._note(mending.first, mending.last, REPAIRED),),
                    main=True,
                )
            )
        if mending.out is not None and mending.nearer is None:
            out: Command = partial(take_out_dressing, task=DressingTask.THREADING, count=mending.out)
            words = f"Take out {counted(mending.out, 'end')}"
            answers.append(_do(words, (self._note(first, last, THREADED_ANEW), out)))
        elif mending.threaded:
            answers.append(_do("It is threaded again", (self._note(first, last, THREADED_ANEW),)))
        answers.append(_do("Noted; mended later", (self._note(first, last),)))
        if more and mending.threaded:
            answers.append(Answer("Several ends, up to …", partial(self._other_end, first)))
        words = end_words(self.draft, first, self.facing, said)
        if not one:
            words = f"ends {first + 1} to {last + 1} from the {self.facing.first_end.value}"
        return Asked(words, tuple(answers), detail=mending_words(mending), lines=lines, topic="Something is wrong")

    def _other_end(self, one: int) -> Asked[AtDressing]:
        def to(other: int) -> FlowStep[AtDressing]:
            return self._at_ends(min(one, other), max(one, other), ())

        return ask_hanging(self.draft, hanging(self.warp, self.dressing), self.facing, self.inks, to)

    def _at_dent(self, dent: int) -> Asked[AtDressing]:
        mending = dent_mending_of(self.warp, self.dressing, dent)
        noted = partial(note_mistake, task=DressingTask.SLEYING, first=dent)
        later = _do("Noted; mended later", (noted,))
        anew = partial(noted, mended=True, note=SLEYED_ANEW)
        if mending.out is None:
            answers = (_do("It is sleyed again", (anew,), main=True), later)
        else:
            out: Command = partial(take_out_dressing, task=DressingTask.SLEYING, count=mending.out)
            answers = (_do(f"Take out {counted(mending.out, 'dent')}", (anew, out), main=True), later)
        return Asked(
            f"dent {dent + 1} from the {self.facing.first_end.value}",
            answers,
            detail=dent_mending_words(mending),
            topic="Something is wrong",
        )

    @staticmethod
    def _note(first: int, last: int, how: str = "") -> Command:
        return partial(note_mistake, task=DressingTask.THREADING, first=first, last=last, mended=bool(how), note=how)


def _ask_words(test: int) -> AskedToWrite[AtDressing]:
    return AskedToWrite(
        "What is wrong with this shed", lambda words: Answered((partial(find_shed_wrong, test=test, note=words),))
    )


def _do(words: str, commands: Commands, main: bool = False) -> Answer[AtDressing]:
    return Answer(words, lambda: Answered(commands), main)
