"""The text stepper of dressing: threading, sleying and all of it in a terminal, or fed by a pipe."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from itertools import chain

from companion.cli.dressing_keys import ALL_DONE, HELP, KEYS
from companion.cli.dressing_tying import all_tied, tie_next, treadles_to_tie, tying_lines, untie_last
from companion.cli.mistake_typed import end_typed, mend_words, mistake_typed
from companion.cli.typed import whole
from companion.draft.errors import DraftError, ShorthandError
from companion.draft.facing import Facing
from companion.draft.shorthand_sley import parse_sley
from companion.draft.sley import parse_reed
from companion.draft.units import Units, counted
from companion.journal.errors import JournalError
from companion.present.cautions import DRESSING_CAUTIONS
from companion.present.deeds import NOTHING_TO_UNDO, answer_words, ask_undo
from companion.present.dressing_words import (
    CALLED,
    ends_words,
    from_words,
    group_check_words,
    heading_words,
    left_words,
    look_at_words,
    looks_so_words,
    place_of,
    steps_words,
    task_words,
    to_mend_words,
    trial_words,
)
from companion.present.mending_words import near_words
from companion.present.wording import BETWEEN
from companion.remap.loom.loom import Action
from companion.weaving.decide import Command, pause, resume, undo, write_note
from companion.weaving.dressing import Dressing, is_counted_out, sley_of, state_of, to_mend
from companion.weaving.dressing_commands import (
    ONE_OF,
    begin_task,
    find_shed_wrong,
    plan_sley,
    settle_task,
    take_out_dressing,
)
from companion.weaving.dressing_events import Dressed, DressingTask, ShedFoundWrong, TaskState
from companion.weaving.dressing_view import DressingView, view_tasks, view_trial
from companion.weaving.dressing_way import BY_ENDS, DressingWay
from companion.weaving.errors import WeavingError, error_words
from companion.weaving.trial_weave import ends_near
from companion.workshop.loomside import AtTheLoom


@dataclass(slots=True)
class DressingStepper:
    """One sitting in the terminal."""

    loom: AtTheLoom
    way: DressingWay
    units: Units
    facing: Facing
    named: int | None = None
    """The entry that `u` named last: once more takes it back."""

    def run(self, lines: Iterable[str], say: Callable[[str], None]) -> None:
        """Show each step and act on each line until `q` or the end of the lines; the weaver is on a pause then.

        What is said to be done is on disk by then.
        """
        say(f"{self.loom.warp.name}{BETWEEN}{HELP}")
        if self.loom.notice:
            say(f"! {self.loom.notice}")
        # A program that was cut off left no pause behind; then too the weaver looks first whether it hangs so.
        self._leave()
        told: Iterable[str] = self._tasks()
        for line in chain((None,), lines):
            if line is not None:
                if line.strip().lower() == "q":
                    break
                told = self._answer(line.strip())
            for words in (*told, *self._place()):
                say(words)
        self._leave()
        say("paused; all of it is kept")

    @property
    def _hangs(self) -> bool:
        """Whether anything hangs that could look otherwise after a break."""
        task = self._task
        view = None if task is None else self.way.view(self.loom.warp, self.loom.progress, task)
        return view is not None and view.done > 0

    def _leave(self) -> None:
        if not self.loom.progress.now.paused:
            self.loom.do(pause)

    @property
    def _task(self) -> DressingTask | None:
        return self.way.task(self.loom.warp, self.loom.progress)

    @property
    def _dressing(self) -> Dressing:
        return self.loom.progress.now.dressing

    @property
    def _levers(self) -> bool:
        return self.loom.warp.loom.loom.action is Action.LEVERS

    def _tasks(self) -> list[str]:
        tasks = [f"  {task_words(one)}" for one in view_tasks(self.loom.warp, self._dressing, self.way.order)]
        return [*tasks, *self._waiting()]

    def _waiting(self) -> list[str]:
        waiting = to_mend(self._dressing)
        return [f"  {to_mend_words(waiting, len(waiting))}"] if waiting else []

    def _place(self) -> Iterator[str]:
        task = self._task
        if task is None:
            yield ALL_DONE
            yield from self._waiting()
            return
        view = self.way.view(self.loom.warp, self.loom.progress, task)
        trial = view_trial(self.loom.warp, self._dressing) if task is DressingTask.TEST_WEAVE else None
        if view is not None:
            yield from self._steps(view)
        elif trial is not None:
            again = "again: " if trial.was_wrong else ""
            words = f"{again}{trial_words(trial, self._levers)}"
            yield BETWEEN.join((CALLED[task], f"shed {trial.test + 1} of {trial.total}", words))
            yield "    enter = right, w = wrong"
            if not trial.test:
                yield from (f"  {caution}" for caution in DRESSING_CAUTIONS[task])
        elif task is DressingTask.TIE_UP and treadles_to_tie(self.loom.warp, self.loom.progress):
            yield from tying_lines(self.loom.warp, self.loom.progress)
            if not self.loom.progress.now.ticks:
                yield from (f"  {caution}" for caution in DRESSING_CAUTIONS[task])
        else:
            plan = "; p PLAN sets how many ends lie in each dent" if task is DressingTask.SLEYING else ""
            yield f"{CALLED[task]}{BETWEEN}enter = done, s = skip{plan}"
            if task is DressingTask.HEADING:
                yield f"  {heading_words(self.loom.warp)}"
            yield from (f"  {caution}" for caution in DRESSING_CAUTIONS[task])

    def _steps(self, view: DressingView) -> Iterator[str]:
        warp, task = self.loom.warp, view.task
        draft = warp.pieces[0].draft
        if self.loom.progress.now.paused and view.done:
            yield f"  {from_words(view.from_last, draft, self.facing)}"
            yield f"  {looks_so_words(task)} … {steps_words(view.last, task, draft)}"
            yield f"  {left_words(view)}"
            yield "  then enter; if not, t N takes out the last N"
        if not view.done:
            yield f"  {from_words(view.from_last, draft, self.facing)}; f = from the other side"
            yield from (f"  {caution}" for caution in DRESSING_CAUTIONS[task])
        planned = sley_of(warp, self._dressing).ends
        if task is DressingTask.SLEYING and planned != draft.ends:
            yield f"! the sley plan is for {counted(planned, 'end')} and there are {draft.ends:,}"
        yield BETWEEN.join((CALLED[task], place_of(view, draft), ends_words(view.now)))
        yield f"    {steps_words(view.now, task, draft)}"
        if view.then:
            yield f"  then {steps_words(view.then, task, draft)}"

    def _answer(self, line: str) -> list[str]:
        word, _, rest = line.partition(" ")
        try:
            return self._act(word.lower(), rest.strip())
        except (WeavingError, JournalError, DraftError) as error:
            return [f"! {error_words(error, self.units)}"]

    def _act(self, word: str, rest: str) -> list[str]:
        match word:
            case "?":
                return [f"  {key:<8}  {does}" for key, does in KEYS]
            case "l":
                return self._tasks()
            case "a":
                return []
            case "u" if (named := self._named_to_undo()) is not None:
                return [named]
            case "h":
                self.way = replace(self.way, one_by_one=not self.way.one_by_one)
                return ["  end by end" if self.way.one_by_one else "  group by group"]
            case "g":
                length = whole(rest, "the ends of a group")
                self.way = self.way.with_group(self.loom.warp, length)
                return [f"  groups of at most {counted(length, 'end')}"]
            case "m" if (found := mistake_typed(self.loom.warp, self._dressing, rest)).asks:
                return [f"  {mend_words(self.loom.warp, self._dressing, found)}"]
            case "e":
                near = ends_near(self.loom.warp, end_typed(self.loom.warp, rest))
                return [f"  {near_words(near.ends, near.shafts)}"]
            case _:
                return self._deed(word, rest)

    def _named_to_undo(self) -> str | None:
        """Return what would be taken back; None where that was said already."""
        if self.loom.progress.now.paused:
            # Coming back is an entry too: what is named must be what is taken back.
            self.loom.do(resume)
        asked = ask_undo(self.loom.warp, self.loom.progress, self.units)
        if asked is None:
            raise WeavingError(NOTHING_TO_UNDO)
        number = self.loom.progress.trail[-1].entry.number
        if number == self.named:
            return None
        self.named = number
        return f"  {asked.words} u once more takes it back"

    def _deed(self, word: str, rest: str) -> list[str]:
        if self.loom.progress.now.paused:
            looked = self._hangs
            self.loom.do(partial(resume, looked_right=word != "t"))
            if word == "" and looked:
                return ["  welcome back"]
        return [line for command in self._commands(word, rest) for line in self._done(command)]

    def _commands(self, word: str, rest: str) -> list[Command]:
        task, warp, progress = self._task, self.loom.warp, self.loom.progress
        sley = sley_of(warp, self._dressing)
        match word:
            case "u":
                return [undo]
            case "n":
                return [partial(write_note, text=rest)]
            case "p":
                return [partial(plan_sley, sley=replace(sley, dents=_dents(rest, warp.pieces[0].draft.ends)))]
            case "r":
                return [partial(plan_sley, sley=replace(sley, reed_per_cm=parse_reed(rest)))]
            case "o":
                return self._go_to(_task_called(rest))
            case "t":
                number, _, of = rest.partition(" ")
                from_task = _task_called(of.strip()) if of.strip() or task is None else task
                return [partial(take_out_dressing, task=from_task, count=whole(number, "what is taken out"))]
            case "m":
                return [mistake_typed(warp, self._dressing, rest).noted()]
        tying = task is DressingTask.TIE_UP
        if task is None:
            raise WeavingError(f"{ALL_DONE}; o TASK goes back to a task")
        match word:
            case "":
                return tie_next(warp, progress) if tying else [self.way.go_on(warp, progress, task)]
            case "b":
                return untie_last(warp, progress) if tying else [self.way.back(warp, progress, task)]
            case "f" if task in BY_ENDS:
                from_last = self._dressing.of(task).from_last
                return [partial(begin_task, task=task, from_last=not from_last)]
            case "d":
                return all_tied(warp, progress) if tying else [partial(settle_task, task=task, state=TaskState.DONE)]
            case "s":
                return [partial(settle_task, task=task, state=TaskState.SKIPPED)]
            case "w" if task is DressingTask.TEST_WEAVE:
                test = self._dressing.of(task).done
                return [partial(find_shed_wrong, test=test, note=rest)]
        raise WeavingError(f"no key {word!r:.20}; {HELP}")

    def _go_to(self, task: DressingTask) -> list[Command]:
        """Return what goes to a task, opened again where it was ended."""
        warp, dressing = self.loom.warp, self._dressing
        if is_counted_out(warp, dressing, task) and dressing.of(task).state is TaskState.TO_DO:
            done = counted(dressing.of(task).done, ONE_OF[task])
            raise WeavingError(f"all {done} of {task.value} are done; t N {task.value} takes the last N out again")
        begun: Command = partial(begin_task, task=task)
        if state_of(warp, dressing, task) is TaskState.TO_DO:
            return [begun]
        return [partial(settle_task, task=task, state=TaskState.TO_DO), begun]

    def _done(self, command: Command) -> list[str]:
        before = self.loom.progress
        event = self.loom.do(command).event
        # Of a cord that is tied, the list that follows says it.
        words = answer_words(self.loom.warp, before, event, self.units)
        said = [f"  {words}"] if words else []
        if isinstance(event, Dressed) and event.task is DressingTask.THREADING:
            view = self.way.view(self.loom.warp, self.loom.progress, event.task)
            if view is not None and (check := group_check_words(view)):
                said.append(f"  in this group, on shaft {check}")
        if isinstance(event, ShedFoundWrong) and (trial := view_trial(self.loom.warp, self._dressing)) is not None:
            said.append(f"  {look_at_words(trial.shed, self._levers)}")
        return said


def _dents(typed: str, ends: int) -> tuple[int, ...]:
    try:
        return parse_sley(typed, ends).dents
    except ShorthandError as error:
        # Its column counts in a line of a draft, which this is not.
        raise WeavingError(f"{typed:.60}: {error.what}; {error.mend}") from error


def _task_called(word: str) -> DressingTask:
    wanted = word.lower()
    found = [task for task in DressingTask if wanted and task.value.startswith(wanted)]
    if len(found) != 1:
        raise WeavingError(f"{word!r:.40} is no task; they are {', '.join(task.value for task in DressingTask)}")
    return found[0]
