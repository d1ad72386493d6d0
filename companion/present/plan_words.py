"""What does not agree in a plan, and what will run short, each in a line: the same on screen, page and terminal."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from companion.draft.units import (
    Units,
    counted,
    density_words,
    left_words,
    length_words,
    measured_words,
    per_length_words,
    picks_words,
    warp_taken_words,
)
from companion.draft.units import short_words as lacking
from companion.weaving.agreement import LengthDisagrees, PicksDisagree, PlanNote
from companion.weaving.amounts import warp_left
from companion.weaving.progress import Progress
from companion.weaving.shuttles import shuttles
from companion.weaving.warp import Warp

UNTIL_LENGTH = " and more, until a length is reached"
"""After picks and weft, where a section is woven to a length and no picks per cm are told."""


def note_words(warp: Warp, notes: Iterable[PlanNote], units: Units) -> tuple[str, ...]:
    """Return each note on a plan with what counts then: `piece 1 (runner) is planned 30 cm long, its treadling …`."""
    return tuple(_note(f"piece {note.piece + 1} ({warp.pieces[note.piece].name})", note, units) for note in notes)


def warp_warning(warp: Warp, progress: Progress, units: Units) -> str:
    """Return that the warp will be short, and for which piece; empty where it reaches or none can tell."""
    left = warp_left(warp, progress)
    if left is None or left.short_piece is None:
        return ""
    name = warp.pieces[left.short_piece].name
    return f"the warp is {lacking(left.short_cm, units)} short for piece {left.short_piece + 1} ({name})"


def early_warnings(warp: Warp, progress: Progress, units: Units) -> tuple[str, ...]:
    """Return what will run short: `the warp is 30 cm short for piece 3 (runner)`."""
    short = warp_warning(warp, progress, units)
    lines = [short] if short else []
    for shuttle in shuttles(warp, progress):
        if shuttle.running_out:
            lines.append(f"the bobbin of {shuttle.name} goes {counted(shuttle.picks_left or 0, 'more pick')}")
    return tuple(lines)


def taken_words(taken_cm: float | None, wound_cm: float | None, units: Units, left_out: Sequence[str] = ()) -> str:
    """Return what a warp takes, and how far the wound length reaches: `It takes 467 cm of warp: 33 cm over`.

    `left_out` is what nobody told and is not in it: what is over is said to be less by that.
    """
    if taken_cm is None:
        return f"Give the picks {per_length_words(units)} to see how much warp it takes"
    without = f", {' and '.join(left_out)} not counted" if left_out else ""
    takes = f"It takes {warp_taken_words(taken_cm, units)} of warp{without}"
    if wound_cm is None:
        return takes
    over_cm = wound_cm - taken_cm
    most = "at most " if left_out and over_cm >= 0 else "at least " if left_out else ""
    over = f"{left_words(over_cm, units)} over" if over_cm >= 0 else f"{lacking(-over_cm, units)} short"
    return f"{takes}: {most}{over}"


def _note(piece: str, note: PlanNote, units: Units) -> str:
    match note:
        case PicksDisagree(_, planned, drafted):
            return (
                f"{piece} is planned at {picks_words(planned, units)}, its draft spaces them for "
                f"{density_words(drafted, units)}; the plan counts"
            )
        case LengthDisagrees(_, planned_cm, treadled_cm):
            if treadled_cm is None:
                return (
                    f"{piece} is planned {length_words(planned_cm, units)} long, but its picks "
                    f"{per_length_words(units)} are not known; its weft is counted for its treadling once"
                )
            how = (
                "for the planned length, with the treadling begun over again"
                if planned_cm > treadled_cm
                else "by the treadling"
            )
            return (
                f"{piece} is planned {length_words(planned_cm, units)} long, its treadling makes "
                f"{measured_words(treadled_cm, units)}; warp and weft are counted {how}"
            )
