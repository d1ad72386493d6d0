"""The resume flow: after any stop, how the cloth should look, and one question."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from companion.draft.facing import Facing
from companion.draft.model import Colour
from companion.draft.units import Units, tape_words
from companion.present import wording
from companion.present.asking import Answer, Answered, Asked, AtLoom, Commands, Elsewhere
from companion.present.between_pieces import carry_words
from companion.present.button_words import DRESS_LOOM
from companion.present.cloth_end import NOT_SURE, pad_answers
from companion.present.dressing_words import to_mend_words
from companion.present.find import ask_place
from companion.present.square_table import may_have_squares
from companion.present.squares import SQUARES
from companion.weaving.coming_back import coming_back
from companion.weaving.decide import finish_piece, resume, start_piece
from companion.weaving.dressing import TASKS, is_untouched, to_mend
from companion.weaving.pick_view import this_pick
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

_BUNCHES = "Cut a bunch of ends at a time and knot it, so that no weft slides out"


def ask_resume(
    warp: Warp, progress: Progress, facing: Facing, units: Units, away_ms: int, has_squares: bool = False
) -> Asked[AtLoom]:
    """Ask whether the cloth looks as the journal has it or is a few picks off, or what comes after a woven piece.

    `away_ms` is the time since the journal's last entry. `has_squares`: the piece was found to be a gamp, though its
    draft names neither blocks nor sections.
    """
    seen = coming_back(warp, progress, progress.now.at_ms + away_ms)
    words, first = _first(warp, progress, facing, units)
    lying = bool(progress.now.cloth.picks)
    unsure: Answer[AtLoom] = Answer(NOT_SURE, partial(ask_place, warp, progress, facing, units))
    detail = [warp.name, wording.last_words(seen.last), wording.ago_words(seen.away_ms or 0)]
    if warp.pieces[progress.now.piece].face_down:
        detail.append("woven face down: this is its back")
    if not progress.now.woven and is_untouched(progress.now.dressing):
        detail.append(f"dressing: {TASKS[0].value} first")
    if progress.now.finished and (carry := carry_words(warp, progress)):
        detail.append(carry)
    if seen.next is not None:
        detail.append(f"next {wording.pick_in_brief(seen.next)}")
    if seen.notes:
        detail.append(f"note: {seen.notes[-1].text}")
    if seen.open_faults:
        detail.append(f"{len(seen.open_faults)} to mend")
    if waiting := to_mend_words(to_mend(progress.now.dressing)):
        detail.insert(1, f"dressing: {waiting}")
    return Asked(
        words,
        (
            *first,
            *(pad_answers(warp, progress, unsure) if lying and not progress.now.finished else ()),
        ),
        detail=wording.BETWEEN.join(detail),
        with_cloth=lying,
        foot=(
            *(() if progress.now.woven else (Answer(DRESS_LOOM, lambda: Answered(Elsewhere.DRESSING)),)),
            *_squares(warp, progress, has_squares),
            Answer("Another warp", lambda: Answered(Elsewhere.OTHER_WARP)),
            Answer("See the record", lambda: Answered(Elsewhere.RECORD), main=not any(answer.main for answer in first)),
        ),
        topic="Coming back",
    )


def _cut_off(warp: Warp, progress: Progress, units: Units) -> Asked[AtLoom]:
    """Say what to leave and to mind before the cloth is cut off; nothing is noted of it."""
    fringe_cm = warp.pieces[progress.now.piece].fringe_cm / 2
    left = f"Leave {tape_words(fringe_cm, units)} for the fringe" if fringe_cm else "Leave what the edge is to have"
    more = progress.now.piece + 1 < len(warp.pieces)
    return Asked(
        "Cut it off",
        (Answer("See the record", lambda: Answered(Elsewhere.RECORD), main=True),),
        lines=(
            left,
            "Let the tension off before you cut; keep hands and cloth clear of the blade",
            "Tie the rest in bunches before the reed, so that it can be tied on again" if more else _BUNCHES,
        ),
        detail="By hand, as you are used to; the journal stays as it is",
    )


def _squares(warp: Warp, progress: Progress, has_squares: bool) -> tuple[Answer[AtLoom], ...]:
    """Return the way to the squares of a gamp that is woven: which of them was good is seen at its end."""
    piece = warp.pieces[progress.now.piece]
    woven = progress.now.finished or this_pick(warp, progress) is None
    if not woven or not (has_squares or may_have_squares(piece.draft)):
        return ()
    return (Answer(SQUARES, lambda: Answered(Elsewhere.SQUARES)),)


def _next_yarn(warp: Warp, progress: Progress) -> Colour | None:
    view = this_pick(warp, progress)
    return None if view is None else warp.pieces[view.piece].draft.yarns[view.yarn].colour


def _first(warp: Warp, progress: Progress, facing: Facing, units: Units) -> tuple[str, tuple[Answer[AtLoom], ...]]:
    """Return what is asked, and the answers that lead back to the loom."""
    now = progress.now
    back: Commands = (resume,) if now.paused else ()
    more = now.piece + 1 < len(warp.pieces)
    cut: Answer[AtLoom] = Answer("Cut it off", partial(_cut_off, warp, progress, units))
    # There a fault is told that shows now, and what was finished too early is undone.
    at_loom: Answer[AtLoom] = Answer("Back to the loom", lambda: Answered(back))
    if now.finished and not more:
        return wording.END_OF_WARP[0], (cut, at_loom)
    if now.finished:
        name = warp.pieces[now.piece + 1].name
        begin: Answer[AtLoom] = Answer("Begin the next piece", lambda: Answered((*back, start_piece)), main=True)
        return f"This piece is finished. Next: {name}", (begin, cut, at_loom)
    lost: Answer[AtLoom] = Answer("No, find my place", partial(ask_place, warp, progress, facing, units), brief="No")
    if this_pick(warp, progress) is None:
        finish: Answer[AtLoom] = Answer("Finish this piece", lambda: Answered((*back, finish_piece)), main=True)
        return "All picks of this piece are woven", (finish, lost)
    if not now.cloth.picks:
        # Of bare warp nobody can say whether it looks right.
        yarn = _next_yarn(warp, progress)
        begins: Answer[AtLoom] = Answer("Begin to weave", lambda: Answered(back), main=True, yarn=yarn)
        return "No pick is woven yet", (begins, replace(lost, words="Find my place"))
    # Beside the way to the next pick a stripe of its yarn: no name is as sure as the colour.
    yes: Answer[AtLoom] = Answer(
        "Yes, weave on", lambda: Answered(back), main=True, yarn=_next_yarn(warp, progress), brief="Yes"
    )
    return "Does your cloth look like this?", (yes, lost)
