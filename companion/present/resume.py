"""The resume flow: after any stop, how the cloth should look, and one question."""

from __future__ import annotations

from functools import partial

from companion.present import wording
from companion.present.asking import Answer, Answered, Asked, AtLoom, Elsewhere
from companion.present.find import ask_place
from companion.weaving.coming_back import coming_back
from companion.weaving.decide import resume
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp


def ask_resume(warp: Warp, progress: Progress, away_ms: int) -> Asked[AtLoom]:
    """Ask whether the cloth looks as the journal has it; `away_ms` is the time since its last entry."""
    seen = coming_back(warp, progress, progress.now.at_ms + away_ms)
    detail = [wording.last_words(seen.last), wording.ago_words(seen.away_ms or 0)]
    if warp.pieces[progress.now.piece].face_down:
        detail.append("woven face down: this is its back")
    if seen.next is not None:
        detail.append(f"next {wording.pick_in_brief(seen.next)}")
    if seen.notes:
        detail.append(f"note: {seen.notes[-1].text}")
    if seen.open_faults:
        detail.append(f"{len(seen.open_faults)} to mend")
    back = (resume,) if progress.now.paused else ()
    return Asked(
        "Does your cloth look like this?",
        (
            Answer("Yes, weave on", lambda: Answered(back), main=True),
            Answer("No, find my place", partial(ask_place, warp, progress)),
            Answer("Another warp", lambda: Answered(Elsewhere.OTHER_WARP)),
            Answer("See the record", lambda: Answered(Elsewhere.RECORD)),
        ),
        detail=wording.BETWEEN.join(detail),
        with_cloth=True,
    )
