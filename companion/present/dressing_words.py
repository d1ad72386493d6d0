"""Every word of dressing the loom, for screen, terminal and record."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from itertools import accumulate, groupby

from companion.draft.facing import Facing, Side
from companion.draft.masks import NO_SHAFT, print_shed
from companion.draft.model import Draft
from companion.draft.sley import print_reed
from companion.draft.units import counted
from companion.present.durations import short_duration_words
from companion.present.wording import BETWEEN
from companion.remap.loom.loom import Action
from companion.weaving.dressing import Dressing, steps_of
from companion.weaving.dressing_commands import ONE_OF
from companion.weaving.dressing_events import (
    Dressed,
    DressingEvent,
    DressingMistake,
    DressingTakenOut,
    DressingTask,
    ShedFoundWrong,
    ShedPutRight,
    SleyPlanned,
    TaskBegun,
    TaskSettled,
    TaskState,
)
from companion.weaving.dressing_view import DressingStep, DressingView, TaskView, TrialView
from companion.weaving.to_mend import ToMend
from companion.weaving.trial_weave import TrialShed, trial_sheds
from companion.weaving.warp import Warp

EMPTY_DENT = "·"
NO_SHAFT_SIGN = "–"
MAKING_READY = "Making the groups ready"
CALLED = {
    DressingTask.WINDING: "Winding",
    DressingTask.BEAMING: "Beaming",
    DressingTask.THREADING: "Threading",
    DressingTask.SLEYING: "Sleying",
    DressingTask.TIE_UP: "Tie-up",
    DressingTask.TEST_WEAVE: "Test weave",
    DressingTask.HEADING: "Heading",
}
_DONE = {
    DressingTask.WINDING: "wound",
    DressingTask.THREADING: "threaded",
    DressingTask.SLEYING: "sleyed",
    DressingTask.TEST_WEAVE: "right",
}


def side_begun(from_last: bool, facing: Facing) -> Side:
    """Return the side of the loom, from the bench, at which a task begins. The one place that asks how the ends lie."""
    return facing.first_end.opposite if from_last else facing.first_end


def from_words(from_last: bool, draft: Draft, facing: Facing) -> str:
    """Return from which side a task goes: `from the right, where end 1 is`."""
    return f"from the {side_begun(from_last, facing).value}, where end {draft.ends if from_last else 1} is"


def as_they_lie(steps: Sequence[DressingStep], from_last: bool, facing: Facing) -> tuple[DressingStep, ...]:
    """Return steps in the order in which they lie from left to right before the weaver, the ends of a dent alike."""
    if side_begun(from_last, facing) is Side.LEFT:
        return tuple(steps)
    return tuple(DressingStep(one.ends[::-1], one.shafts[::-1], one.yarns[::-1]) for one in reversed(steps))


def looks_so_words(task: DressingTask) -> str:
    """Return what is asked after a break: `Does your threading look like this?`."""
    return f"Does your {task.value} look like this?"


def step_words(step: DressingStep, task: DressingTask, draft: Draft) -> str:
    """Return one step: the shaft of an end, the shafts of a dent (`1+2`, a dot for an empty one), the yarn to wind."""
    if task is DressingTask.WINDING:
        return draft.yarns[step.yarns[0]].name
    if task is DressingTask.SLEYING:
        return str(len(step.ends)) if step.ends else EMPTY_DENT
    return "+".join(shaft_sign(shaft) for shaft in step.shafts)


def steps_words(steps: Sequence[DressingStep], task: DressingTask, draft: Draft) -> str:
    """Return steps one after the other: `1 2 3 4 3 2`; when winding, alike ones together: `3 sand 1 sea`.

    Threads wound in turn, over and over, are told as those held together: `40 sand+sea`.
    """
    words = [step_words(step, task, draft) for step in steps]
    if task is not DressingTask.WINDING:
        return " ".join(words)
    turn = list(dict.fromkeys(words))
    times = len(words) // max(1, len(turn))
    if times > 1 and len(turn) > 1 and words == turn * times:
        return f"{times} {'+'.join(turn)}"
    runs: list[tuple[int, str]] = []
    for word in words:
        runs = [*runs[:-1], (runs[-1][0] + 1, word)] if runs and runs[-1][1] == word else [*runs, (1, word)]
    return " ".join(f"{times} {word}" for times, word in runs)


def ends_words(steps: Sequence[DressingStep]) -> str:
    """Return the ends of these steps in the order in which they are done: `ends 25 to 33`, `end 7`, `no end`."""
    ends = [end for step in steps for end in step.ends]
    if not ends:
        return "no end"
    return f"end {ends[0] + 1}" if len(ends) == 1 else f"ends {ends[0] + 1} to {ends[-1] + 1}"


def place_of(view: DressingView, draft: Draft) -> str:
    """Return where a task stands: `Rosepath · group 3 of 10 · 24 of 90 ends threaded`, with the block that is named."""
    done = f"{view.done:,} of {counted(view.total, ONE_OF[view.task])} {_DONE[view.task]}"
    return BETWEEN.join([*names_at(view, draft), group_words(view), done])


def names_at(view: DressingView, draft: Draft) -> list[str]:
    """Return the name of the block that is next; none where the ends of one colour, wound together, are in several."""
    ends = [end for step in view.now for end in step.ends]
    if view.task is not DressingTask.WINDING:
        return block_names(draft, ends[:1])
    names = block_names(draft, ends)
    return names[:1] if len(names) == len(ends) and len(set(names)) == 1 else []


def group_words(view: DressingView) -> str:
    """Return which group is next: `group 3 of 10`; when winding, `colour 3 of 40`."""
    return f"{'colour' if view.task is DressingTask.WINDING else 'group'} {view.group + 1} of {view.groups}"


def colour_run_words(draft: Draft, ends: Sequence[int], from_last: bool) -> tuple[str, str] | None:
    """Return how far a stripe is wound with these ends, `end 5 of 24 in the stripe`, and what follows: `2 ends of sea`.

    Its colour, and how many ends of it are wound now, is said beside it.

    None where several colours are wound in one turn, or nothing is left.
    """
    if len({draft.warp[end] for end in ends}) != 1:
        return None
    runs = [list(run) for _, run in groupby(range(draft.ends), key=lambda end: draft.warp[end])]
    at = next(at for at, run in enumerate(runs) if ends[0] in run)
    here = runs[at][::-1] if from_last else runs[at]
    after = runs[at - 1 : at] if from_last else runs[at + 1 : at + 2]
    names = [f"{counted(len(run), 'end')} of {draft.yarns[draft.warp[run[0]]].name}" for run in after]
    if len(ends) == len(here):
        so_far = "the whole stripe"
    else:
        so_far = f"end {here.index(ends[-1]) + 1} of {len(here)} in the stripe" if ends[-1] in here else ""
    return so_far, "".join(names)


def block_names(draft: Draft, ends: Sequence[int]) -> list[str]:
    """Return the names of the threading's blocks in which these ends lie; none where it has no named ones."""
    after = list(accumulate(block.ends for block in draft.blocks))
    return [name for end in ends if after and (name := draft.blocks[bisect_right(after, end)].name)]


def group_check_words(view: DressingView) -> str:
    """Return how many ends of the group just done hang on each shaft, to be counted: `1: 3   2: 4`; empty without."""
    return "   ".join(f"{shaft + 1}: {ends}" for shaft, ends in enumerate(view.just_done) if ends)


def left_words(view: DressingView) -> str:
    """Return the heddles left on each shaft, or the ends still to come on it: `heddles left on 1: 14   2: 12`."""
    what = "heddles left on" if view.told else "ends to come on"
    return f"{what} " + "   ".join(f"{shaft + 1}: {left}" for shaft, left in enumerate(view.left))


def trial_words(view: TrialView, levers: bool) -> str:
    """Return what to press and what must be seen: `treadle 3 alone: shafts 1 3 up, 2 4 down`."""
    return f"{pressed_words(view.shed, levers)}: {shed_words(view.shed)}"


def pressed_words(shed: TrialShed, levers: bool) -> str:
    """Return what to press: `treadle 3 alone`, `plain weave, treadles 1 4`, `plain weave, lifted by hand`."""
    one = "lever" if levers else "treadle"
    if not shed.pressed:
        return "plain weave, lifted by hand"
    numbers = " ".join(str(treadle + 1) for treadle in shed.pressed)
    which = f"{one} {numbers}" if len(shed.pressed) == 1 else f"{one}s {numbers}"
    return f"plain weave, {which}" if shed.plain else f"{which} alone"


def heading_words(warp: Warp) -> str:
    """Return how plain weave is woven for the heading: `Plain weave: treadle 5, then treadle 6, by turns`."""
    plain = [shed for shed in trial_sheds(warp) if shed.plain]
    if not plain:
        return "This threading weaves no plain weave: take the sheds of the draft that tie down best"
    if not all(shed.pressed for shed in plain):
        by_hand = ", then ".join(print_shed(shed.up) for shed in plain)
        return f"Plain weave: no treadles tied here open it; lift shafts {by_hand} by hand, by turns"
    levers = warp.loom.loom.action is Action.LEVERS
    pressed = (pressed_words(shed, levers).removeprefix("plain weave, ") for shed in plain)
    return f"Plain weave: {', then '.join(pressed)}, by turns"


def shed_words(shed: TrialShed) -> str:
    """Return the shed that must open: `shafts 1 3 up, 2 4 down`."""
    up, down = (print_shed(one) if one != NO_SHAFT else "none" for one in (shed.up, shed.down))
    return f"shafts {up} up, {down} down"


def look_at_words(shed: TrialShed, levers: bool) -> str:
    """Return what to look at where a shed is wrong."""
    if shed.plain:
        return (
            "look where two neighbours stand together: one hangs on a wrong heddle, two have changed places, "
            "or an end is missing there"
        )
    one = "lever" if levers else "treadle"
    return f"look at the ties of {one} {shed.pressed[0] + 1}: tied to {print_shed(shed.up)}, and to nothing else"


def task_words(view: TaskView) -> str:
    """Return a task with what became of it: `Threading: 24 of 90`, `Beaming: done, 12 min`."""
    done = f"{view.done:,} of {view.total:,}" if view.done and view.state is TaskState.TO_DO else view.state.value
    took = short_duration_words(view.ms)
    return f"{CALLED[view.task]}: {done}{f', {took}' if took else ''}"


def how_far_words(warp: Warp, dressing: Dressing, task: DressingTask) -> str:
    """Return how far the dressing is by the task that is next: `threading 112 of 160`, `next: sleying`."""
    done = dressing.of(task).done
    return f"{task.value} {done:,} of {steps_of(warp, dressing, task):,}" if done else f"next: {task.value}"


def dressing_deed_words(event: DressingEvent) -> str:
    """Return a deed of dressing in a few words: `12 ends threaded`, `sleying skipped`."""
    match event:
        case TaskBegun(task, from_last):
            return f"{task.value} begun{', from the last end' if from_last else ''}"
        case Dressed(task, _, count):
            return f"{counted(count, ONE_OF[task])} {_DONE[task]}"
        case DressingTakenOut(task, count):
            return f"{counted(count, ONE_OF[task])} of {task.value} taken out"
        case TaskSettled(task, state):
            return f"{task.value} {state.value}"
        case SleyPlanned(dents, reed_per_cm):
            plan = f"sley plan of {counted(len(dents), 'dent')}" if dents or reed_per_cm is None else ""
            reed = "" if reed_per_cm is None else f"a reed of {print_reed(reed_per_cm)}"
            return ", ".join(filter(None, (plan, reed)))
        case ShedFoundWrong(test, note):
            return f"shed {test + 1} of the test weave wrong{f': {note}' if note else ''}"
        case DressingMistake(task, first, last, mended, note):
            where = mistake_place_words(ToMend(task, first, last))
            return f"mistake in {task.value}, {where}: {'mended' if mended else 'found'}{f', {note}' if note else ''}"
        case ShedPutRight(test, note):
            return f"shed {test + 1} of the test weave put right{f': {note}' if note else ''}"


def mistake_place_words(one: ToMend) -> str:
    """Return where a mistake is: `end 23`, `ends 3 to 4`, `dent 12`, `shed 2 of the test weave`."""
    what = "shed" if one.of_sheds else "dent" if one.task is DressingTask.SLEYING else "end"
    where = f"{what} {one.first + 1}" if one.first == one.last else f"{what}s {one.first + 1} to {one.last + 1}"
    return f"{where} of the test weave" if one.of_sheds else where


def to_mend_words(waiting: Sequence[ToMend], most: int = 3) -> str:
    """Return what waits to be mended: `1 to mend: end 23`, of many the first; nothing where nothing does."""
    if not waiting:
        return ""
    more = f" and {len(waiting) - most} more" if len(waiting) > most else ""
    return f"{len(waiting)} to mend: {', '.join(mistake_place_words(one) for one in waiting[:most])}{more}"


def on_shaft(shaft: int | None) -> str:
    """Return where an end hangs: `shaft 3`, `no shaft`."""
    return "no shaft" if shaft is None else f"shaft {shaft + 1}"


def shaft_sign(shaft: int | None) -> str:
    """Return the number of a shaft, or the sign of none."""
    return NO_SHAFT_SIGN if shaft is None else str(shaft + 1)
