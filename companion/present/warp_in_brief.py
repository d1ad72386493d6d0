"""A warp in a line of the list of warps: how far it is, and when it was woven on last."""

from __future__ import annotations

from companion.present.wording import BETWEEN, ago_words
from companion.weaving.pick_view import this_pick
from companion.weaving.progress import Progress
from companion.weaving.warp import NO_NAME, Warp

ALL_WOVEN = "all woven"
NOT_BEGUN = "not begun"


def warp_in_brief(warp: Warp, progress: Progress, now_ms: int, dressing: str = "") -> str:
    """Return `pick 120 of 300 · 3 days ago · Floor loom`; `dressing` says how far that is, where it is not done yet."""
    now = progress.now
    parts = [dressing or _progress(warp, progress)]
    if now.number:
        parts.append(ago_words(max(now_ms - now.at_ms, 0)))
    if warp.loom.name != NO_NAME:
        parts.append(warp.loom.name)
    return BETWEEN.join(parts)


def _progress(warp: Warp, progress: Progress) -> str:
    now, pieces = progress.now, len(warp.pieces)
    piece = warp.pieces[now.piece]
    if now.finished and now.piece + 1 == pieces:
        return ALL_WOVEN
    if not now.woven and not now.piece:
        return NOT_BEGUN
    of = f"piece {now.piece + 1} of {pieces}, " if pieces > 1 else ""
    if now.finished or this_pick(warp, progress) is None:
        return f"{of}{ALL_WOVEN}"
    return f"{of}pick {now.next_pick + 1} of {piece.picks}"
