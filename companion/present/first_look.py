"""A new warp, of whose dressing nothing was told yet: what is next on the loom, and the ways past it."""

from __future__ import annotations

from companion.present.asking import Answer, Answered, Asked, AtLoom, Commands, Elsewhere
from companion.present.button_words import DRESS_LOOM
from companion.present.wording import BETWEEN
from companion.remap.loom.loom import Action
from companion.weaving.decide import resume
from companion.weaving.dressing import is_untouched, tasks_on
from companion.weaving.dressing_events import DressingTask
from companion.weaving.progress import Progress
from companion.weaving.state import re_tie_due
from companion.weaving.warp import Warp

THREADED = "It is threaded: tie up"
DRESSED = "It is dressed: weave"


def is_undressed(warp: Warp, progress: Progress) -> bool:
    """Tell whether nobody said yet that this warp is on the loom: nothing is dressed, tied or woven."""
    now = progress.now
    untied = warp.loom.loom.action is Action.LEVERS or re_tie_due(warp, now) is not None
    begun = now.woven or now.cloth.picks or now.ticks
    return untied and not begun and is_untouched(now.dressing)


def ask_first_look(warp: Warp, progress: Progress, order: tuple[DressingTask, ...]) -> Asked[AtLoom]:
    """Ask how to begin with a new warp: by dressing the loom, or where the weaver has come to already."""
    levers = warp.loom.loom.action is Action.LEVERS
    back: Commands = (resume,) if progress.now.paused else ()
    past: Answer[AtLoom] = (
        Answer(DRESSED, lambda: Answered(back)) if levers else Answer(THREADED, lambda: Answered(Elsewhere.CORDS))
    )
    first, *then = tasks_on(warp, order)
    return Asked(
        f"Next: {first.value}",
        (Answer(DRESS_LOOM, lambda: Answered(Elsewhere.DRESSING), main=True), past),
        detail=f"A new warp{BETWEEN}each task can be left out",
        lines=(warp.name, f"Then: {', '.join(task.value for task in then)}"),
        foot=(Answer("Another warp", lambda: Answered(Elsewhere.OTHER_WARP)),),
        own=(warp.name,),
        topic="Before the first pick",
    )
