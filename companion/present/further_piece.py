"""Which draft is a further piece on a warp: one that is on it already, one of those found, or one in any folder."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from companion.present.asking import Answer, Asked
from companion.present.new_warp import Lookup, NewWarp, Telling
from companion.present.start import MenuItem
from companion.present.which_draft import ANY_FOLDER

OTHERWISE, CANNOT_BE_READ = "threaded differently", "cannot be read"
"""Why a draft is no further piece, as a list has room for it; what can be one stands before these."""


def ask_piece(warp: NewWarp, lookup: Lookup, drafts: Sequence[MenuItem], problem: str = "") -> Asked[Telling]:
    """Ask which of these drafts is a further piece, or which one is woven once more.

    `problem` says why the one chosen before cannot be.
    """
    alike = {piece.draft: index for index, piece in reversed(tuple(enumerate(warp.pieces)))}
    again: list[Answer[Telling]] = [
        Answer(warp.pieces[index].title, partial(lookup.again, warp, index), detail="once more", own=True)
        for index in sorted(alike.values())
    ]
    rows: list[Answer[Telling]] = [
        Answer(
            draft.words,
            partial(lookup.add, warp, draft.key),
            detail=draft.detail,
            own=True,
            own_detail=True,
            picture=draft.picture,
        )
        for draft in drafts
    ]
    return Asked(
        "Which draft next?",
        (*again, *rows),
        detail=problem or "Those that are threaded as this warp is come first",
        foot=(
            Answer("Look again", partial(lookup.drafts, warp, "")),
            Answer(ANY_FOLDER, partial(lookup.folder, warp, "")),
        ),
        as_list=True,
        bit_by_bit="further piece",
        pictured=True,
        own=(problem,) if problem else (),
        topic="Another piece",
    )


def waiting_for_drafts() -> Asked[Telling]:
    """Return what is shown while drafts are looked for."""
    return Asked(
        "Looking for drafts",
        (),
        detail="It takes a while",
        as_list=True,
        bit_by_bit="further piece",
        topic="Another piece",
    )
