"""The resume flow: after any stop, how the cloth should look, and one question."""

from __future__ import annotations

from functools import partial

from companion.present import wording
from companion.present.asking import Answer, Answered, Asked, AtLoom, Elsewhere
from companion.present.find import ask_place
from companion.weaving.decide import resume
from companion.weaving.pick_view import this_pick
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp


def ask_resume(warp: Warp, progress: Progress, away_ms: int) -> Asked[AtLoom]:
    """Ask whether the cloth looks as the journal has it; `away_ms` is the time since its last entry."""
    newest = progress.now.cloth.newest
    last = "No pick lies in the cloth" if newest is None else f"Last pick {newest + 1}"
    following = this_pick(warp, progress)
    detail = [last, f"{wording.ago_words(away_ms)}"]
    if following is not None:
        detail.append(f"next {wording.pick_in_brief(following)}")
    back = (resume,) if progress.now.paused else ()
    return Asked(
        "Does your cloth look like this?",
        (
            Answer("Yes, weave on", lambda: Answered(back), main=True),
            Answer("No, find my place", partial(ask_place, warp, progress)),
            Answer("Another warp", lambda: Answered(Elsewhere.OTHER_WARP)),
            Answer("Save the record", lambda: Answered(Elsewhere.RECORD)),
        ),
        detail=wording.BETWEEN.join(detail),
        with_cloth=True,
    )
