"""The note flow: a few things that weavers write down, noted at this place with one more touch."""

from __future__ import annotations

from functools import partial

from companion.present.asking import NEVER_MIND, Answer, Answered, Asked, AtLoom
from companion.present.bobbin import bobbin_answers
from companion.weaving.decide import write_note
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

PHRASES = (
    "Tension set anew",
    "Colour changed on purpose",
    "Treadling changed on purpose",
    "Beat changed",
    "End tied in",
    "Look at the selvedge",
    "Look at this row again",
)


def ask_note(warp: Warp, progress: Progress) -> Asked[AtLoom]:
    """Ask what to note, a fresh bobbin among it."""
    answers = [Answer(phrase, partial(_note, phrase)) for phrase in PHRASES]
    newest = progress.now.notes[-1].text if progress.now.notes else ""
    return Asked(
        "Note what?",
        (*answers, *bobbin_answers(warp, progress), NEVER_MIND),
        detail=f"last note: {newest}" if newest else "",
    )


def _note(text: str) -> Answered[AtLoom]:
    return Answered((partial(write_note, text=text),))
