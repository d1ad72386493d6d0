"""Pieces of a new warp that stay woven as they are, in the order told: only the ties between them are told anew."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from companion.present.new_warp import NewPiece, NewWarp
from companion.remap.loom.cords import cord_changes
from companion.remap.loom.loom import TieUp


def stays_as_woven(warp: NewWarp) -> bool:
    """Tell whether pieces come and go without a search: all are woven from one draft, or one of them face down."""
    return len({piece.draft for piece in warp.pieces}) == 1 or any(piece.answer.face_down for piece in warp.pieces)


def in_this_order(warp: NewWarp, pieces: Sequence[NewPiece]) -> NewWarp:
    """Return the warp with these of its pieces, each woven as it is; one may come several times."""
    tied = warp.profile.present
    kept: list[NewPiece] = []
    for piece in pieces:
        # What is to tie before the first piece is told already, where it stays the first.
        stays = not kept and piece is warp.pieces[0]
        kept.append(piece if stays else _tied_after(tied, piece))
        tied = piece.answer.stages[-1].tieup if piece.answer.stages else tied
    return replace(warp, pieces=tuple(kept))


def _tied_after(tied: TieUp | None, piece: NewPiece) -> NewPiece:
    """Return the piece with the ties to change before it, where it is known how the treadles are tied then."""
    if not piece.answer.stages:
        return piece
    first, *more = piece.answer.stages
    first = replace(first, changes=None if tied is None else cord_changes(tied, first.tieup))
    return replace(piece, answer=replace(piece.answer, stages=(first, *more)))
