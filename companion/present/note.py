"""The note flow: a few things that weavers write down, noted with one more touch, or words of their own."""

from __future__ import annotations

from functools import partial

from companion.draft.units import Units
from companion.present.asking import Answer, Answered, Asked, AskedToWrite, AtLoom, Elsewhere
from companion.present.bobbin import bobbin_answers
from companion.present.squares import MARK_A_SQUARE
from companion.weaving.decide import write_note
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

PHRASES = (
    "Tension set again",
    "Colour changed on purpose",
    "Treadling changed on purpose",
    "Beat changed",
    "End tied in",
    "Look at the selvedge",
    "Look at this row again",
)
NOTE_WORDS = "Note, in your own words"
IN_OWN_WORDS = "In your own words"
WRITE_ON = "Write on"


def ask_note(warp: Warp, progress: Progress, units: Units, begun: str = "", squares: bool = False) -> Asked[AtLoom]:
    """Ask what to note, a fresh bobbin among it; `begun` is a note that was left half written.

    `squares`: a gamp is on the loom, whose squares can be marked.
    """
    answers = [Answer(phrase, partial(_note, phrase)) for phrase in PHRASES]
    own: Answer[AtLoom] = Answer(WRITE_ON if begun else IN_OWN_WORDS, partial(_ask_words, begun), main=bool(begun))
    mark: tuple[Answer[AtLoom], ...] = (Answer(MARK_A_SQUARE, lambda: Answered(Elsewhere.SQUARES)),) if squares else ()
    newest = progress.now.notes[-1].text if progress.now.notes else ""
    return Asked(
        "Note what?",
        (own, *mark, *answers, *bobbin_answers(warp, progress, units)),
        detail=f"begun: {begun}" if begun else f"last note: {newest}" if newest else "",
        topic="A note",
    )


def _ask_words(begun: str) -> AskedToWrite[AtLoom]:
    return AskedToWrite(NOTE_WORDS, _note, begun)


def _note(text: str) -> Answered[AtLoom]:
    return Answered((partial(write_note, text=text),))
