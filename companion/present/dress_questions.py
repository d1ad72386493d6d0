"""What is asked while the loom is dressed: which task, how long the groups, what is wrong, does it look so."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from companion.draft.errors import DraftError
from companion.draft.facing import Facing
from companion.draft.threading_groups import MOST_IN_GROUP
from companion.draft.units import Units, counted, per_length_words
from companion.draft.winding_list import MOST_AT_ONCE
from companion.present.asking import Answer, Answered, Asked, AtDressing, Commands, Elsewhere
from companion.present.button_words import ANOTHER_NUMBER
from companion.present.dents import ask_dents, reed_bounds, reed_length_cm
from companion.present.dressing_counts_words import counts_in_brief
from companion.present.dressing_to_mend import to_mend_rows
from companion.present.dressing_words import (
    CALLED,
    MAKING_READY,
    how_far_words,
    left_words,
    looks_so_words,
    task_words,
    to_mend_words,
)
from companion.present.number_pad import Wanted, ask_amount, ask_number
from companion.present.wording import BETWEEN, ago_words
from companion.weaving.decide import Command, re_tie, resume
from companion.weaving.dressing import BACK_TO_FRONT, FRONT_TO_BACK, is_counted_out, sley_of, state_of, to_mend
from companion.weaving.dressing_commands import (
    ONE_OF,
    begin_task,
    settle_task,
    take_out_dressing,
)
from companion.weaving.dressing_counts import Tools, count_dressing
from companion.weaving.dressing_events import DressingTask, TaskState
from companion.weaving.dressing_view import view_tasks
from companion.weaving.dressing_way import BY_ENDS, DressingWay
from companion.weaving.progress import Progress
from companion.weaving.state import re_tie_due
from companion.weaving.warp import Warp

COUNTING = "Counting the warp"


Beside = Callable[[Asked[AtDressing], Callable[[], Asked[AtDressing]]], Asked[AtDressing]]
"""How what takes a while is worked out: the question to wait at, and what makes the one that is put in its place."""


def at_once(_waiting: Asked[AtDressing], make: Callable[[], Asked[AtDressing]]) -> Asked[AtDressing]:
    """Make a question while the weaver waits."""
    return make()


def ask_tasks(
    warp: Warp, progress: Progress, way: DressingWay, units: Units, facing: Facing, beside: Beside = at_once
) -> Asked[AtDressing]:
    """Ask which task to turn to; each says how far it is, the one in hand can be ended or begun from the other side.

    The counts of a wide warp take a while, `beside` the screen.
    """
    counting: Asked[AtDressing] = Asked(
        COUNTING, (), detail=counted(warp.pieces[0].draft.ends, "end"), topic="Tasks of the dressing"
    )
    count = partial(_tell_counts, warp, progress, way, units, facing)
    dressing = progress.now.dressing
    rows: list[Answer[AtDressing]] = [
        Answer(task_words(view), partial(_ask_task, warp, progress, way, view.task))
        for view in view_tasks(warp, dressing, way.order)
    ]
    return Asked(
        "Which task?",
        (*to_mend_rows(warp, dressing, _ends), *rows),
        foot=(
            Answer(
                f"Order: {'front to back' if way.order == FRONT_TO_BACK else 'back to front'}",
                partial(_changed, replace(way, order=BACK_TO_FRONT if way.order == FRONT_TO_BACK else FRONT_TO_BACK)),
            ),
            Answer("Dents", partial(ask_dents, warp, progress, units)),
            Answer("Counts", partial(beside, counting, count)),
        ),
        as_list=True,
        topic="Tasks of the dressing",
    )


def _tell_counts(
    warp: Warp, progress: Progress, way: DressingWay, units: Units, facing: Facing, raddle_per_cm: float | None = None
) -> Asked[AtDressing]:
    draft, sley = warp.pieces[0].draft, sley_of(warp, progress.now.dressing)
    tools = Tools(warp.loom.heddles, warp.loom.weaving_width_cm, raddle_per_cm, way.at_once, way.group)
    try:
        lines = tuple(counts_in_brief(draft, count_dressing(draft, sley, tools), units, facing))
    except DraftError as error:
        lines = (f"{error.what}: {error.mend}",)
    wanted = Wanted("Spaces of the raddle", per_length_words(units), *reed_bounds(units), decimals=1)

    def spread(spaces: float) -> Asked[AtDressing]:
        return _tell_counts(warp, progress, way, units, facing, spaces / reed_length_cm(units))

    raddle: Answer[AtDressing] = Answer("Raddle", partial(ask_amount, wanted, spread))
    return Asked(
        "Counts",
        (),
        lines=lines,
        detail=warp.name,
        own=(warp.name,),
        foot=(raddle,) if sley.width_cm is not None else (),
    )


def _ask_task(warp: Warp, progress: Progress, way: DressingWay, task: DressingTask) -> Asked[AtDressing]:
    dressing = progress.now.dressing
    here, state = dressing.of(task), state_of(warp, dressing, task)
    answers: list[Answer[AtDressing]] = []

    def out(count: int) -> Answered[AtDressing]:
        return Answered((partial(take_out_dressing, task=task, count=count),))

    if is_counted_out(warp, dressing, task) and state is TaskState.DONE:
        one = ONE_OF[task]
        newest = f"Take out the last {'shed' if task is DressingTask.TEST_WEAVE else 'group'}"
        answers.append(_do(newest, (way.back(warp, progress, task),)))
        answers.append(Answer("Take out more", lambda: ask_number(f"{one.capitalize()}s to take out", here.done, out)))
    elif state is not TaskState.TO_DO:
        again: Command = partial(settle_task, task=task, state=TaskState.TO_DO)
        answers.append(_do("Open it again", (again, partial(begin_task, task=task))))
    else:
        answers.append(_do("Go on with it", (partial(begin_task, task=task),), main=True))
        tied: Commands = (re_tie,) if task is DressingTask.TIE_UP and re_tie_due(warp, progress.now) is not None else ()
        answers.append(_do("It is done", (*tied, partial(settle_task, task=task, state=TaskState.DONE))))
        answers.append(_do("Leave it out", (partial(settle_task, task=task, state=TaskState.SKIPPED),)))
    if task in BY_ENDS and not here.done:
        answers.append(
            _do("From the other side", (partial(begin_task, task=task, from_last=not here.from_last),)),
        )
    return Asked(CALLED[task], tuple(answers), detail=state.value)


def making_ready(warp: Warp) -> Asked[AtDressing]:
    """Return what is shown while the groups of a long warp are made ready."""
    return Asked(
        MAKING_READY,
        (Answer("Another warp", lambda: Answered(Elsewhere.OTHER_WARP)),),
        detail=f"{warp.name}: {counted(warp.pieces[0].draft.ends, 'end')}",
        own=(warp.name,),
        topic="Waiting",
    )


def ask_groups(way: DressingWay, warp: Warp, task: DressingTask | None) -> Asked[AtDressing]:
    """Ask how many ends are taken at once."""
    one: Answer[AtDressing] = Answer(
        "Group by group" if way.one_by_one else "End by end",
        lambda: Answered(replace(way, one_by_one=not way.one_by_one)),
    )
    if task is DressingTask.WINDING:
        wound = tuple(
            Answer(f"{ends} at once", partial(_changed, replace(way, at_once=ends)), ends == way.at_once)
            for ends in (1, 2, 3, 4, 6, 8)
            if ends <= MOST_AT_ONCE
        )
        words = "Colour by colour" if way.one_by_one else "Turn by turn"
        return Asked("How many ends do you wind at once?", (replace(one, words=words), *wound), topic="Groups")
    lengths = tuple(
        Answer(f"At most {ends}", partial(_changed, replace(way, group=ends, one_by_one=False)), ends == way.group)
        for ends in (4, 6, 8, 10, 12, 16)
    )
    other: Answer[AtDressing] = Answer(
        ANOTHER_NUMBER,
        lambda: ask_number("Ends in a group", MOST_IN_GROUP, lambda ends: _changed(replace(way, group=ends))),
    )
    return Asked(
        "How long are the groups?",
        (one, *lengths, other),
        detail="They end where repeats and blocks end",
        topic="Groups",
    )


def _changed(way: DressingWay) -> Answered[AtDressing]:
    return Answered(way)


def ask_looks_so(warp: Warp, progress: Progress, way: DressingWay, away_ms: int) -> Asked[AtDressing]:
    """Ask after a break whether the last threads hang as they are drawn, with what is left on each shaft."""
    task = way.task(warp, progress)
    view = None if task is None else way.view(warp, progress, task)
    away: list[Answer[AtDressing]] = [
        Answer("Another warp", lambda: Answered(Elsewhere.OTHER_WARP)),
        Answer("See the record", lambda: Answered(Elsewhere.RECORD)),
        Answer("Weave", lambda: Answered(Elsewhere.WEAVING)),
        Answer("Settings", lambda: Answered(Elsewhere.SETTINGS)),
    ]
    waiting = to_mend_words(to_mend(progress.now.dressing))
    detail = [warp.name, ago_words(away_ms), *([waiting] if waiting else ())]
    yes = _do("Yes, go on", (resume,), main=True)
    if task is None or view is None or not view.done:
        what = "The loom is dressed" if task is None else f"Next: {CALLED[task].lower()}"
        return Asked(
            what,
            (replace(yes, words="Go on"),),
            detail=BETWEEN.join(detail),
            foot=tuple(away),
            topic="Coming back to the dressing",
        )
    detail.insert(1, how_far_words(warp, progress.now.dressing, task))
    told = BETWEEN.join(detail)
    if task is DressingTask.THREADING:
        # In a line of its own: no shaft is to stand alone in the next.
        told += "\n" + left_words(view).replace(": ", ":\N{NO-BREAK SPACE}")

    def out(count: int) -> Answered[AtDressing]:
        looked = partial(resume, looked_right=False)
        return Answered((looked, partial(take_out_dressing, task=task, count=count)))

    one = ONE_OF[task]
    fewer = tuple(
        Answer(f"{counted(count, one)} fewer", partial(out, count)) for count in (1, 2, 4) if count <= view.done
    )
    more: Answer[AtDressing] = Answer(
        "Many fewer", lambda: ask_number(f"{one.capitalize()}s to take out", view.done, out)
    )
    return Asked(
        looks_so_words(task),
        (yes, *fewer, more),
        detail=told,
        with_cloth=True,
        foot=tuple(away),
        topic="Coming back to the dressing",
    )


def _ends(commands: Commands) -> Answered[AtDressing]:
    return Answered(commands)


def _do(words: str, commands: Commands, main: bool = False) -> Answer[AtDressing]:
    return Answer(words, lambda: Answered(commands), main)
