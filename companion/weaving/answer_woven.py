"""A piece on the loom said again as the answer that it is woven by: for its card, after the search is long gone."""

from __future__ import annotations

from dataclasses import replace

from companion.draft.model import distinct
from companion.draft.tabby import tabby_sheds
from companion.remap.feet.place_tieup import shed_feet
from companion.remap.feet.tied_stage import TiedStage
from companion.remap.loom.cords import cord_changes
from companion.remap.loom.levers import lever_changes
from companion.remap.loom.loom import Action, Loom
from companion.remap.proof import same_cloth, shafts_up, weaves_the_draft
from companion.remap.remapped import Remapping, Verdict
from companion.remap.search.bounds import Bounds
from companion.weaving.warp import Piece


def answer_woven(piece: Piece, loom: Loom) -> Remapping:
    """Return how this piece is woven on this loom: its tie-ups and feet, woven and compared with its draft anew.

    What only a search can tell is not claimed: nothing is said to be the fewest.
    """
    used = len({treadle for footing in piece.footings for treadle in (*footing.left, *footing.right)})
    answer = Remapping(
        loom,
        Verdict.FITS if len(piece.stages) < 2 else Verdict.RE_TIE,
        Bounds(0, used),
        distinct(piece.sheds),
        tuple(_stages(piece)),
        face_down=piece.face_down,
        tabby=tabby_sheds(piece.draft.threading),
    )
    if loom.action is Action.LEVERS:
        answer = replace(answer, levers=lever_changes(piece.sheds))
    return replace(answer, proven_cloth=_weaves_its_draft(piece, loom))


def _stages(piece: Piece) -> list[TiedStage]:
    stages: list[TiedStage] = []
    for stage in piece.stages:
        picks = slice(stage.first, stage.last + 1)
        before = stages[-1].tieup if stages else None
        stages.append(
            TiedStage(
                stage.first,
                stage.last,
                stage.tieup,
                piece.footings[picks],
                shed_feet(piece.sheds[picks], piece.footings[picks]),
                None if before is None else cord_changes(before, stage.tieup),
                fewest_cords=False,
                at_section_end=stage.last + 1 in piece.section_ends,
            )
        )
    return stages


def _weaves_its_draft(piece: Piece, loom: Loom) -> bool:
    draft, down = piece.draft, piece.face_down
    if loom.action is Action.LEVERS:
        return same_cloth(draft, shafts_up(piece.sheds, draft.shafts), face_down=down)
    return all(
        weaves_the_draft(
            draft, loom, stage.tieup, piece.footings[stage.first : stage.last + 1], first=stage.first, face_down=down
        )
        for stage in piece.stages
    )
