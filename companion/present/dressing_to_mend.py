"""What was noted while dressing and waits to be mended: how it is, and that it is; at the dressing and at the loom."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from companion.present.asking import Answer, Asked, Commands, FlowStep, Result
from companion.present.dressing_words import look_at_words, mistake_place_words, to_mend_words
from companion.present.mending_words import dent_mending_words, mending_words
from companion.remap.loom.loom import Action
from companion.weaving.decide import Command
from companion.weaving.dressing import Dressing, to_mend
from companion.weaving.dressing_commands import note_mistake, put_shed_right
from companion.weaving.dressing_events import DressingTask
from companion.weaving.dressing_mending import dent_mending_of, mending_of
from companion.weaving.to_mend import ToMend
from companion.weaving.trial_weave import trial_sheds
from companion.weaving.warp import Warp

MENDED = "It is mended"
TO_MEND = "To mend"

Ends = Callable[[Commands], FlowStep[Result]]
"""What a flow ends in when it has led to these commands."""


def to_mend_rows(warp: Warp, dressing: Dressing, ends: Ends[Result]) -> tuple[Answer[Result], ...]:
    """Return the row that leads to what waits to be mended, `1 to mend: end 23`; none where nothing does."""
    waiting = to_mend(dressing)
    if not waiting:
        return ()
    return (Answer(to_mend_words(waiting), partial(ask_to_mend, warp, dressing, ends)),)


def ask_to_mend(warp: Warp, dressing: Dressing, ends: Ends[Result]) -> Asked[Result]:
    """Ask which of what waits is meant; where there is one, what became of it."""
    waiting = to_mend(dressing)
    if len(waiting) == 1:
        return _ask_one(warp, dressing, ends, waiting[0])
    rows = tuple(
        Answer(mistake_place_words(one).capitalize(), partial(_ask_one, warp, dressing, ends, one), detail=one.note)
        for one in waiting
    )
    return Asked("Which one?", rows, as_list=True, topic=TO_MEND)


def _ask_one(warp: Warp, dressing: Dressing, ends: Ends[Result], one: ToMend) -> Asked[Result]:
    mended: Command = (
        partial(put_shed_right, test=one.first)
        if one.of_sheds
        else partial(note_mistake, task=one.task, first=one.first, last=one.last, mended=True, note=one.note)
    )
    return Asked(
        f"To mend: {mistake_place_words(one)}",
        # Not the main answer: a foot that means "done, next" must not say it.
        (Answer(MENDED, lambda: ends((mended,))),),
        detail=_how(warp, dressing, one),
        lines=(f"noted: {one.note}",) if one.note else (),
        own=(one.note,) if one.note else (),
        topic=TO_MEND,
    )


def _how(warp: Warp, dressing: Dressing, one: ToMend) -> str:
    if one.of_sheds:
        return look_at_words(trial_sheds(warp)[one.first], warp.loom.loom.action is Action.LEVERS)
    if one.task is DressingTask.SLEYING:
        return dent_mending_words(dent_mending_of(warp, dressing, one.first))
    return mending_words(mending_of(warp, dressing, one.first, one.last))
