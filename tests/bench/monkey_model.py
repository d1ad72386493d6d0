"""What must stand on the weave screen, worked out from the journal's events with plain lists, for the monkey.

Shares no code with the fold or the pictures of the program: the cloth is a list of picks, undoing strikes an event off
the list and replays the rest, a row is drawn from the draft's own lists.
"""

from __future__ import annotations

from dataclasses import dataclass

from companion.weaving import events as ev
from tests.oracles.naive_weaving import NaiveLoom

TEXELS = 6
"""One crossing is so many texels wide and high; the two in the middle have the full colour of the upper thread."""
BARE = 0.45


@dataclass
class Standing:
    """Where a warp stands: the piece on the loom, its cloth from the first pick on, and the pick that is next."""

    piece: int = 0
    next_pick: int = 0
    cloth: tuple[int, ...] = ()
    finished: bool = False


def standing(warp, entries):
    """Replay all entries that were not undone."""
    struck = {entry.event.number for entry in entries if isinstance(entry.event, ev.Undone)}
    piece, place, cloth, finished, measured = 0, 0, [], False, None
    for entry in entries:
        if entry.number in struck:
            continue
        match entry.event:
            case ev.PickWoven(pick):
                assert pick == place, f"entry {entry.number} weaves pick {pick}, {place} was next"
                cloth.append(pick)
                place = NaiveLoom._after(warp.pieces[piece], pick, cloth, measured)
            case ev.PickTakenOut(pick):
                assert cloth.pop() == pick, f"entry {entry.number} takes out another pick than the newest"
                place = pick
            case ev.ClothTold(taken_out, woven):
                cloth = [*cloth[: len(cloth) - taken_out], *woven]
                place = NaiveLoom._after(warp.pieces[piece], cloth[-1], cloth, measured) if cloth else 0
            case ev.Jumped(pick):
                place = pick
            case ev.LengthMeasured(centimetres, under_tension):
                measured = (centimetres, len(cloth)) if under_tension else measured
            case ev.PieceFinished():
                finished = True
            case ev.PieceStarted(index):
                piece, place, cloth, finished, measured = index, 0, [], False, None
    return Standing(piece, place, tuple(cloth), finished)


def rows_of(piece, standing, rows, ends, mirrored, below):
    """Return the colour (three numbers) of every crossing that must be drawn, the next pick's row first.

    `mirrored`: the first end lies at the right. `below`: the surface that lies below on the loom is drawn.
    """
    draft = piece.draft
    ends = min(ends, draft.ends)
    picks = [standing.next_pick if standing.next_pick < draft.picks and not standing.finished else None]
    picks += reversed(standing.cloth)
    picks = (picks + [None] * rows)[:rows]
    drawn = []
    for pick in picks:
        row = []
        for end in range(ends):
            warp_colour = tuple(draft.yarns[draft.warp[end]].colour)
            if pick is None:
                row.append(tuple(int(part * BARE) for part in warp_colour))
            else:
                # An end on no shaft lies below, whatever is lifted.
                up = draft.threading[end] is not None and is_up(draft, pick, end) != piece.face_down
                weft_colour = tuple(draft.yarns[draft.weft[pick]].colour)
                row.append(warp_colour if up != below else weft_colour)
        drawn.append(row[::-1] if mirrored else row)
    return drawn


def is_up(draft, pick, end):
    """Tell whether an end is lifted at a pick, from the draft's own tie-up and treadling or lift plan."""
    shaft = draft.threading[end]
    lifting = draft.lifting
    if hasattr(lifting, "tieup"):
        moved = any(lifting.tieup[treadle] >> shaft & 1 for treadle in bits(lifting.treadling[pick]))
    else:
        moved = bool(lifting.plan[pick] >> shaft & 1)
    return moved == draft.rising


def bits(mask):
    """Return the places of the ones in a number."""
    return [place for place in range(mask.bit_length()) if mask >> place & 1]


def colours_in(picture):
    """Return the colour in the middle of every crossing of a picture."""
    pixels = picture.pixels[TEXELS // 2 :: TEXELS, TEXELS // 2 :: TEXELS]
    return [[tuple(int(part) for part in crossing) for crossing in row] for row in pixels]
