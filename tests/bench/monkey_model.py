"""What must stand on the weave screen, worked out from the journal's events with plain lists, for the monkey.

Shares no code with the fold or the pictures of the program: the cloth is a list of picks, undoing strikes an event off
the list and replays the rest, a row is drawn from the draft's own lists.
"""

from __future__ import annotations

from dataclasses import dataclass

from companion.weaving import events as ev
from tests.oracles.naive_weaving import NaiveLoom

TEXELS = 6
"""One crossing is so many texels wide; the two in the middle have the full colour of a warp end."""
BARE = 0.45
SHADED = 0.6
"""A weft is lightest along its middle; where a pick is drawn high the edge of it may fill a crossing."""


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


def untrue_row(piece, standing, drawn, mirrored, below):
    """Return what is wrong with the rows that are drawn, or nothing.

    The first must be the next pick. The others must be picks of the cloth, newest first, where picks that are beaten
    over others may hide them; then comes the bare warp. `mirrored`: the first end lies at the right. `below`: the
    surface that lies below on the loom is drawn.
    """

    def looks(pick):
        row = crossings(piece, pick, len(drawn[0]), below)
        return row[::-1] if mirrored else row

    coming = standing.next_pick < piece.draft.picks and not standing.finished
    if not alike(drawn[0], looks(standing.next_pick if coming else None)):
        return f"the next pick is drawn as {drawn[0][:6]}"
    lying = [looks(pick) for pick in reversed(standing.cloth[-2 * len(drawn) :])]
    bare = looks(None)
    at = 0
    for number, row in enumerate(drawn[1:], 1):
        if at and alike(row, lying[at - 1]):
            # One pick may be as high as those that it hides.
            continue
        found = next((place for place in range(at, len(lying)) if alike(row, lying[place])), None)
        if found is not None:
            at = found + 1
        elif not alike(row, bare) or (at == 0 and lying):
            return f"row {number} is drawn as {row[:6]}, which no pick of the cloth below the rows above is"
    return ""


def crossings(piece, pick, ends, below):
    """Return the colour (three numbers) of every crossing of a pick, or of the bare warp where it is None."""
    draft = piece.draft
    row = []
    for end in range(ends):
        warp_colour = tuple(draft.yarns[draft.warp[end]].colour)
        if pick is None:
            row.append(tuple(int(part * BARE) for part in warp_colour))
        else:
            # An end on no shaft lies below, whatever is lifted.
            up = draft.threading[end] is not None and is_up(draft, pick, end) != piece.face_down
            row.append(warp_colour if up != below else tuple(draft.yarns[draft.weft[pick]].colour))
    return row


def alike(drawn, true):
    """Tell whether a row that is drawn has these colours, shaded a little at most."""
    return all(
        true_part * SHADED - 2 <= part <= true_part
        for one, other in zip(drawn, true, strict=True)
        for part, true_part in zip(one, other, strict=True)
    )


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


def colours_in(picture, rows):
    """Return the lightest colour within every crossing of a picture so many picks high."""
    height = picture.pixels.shape[0] // rows
    drawn = []
    for row in range(rows):
        block = picture.pixels[row * height : (row + 1) * height].astype(int)
        tiles = block.reshape(height, -1, TEXELS, 3).max(axis=(0, 2))
        drawn.append([tuple(tile) for tile in tiles.tolist()])
    return drawn
