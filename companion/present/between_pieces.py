"""What the end of a piece asks for: its planned length, the warp to leave around it, shuttles to carry across.

Fringe is warp that is kept, spacer is cut away.
"""

from __future__ import annotations

from companion.draft.facing import Side
from companion.draft.units import Units, rough_number, tape_words
from companion.weaving.amounts import AGREE_CM
from companion.weaving.progress import Progress
from companion.weaving.state import side_of, woven_cm
from companion.weaving.warp import Piece, Warp


def carry_words(warp: Warp, progress: Progress) -> str:
    """Return which shuttles begin the next piece on the other side: `carry sand to the left, sea to the right`.

    Empty where all lie right, as far as anybody knows, or where no piece is to come.
    """
    now = progress.now
    on_loom, coming = warp.pieces[now.piece], warp.pieces[now.piece + 1 : now.piece + 2]
    lies = {
        on_loom.draft.yarns[yarn].name: side_of(on_loom, now, yarn)
        for yarn in on_loom.shuttles
        if now.shuttles[yarn].side_known and yarn not in on_loom.hand_laid
    }
    carried = [
        f"{after.draft.yarns[yarn].name} to the {after.start_of(yarn).value}"
        for after in coming
        for yarn in after.shuttles
        if yarn not in after.hand_laid and lies.get(after.draft.yarns[yarn].name) is after.start_of(yarn).opposite
    ]
    return f"carry {', '.join(carried)}" if carried else ""


def carry_planned(warp: Warp, piece: int) -> str:
    """Return where the shuttles of a piece (index) are to lie, where the piece before is woven as it is listed.

    Such as `carry sea to the right; cream begins on the left`: of a shuttle that lies right after the piece before
    nothing is said. One that is not in that piece begins, and so does one that crosses in a section woven to a length
    an odd number of times a round: nobody knows where it ends.
    """
    before, after = warp.pieces[piece - 1], warp.pieces[piece]
    ends = {before.draft.yarns[yarn].name: _side_at_end(before, yarn) for yarn in before.shuttles}
    carried, begun = [], []
    for yarn in after.shuttles:
        name, start = after.draft.yarns[yarn].name, after.start_of(yarn)
        if yarn in after.hand_laid:
            continue
        if (lies := ends.get(name)) is None:
            begun.append(f"{name} begins on the {start.value}")
        elif lies is not start:
            carried.append(f"{name} to the {start.value}")
    return "; ".join([*([f"carry {', '.join(carried)}"] if carried else []), *begun])


def _side_at_end(piece: Piece, yarn: int) -> Side | None:
    """Return where a shuttle (yarn, as index) lies after all picks of a piece as listed; None where nobody knows."""
    if yarn in piece.hand_laid:
        return None
    crossed = 0
    for number, section in enumerate(piece.sections):
        picks = piece.section_picks(number)
        thrown = sum(piece.draft.weft[pick] == yarn and pick not in piece.laid_in for pick in picks)
        if section.until_cm is not None and thrown % 2:
            return None
        crossed += thrown
    start = piece.start_of(yarn)
    return start.opposite if crossed % 2 else start


def short_of_plan(warp: Warp, progress: Progress, units: Units) -> str:
    """Return `14 of the 100 cm planned are woven`; empty where the piece has its length, or none was planned."""
    piece = warp.pieces[progress.now.piece]
    woven = woven_cm(piece, progress.now)
    if woven is None or piece.length_cm is None or woven >= piece.length_cm - AGREE_CM:
        return ""
    return f"{rough_number(woven, units)} of the {tape_words(piece.length_cm, units)} planned are woven"


def leave_at_start(warp: Warp, units: Units) -> str:
    """Return what to leave before the first pick of a warp, such as `leave 5 cm for the fringe`; empty for nothing.

    A piece's fringe is given for both ends together; half of it lies at each.
    """
    fringe_cm = warp.pieces[0].fringe_cm / 2
    return f"leave {tape_words(fringe_cm, units)} for the fringe before you weave" if fringe_cm else ""


def leave_after(warp: Warp, piece: int, units: Units) -> str:
    """Return what to leave after a piece (index): `leave 13 cm: fringe 5 cm, spacer 3 cm, fringe 5 cm`.

    The fringes are those of this piece and of the next one. Empty where nothing is to be left.
    """
    on_loom, after = warp.pieces[piece], warp.pieces[piece + 1 : piece + 2]
    parts = [("fringe", on_loom.fringe_cm / 2)]
    if after:
        parts += [("spacer", on_loom.spacer_cm), ("fringe", after[0].fringe_cm / 2)]
    parts = [(what, length_cm) for what, length_cm in parts if length_cm]
    if not parts:
        return ""
    together = f"leave {tape_words(sum(length_cm for _, length_cm in parts), units)}"
    if len(parts) == 1:
        return f"{together} for the {parts[0][0]}"
    return f"{together}: {', '.join(f'{what} {tape_words(length_cm, units)}' for what, length_cm in parts)}"
