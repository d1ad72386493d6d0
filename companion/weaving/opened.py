"""Whether what is pressed on a warp opens the sheds of its drafts.

Asked where a warp is put on the shelf, which is then refused, and where a weaver sits down at one that lies there: she
is told, but her journal opens all the same, and its record says so; no sheet is made of it.
"""

from __future__ import annotations

from companion.draft.masks import Shed, shed_of
from companion.remap.loom.loom import Action, Footing
from companion.weaving.tied import opens
from companion.weaving.warp import Piece, Warp

PUT_ON_AGAIN = "put the draft on the loom again"
"""How to mend a warp whose sheds are not opened."""


def unopened_words(warp: Warp) -> str:
    """Return a line about the first pick whose shed is not opened by what is pressed; nothing where all are.

    A shaft of the draft without ends may stand as it likes. Levers are moved by hand, shed by shed.
    """
    action = warp.loom.loom.action
    for piece in () if action is Action.LEVERS else warp.pieces:
        pick = _first_unopened(piece, action)
        if pick is not None:
            return f"piece {piece.name!r}: what is pressed at pick {pick + 1} does not open its shed"
    return ""


def _first_unopened(piece: Piece, action: Action) -> int | None:
    threaded = shed_of({shaft + 1 for shaft in piece.draft.threading if shaft is not None})
    for stage in piece.stages:
        known: set[tuple[Footing, Shed]] = set()
        for pick in range(stage.first, stage.last + 1):
            one = piece.footings[pick], piece.sheds[pick]
            if one not in known and not opens(*one, stage.tieup, action, threaded):
                return pick
            known.add(one)
    return None
