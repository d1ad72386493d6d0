"""The tie-up that the piece on the loom is woven with: drawn, and in words for each treadle and each shed."""

from __future__ import annotations

from companion.draft.masks import print_shed
from companion.draft.units import counted
from companion.present.tie_up import TieUpSigns, harness_of
from companion.present.ties_said import NOT_TIED
from companion.present.wording import footing_words
from companion.remap.loom.loom import Action, Tie
from companion.weaving.progress import Progress
from companion.weaving.warp import Piece, Warp


def tie_up_now(warp: Warp, progress: Progress) -> TieUpSigns:
    """Return what is shown of the tie-up of this stage; of a loom with levers, its sheds."""
    piece = warp.pieces[progress.now.piece]
    pick = min(progress.now.next_pick, max(piece.picks - 1, 0))
    stage = piece.stage_at(pick) if piece.picks else None
    if stage is None:
        return TieUpSigns("By levers", warp.name, None, (), ())
    tied = piece.stages[stage]
    which = "" if len(piece.stages) == 1 else f", stage {stage + 1} of {len(piece.stages)}"
    return TieUpSigns(
        headline=f"Tie-up{which}",
        detail=f"{warp.name}: {counted(len(tied.tieup), 'treadle')}, {counted(warp.loom.loom.shafts, 'shaft')}",
        harness=harness_of(tied.tieup, warp.loom.loom.shafts, piece.footings[tied.first : tied.last + 1]),
        cords=tuple(
            f"treadle {treadle + 1}: {_tie_words(tie, warp.loom.loom.action)}" for treadle, tie in enumerate(tied.tieup)
        ),
        feet=_feet(piece, stage),
        on_loom=True,
    )


def _tie_words(tie: Tie, action: Action) -> str:
    if action is not Action.COUNTERMARCHE:
        return print_shed(tie.up or tie.down) or NOT_TIED
    parts = [f"{print_shed(shafts)} {way}" for shafts, way in ((tie.up, "up"), (tie.down, "down")) if shafts]
    return ", ".join(parts) or NOT_TIED


def _feet(piece: Piece, stage: int) -> tuple[str, ...]:
    tied = piece.stages[stage]
    picks = range(tied.first, tied.last + 1)
    usual: dict[str, int] = {}
    for pick in picks:
        words = f"{print_shed(piece.sheds[pick])} up: {footing_words(piece.footings[pick])}"
        usual[words] = usual.get(words, 0) + 1
    return tuple(f"{words} ({counted(number, 'pick')})" for words, number in usual.items())
