"""The dressing screen's contents, ready to show: what is done next, what hangs last, and nothing to decide."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from companion.draft.facing import Facing, Side
from companion.draft.masks import NO_SHAFT, is_raised, print_shed
from companion.draft.units import counted
from companion.present.cautions import DRESSING_CAUTION, DRESSING_CAUTIONS
from companion.present.dressing_words import (
    CALLED,
    as_they_lie,
    colour_run_words,
    ends_words,
    from_words,
    group_check_words,
    group_words,
    heading_words,
    left_words,
    look_at_words,
    names_at,
    pressed_words,
    shed_words,
    side_begun,
    steps_words,
    task_words,
    to_mend_words,
)
from companion.present.fell import Picture
from companion.present.shed import HarnessSigns
from companion.present.threads_picture import ThreadInks, threads_picture
from companion.present.weave_words import Wordings
from companion.present.wording import BETWEEN
from companion.remap.loom.loom import Action
from companion.weaving.cord_list import cord_list
from companion.weaving.dressing import sley_of, to_mend
from companion.weaving.dressing_commands import ONE_OF
from companion.weaving.dressing_events import DressingTask, TaskState
from companion.weaving.dressing_view import DressingView, TrialView, view_tasks, view_trial
from companion.weaving.dressing_way import DressingWay
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

CUE = {
    DressingTask.WINDING: "Wound? Touch here",
    DressingTask.THREADING: "Threaded? Touch here",
    DressingTask.SLEYING: "Sleyed? Touch here",
    DressingTask.TEST_WEAVE: "Woven right? Touch here",
}
CUE_DONE = "Done? Touch here"
CUE_CORDS = "Touch to tie the treadles"
CUE_PLAN = "Plan the dents here"
CUE_DRESSED = "Dressed: on to the weaving"
NO_PLAN = "No dents are planned"
_MOST_BROAD = 3
"""A threading is drawn at most so much broader than high: about as the room for it is."""
_APART = "   "
"""Between what is counted on one shaft and on the next."""
_MOST_ACROSS = 6
"""So many shafts with their counts at most stand in one line beside the threads."""


class DressButton(Enum):
    """The buttons at the foot of the dressing screen, in the places of those of the weave screen."""

    BACK = "Take out"
    MISTAKE = "Wrong"
    NOTE = "Note"
    GROUPS = "Group"
    TASKS = "Tasks"
    UNDO = "Undo"
    AGAIN = "Again"
    PAUSE = "Pause"


@dataclass(frozen=True, slots=True)
class DressSigns:
    """Everything that the dressing screen says at one step; what may be long in several wordings, the fullest first.

    `large` is what is done now, as it lies from left to right; `spoken` says it in the order in which it is done.
    `threads` draws it beside what was done last; in the test weave `harness` stands in its place, and
    `lines` where nothing is drawn. `check` is to be looked at: the group just done, or what to mind where a task
    begins. `last` draws what was done last alone.
    """

    place: Wordings
    count: str
    shares: tuple[float, ...]
    done_share: float
    large: str
    which: Wordings
    following: Wordings
    cue: str
    check: Wordings = ("",)
    threads: Picture | None = None
    last: Picture | None = None
    harness: HarnessSigns | None = None
    lines: Wordings = ()
    spoken: str = ""
    warning: str = ""


def dress_signs(warp: Warp, progress: Progress, way: DressingWay, facing: Facing, inks: ThreadInks) -> DressSigns:
    """Return what the dressing screen shows now: the next step of the task in hand, or that the loom is dressed."""
    task = way.task(warp, progress)
    if task is None:
        return _dressed(warp, progress, way)
    view = way.view(warp, progress, task)
    if view is not None:
        return _steps(warp, progress, view, facing, inks)
    if task is DressingTask.TEST_WEAVE and (trial := view_trial(warp, progress.now.dressing)) is not None:
        return _trial(warp, trial)
    return DressSigns(
        place=(CALLED[task],),
        count="",
        shares=(1.0,),
        done_share=0.0,
        large=CALLED[task],
        which=("",),
        following=_after(warp, progress, way, task),
        cue=_cue(warp, progress, task),
        check=(DRESSING_CAUTION[task],),
        lines=_task_lines(warp, task),
        spoken=CALLED[task],
        warning=NO_PLAN if task is DressingTask.SLEYING else "",
    )


def _cue(warp: Warp, progress: Progress, task: DressingTask) -> str:
    if task is DressingTask.TIE_UP and cord_list(warp, progress.now) is not None:
        return CUE_CORDS
    return CUE_PLAN if task is DressingTask.SLEYING else CUE_DONE


def _task_lines(warp: Warp, task: DressingTask) -> Wordings:
    """Return what is told of a task that is not stepped: of the heading what weaves it, of others what to mind."""
    if task is DressingTask.HEADING:
        return (f"{heading_words(warp)}, until the ends lie even across", heading_words(warp))
    return _cautions(task)


def _cautions(task: DressingTask) -> Wordings:
    """Return what to mind, shorter and shorter, at last in the half line that nobody should miss."""
    cautions = DRESSING_CAUTIONS[task]
    return (" ".join(cautions), cautions[0], DRESSING_CAUTION[task])


def _steps(warp: Warp, progress: Progress, view: DressingView, facing: Facing, inks: ThreadInks) -> DressSigns:
    draft, task = warp.pieces[0].draft, view.task
    now = as_they_lie(view.now, view.from_last, facing)
    last = as_they_lie(view.last, view.from_last, facing)
    # What comes next lies beside what was done last, on the side away from where the weaver began.
    on_right = side_begun(view.from_last, facing) is Side.LEFT
    together = (*last, *now) if on_right else (*now, *last)
    marked = range(len(last), len(together)) if on_right else range(len(now))
    ends = [end for step in view.now for end in step.ends]
    place = BETWEEN.join([CALLED[task], *names_at(view, draft), group_words(view)])
    then = steps_words(as_they_lie(view.then, view.from_last, facing), task, draft)
    which = f"{ends_words(view.now)}, {from_words(view.from_last, draft, facing)}"
    if task is DressingTask.WINDING and (counted_so := colour_run_words(draft, ends, view.from_last)) is not None:
        which, then = counted_so
    planned = sley_of(warp, progress.now.dressing).ends
    off = task is DressingTask.SLEYING and planned != draft.ends
    return DressSigns(
        place=_place_wordings(place),
        count=f"{view.done:,} of {counted(view.total, ONE_OF[task])}",
        shares=_shares(view, draft.ends, [one.ends for one in draft.blocks]),
        done_share=view.done / max(view.total, 1),
        large=steps_words(now, task, draft),
        which=(which, ends_words(view.now)),
        following=(f"then {then}", "") if view.then and then else ("",),
        cue=CUE[task],
        check=_to_check(view),
        threads=threads_picture(together, marked, task, draft, inks, _MOST_BROAD),
        last=threads_picture(last, range(0), task, draft, inks, _MOST_BROAD),
        spoken=steps_words(view.now, task, draft),
        warning=f"The plan is for {counted(planned, 'end')}, the warp has {draft.ends:,}" if off else "",
    )


def _place_wordings(place: str) -> Wordings:
    """Return where a task stands, `Threading · Straight · group 4 of 15`, and shorter: without the block, alone."""
    task, *rest = place.split(BETWEEN)
    return place, BETWEEN.join((task, *rest[-1:])), *rest[-1:], task


def _to_check(view: DressingView) -> Wordings:
    if not view.done:
        return _cautions(view.task)
    if view.task is not DressingTask.THREADING:
        return ("",)
    check, on_each = group_check_words(view), {ends for ends in view.just_done if ends}
    if len(on_each) == 1:
        shafts = [str(shaft + 1) for shaft, ends in enumerate(view.just_done) if ends]
        each, on = ("each ", "shafts") if len(shafts) > 1 else ("", "shaft")
        return f"Just done, {counted(on_each.pop(), 'end')} {each}on\n{on} {' '.join(shafts)}", ""
    what, _, left = left_words(view).capitalize().partition(" on ")
    words, told = ("Just done, on shaft", check) if check else (f"{what} on", left)
    parts = told.split(_APART)
    # A shaft and its number stand in one line, and the shafts together below the words before them, in even lines.
    across = -(-len(parts) // -(-len(parts) // _MOST_ACROSS))
    lines = (_APART.join(parts[at : at + across]) for at in range(0, len(parts), across))
    return "\n".join((words, *lines)).replace(": ", ":\N{NO-BREAK SPACE}"), ""


def _shares(view: DressingView, ends: int, blocks: list[int]) -> tuple[float, ...]:
    if view.task is not DressingTask.THREADING or not blocks or not ends:
        return (1.0,)
    shares = tuple(block / ends for block in blocks)
    return shares[::-1] if view.from_last else shares


def _trial(warp: Warp, view: TrialView) -> DressSigns:
    levers = warp.loom.loom.action is Action.LEVERS
    up = print_shed(view.shed.up) if view.shed.up != NO_SHAFT else "none"
    one = pressed_words(view.shed, levers).removesuffix(" alone").capitalize()
    return DressSigns(
        place=(BETWEEN.join((CALLED[DressingTask.TEST_WEAVE], f"shed {view.test + 1} of {view.total}")),),
        count="",
        shares=(1.0,),
        done_share=view.test / view.total,
        large=f"{one}: {up} up",
        which=(f"{pressed_words(view.shed, levers)}: {shed_words(view.shed)}", shed_words(view.shed)),
        following=("",),
        cue=CUE[DressingTask.TEST_WEAVE],
        check=(f"Found wrong: {look_at_words(view.shed, levers)}", "") if view.was_wrong else _cautions_once(view),
        harness=_harness(warp, view),
        spoken=f"{pressed_words(view.shed, levers)}, {shed_words(view.shed)}",
    )


def _cautions_once(view: TrialView) -> Wordings:
    return ("",) if view.test else _cautions(DressingTask.TEST_WEAVE)


def _harness(warp: Warp, view: TrialView) -> HarnessSigns:
    first = warp.pieces[0]
    shafts = range(min(first.draft.shafts, warp.loom.loom.shafts))
    tieup = first.stages[0].tieup if first.stages else ()
    return HarnessSigns(
        shafts=len(shafts),
        ties=tuple(tuple(int(is_raised(tie.up, at)) - int(is_raised(tie.down, at)) for at in shafts) for tie in tieup),
        left=frozenset(view.shed.pressed[:1]) if tieup else frozenset(),
        right=frozenset(view.shed.pressed[1:]) if tieup else frozenset(),
        raised=tuple(is_raised(view.shed.up, at) for at in shafts),
    )


def _after(warp: Warp, progress: Progress, way: DressingWay, task: DressingTask) -> Wordings:
    views = view_tasks(warp, progress.now.dressing, way.order)
    later = views[[view.task for view in views].index(task) + 1 :]
    to_do = next((view.task for view in later if view.state is TaskState.TO_DO), None)
    return ("",) if to_do is None else (f"then {CALLED[to_do].lower()}", "")


def _dressed(warp: Warp, progress: Progress, way: DressingWay) -> DressSigns:
    return DressSigns(
        place=("The loom is dressed",),
        count="",
        shares=(1.0,),
        done_share=1.0,
        large="The loom is dressed",
        which=("",),
        following=("",),
        cue=CUE_DRESSED,
        warning=to_mend_words(to_mend(progress.now.dressing)),
        check=(BETWEEN.join(task_words(view) for view in view_tasks(warp, progress.now.dressing, way.order)), ""),
    )
