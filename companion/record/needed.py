"""What a piece needs of the loom that it is told for: a student's loom may be smaller than the teacher's.

Treadles keep their numbers, so that the feet told stay true; one that is never pressed is drawn without ties, unless
it is tied for plain weave, which heading and hems are woven in.
"""

from __future__ import annotations

from companion.draft.masks import (
    NO_TREADLE,
    TreadleSet,
    bits_of,
    common,
    count,
    every_shaft,
    has_bit,
    treadle_set,
    treadles_of,
)
from companion.draft.model import Draft
from companion.draft.tabby import tabby_sheds
from companion.draft.units import counted
from companion.remap.loom.loom import Action, Footing, Tie, TieUp
from companion.weaving.tied import opens
from companion.weaving.warp import Piece

_FEWEST_IN_A_RANGE = 3


def shafts_needed(draft: Draft) -> int:
    """Return the number of the highest shaft that carries ends; all of them where none does."""
    return max(bits_of(draft.threaded_shafts()), default=draft.shafts - 1) + 1


def treadles_pressed(piece: Piece) -> TreadleSet:
    """Return the treadles of the loom that are pressed at some pick."""
    pressed = {footing.pressed for footing in piece.footings}
    return treadle_set({treadle for one in pressed for treadle in treadles_of(one)})


def treadles_needed(piece: Piece, action: Action) -> TreadleSet:
    """Return the treadles that are pressed at some pick or are tied for plain weave besides."""
    return treadle_set((*treadles_of(treadles_pressed(piece)), *treadles_of(spare_for_plain_weave(piece, action))))


def spare_for_plain_weave(piece: Piece, action: Action) -> TreadleSet:
    """Return the treadles that no pick presses and that are tied, in the first tie-up, for plain weave; mostly none.

    None, too, where not both of its sheds have a treadle.
    """
    draft, pressed = piece.draft, treadles_pressed(piece)
    tieup, threaded = piece.stages[0].tieup if piece.stages else (), draft.threaded_shafts()
    opening = [
        [treadle for treadle in range(len(tieup)) if opens(Footing(left=(treadle,)), shed, tieup, action, threaded)]
        for shed in tabby_sheds(draft.threading) or ()
    ]
    if not opening or not all(opening):
        return NO_TREADLE
    # One that a pick presses anyway needs no other beside it.
    chosen = (next((one for one in some if has_bit(pressed, one)), some[0]) for some in opening)
    return treadle_set(treadle + 1 for treadle in chosen if not has_bit(pressed, treadle))


def tied_as_needed(tieup: TieUp, needed: TreadleSet, shafts: int) -> TieUp:
    """Return a tie-up with the cords of these treadles on so many shafts, and no others."""
    within = every_shaft(shafts)
    return tuple(
        Tie(common(tie.up, within), common(tie.down, within)) if has_bit(needed, treadle) else Tie()
        for treadle, tie in enumerate(tieup)
    )


def pressed_words(pressed: TreadleSet, treadles: int, plain: TreadleSet = NO_TREADLE) -> str:
    """Return which of so many treadles are pressed: `4 of 8: 2 to 5; 1 and 6 to 8 stay untied`; `plain` are spare."""
    spare = [treadle for treadle in range(treadles) if not has_bit(pressed, treadle)]
    if not spare:
        return counted(treadles, "treadle")
    parts = [f"{count(pressed)} of {treadles}: {_numbers(list(bits_of(pressed)))}"]
    if tied := [treadle for treadle in spare if has_bit(plain, treadle)]:
        parts.append(f"{_numbers(tied)} for plain weave, as in heading and hems")
    if untied := [treadle for treadle in spare if not has_bit(plain, treadle)]:
        parts.append(f"{_numbers(untied)} {'stays' if len(untied) == 1 else 'stay'} untied")
    return "; ".join(parts)


def _numbers(indices: list[int]) -> str:
    """Return rising indices as numbers from 1, three or more in a row as a range: `1, 3 and 6 to 8`."""
    runs: list[list[int]] = []
    for index in indices:
        if runs and index == runs[-1][-1] + 1:
            runs[-1].append(index)
        else:
            runs.append([index])
    parts: list[str] = []
    for run in runs:
        if len(run) < _FEWEST_IN_A_RANGE:
            parts += [str(index + 1) for index in run]
        else:
            parts.append(f"{run[0] + 1} to {run[-1] + 1}")
    return " and ".join(filter(None, (", ".join(parts[:-1]), parts[-1]))) if parts else "none"
