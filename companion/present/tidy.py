"""The flow that keeps warps and drafts tidy: each is renamed, copied, or put into the bin, from which it comes back."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import PurePath
from typing import NamedTuple

from companion.draft.units import counted
from companion.present.asking import Answer, Answered, Asked, AskedToWrite
from companion.present.start import TIDY_UP, MenuItem
from companion.present.which_warp import BY_USE
from companion.present.wording import BETWEEN, ago_words

WORKING = "One moment"
DRAFT, SET = "draft", "set"
_MOST_OF_A_NAME = 24
"""Letters of a warp's name that stand in a question."""


class Emptied(NamedTuple):
    """How much of each kind is, or was, in the bin."""

    warps: int = 0
    drafts: int = 0
    sets: int = 0


NOTHING = Emptied()


@dataclass(frozen=True, slots=True)
class RenameWarp:
    """Call the warp `name` from now on `new`."""

    name: str
    new: str


@dataclass(frozen=True, slots=True)
class CopyWarp:
    """Put a copy of the warp `name`, with its picks, beside it as `new`."""

    name: str
    new: str


@dataclass(frozen=True, slots=True)
class BinWarp:
    """Put the warp with this name into the bin."""

    name: str


@dataclass(frozen=True, slots=True)
class RenameDraft:
    """Call the draft in the file `key` from now on `new`."""

    key: str
    new: str


@dataclass(frozen=True, slots=True)
class CopyDraft:
    """Put a copy of the draft in the file `key` beside it as `new`."""

    key: str
    new: str


@dataclass(frozen=True, slots=True)
class BinDraft:
    """Put the draft in the file with this key into the bin."""

    key: str


@dataclass(frozen=True, slots=True)
class TakeOutOfBin:
    """Put the warp or draft with this key in the bin back where it was."""

    key: str


@dataclass(frozen=True, slots=True)
class EmptyBin:
    """Remove for ever what is in the bin."""


TidyWanted = RenameWarp | CopyWarp | BinWarp | RenameDraft | CopyDraft | BinDraft | TakeOutOfBin | EmptyBin


def ask_tidy(
    warps: Sequence[MenuItem], binned: Sequence[MenuItem], done: str = "", drafts: Sequence[MenuItem] = ()
) -> Asked[TidyWanted]:
    """Ask which warp or which own draft to rename, copy or put away; `done` says what was done last."""
    names = tuple(warp.key for warp in warps)
    rows: tuple[Answer[TidyWanted], ...] = tuple(
        Answer(
            warp.words,
            partial(_ask_what, warp.key, names),
            detail=BETWEEN.join(part for part in ("warp" if drafts else "", warp.detail) if part),
            own=True,
            own_detail=True,
            picture=warp.picture,
        )
        for warp in warps
    )
    rows += tuple(
        Answer(
            draft.words,
            partial(_ask_draft, draft),
            detail=BETWEEN.join(part for part in (DRAFT, draft.detail) if part),
            own=True,
            own_detail=True,
            picture=draft.picture,
        )
        for draft in drafts
    )
    full: Answer[TidyWanted] = Answer(f"The bin: {len(binned)}", partial(_ask_bin, tuple(binned)))
    hint = f"{BY_USE}: touch one to rename, copy or put it away" if warps else "No warp is on the shelf"
    return Asked(
        TIDY_UP,
        rows,
        detail=done or (f"{BY_USE}, drafts below: touch one to rename, copy or put it away" if drafts else hint),
        foot=(full,) if binned else (),
        as_list=True,
        own=names,
        pictured=True,
        topic="Tidying up",
    )


def binned_item(key: str, name: str, age_ms: int, kind: str = "") -> MenuItem:
    """Return what is in the bin as something to choose: `Towel`, `thrown away 3 days ago`; a `kind` is said first."""
    what = f"{kind}, " if kind else ""
    return MenuItem(key, name, f"{what}thrown away {ago_words(max(age_ms, 0))}")


def tidied_words(wanted: TidyWanted, name: str, emptied: Emptied = NOTHING, sets: Sequence[str] = ()) -> str:
    """Return what was done, in a line; `name` is the name now, `emptied` what the bin held.

    `sets` are those that list the warp by its new name now.
    """
    match wanted:
        case RenameWarp(old) if sets:
            which = f"the set {sets[0]}" if len(sets) == 1 else counted(len(sets), "set")
            return f"{old} is called {name} now, in {which} too"
        case RenameWarp(old) | RenameDraft(old):
            return f"{_called(old)} is called {name} now"
        case CopyWarp(old) | CopyDraft(old):
            return f"{name} is a copy of {_called(old)}"
        case BinWarp() | BinDraft():
            return f"{name} is in the bin, whole"
        case TakeOutOfBin(key):
            return f"{name} is back{'' if is_draft(key) or is_set(key) else ' on the shelf'}"
        case EmptyBin():
            return f"{_counts(emptied)} removed for good"


def is_draft(key: str) -> bool:
    """Tell the file of a draft from a warp: warps have names, and journals an ending of their own."""
    return key.lower().endswith((".wif", ".txt")) and os.sep in key


def is_set(key: str) -> bool:
    """Tell the list of a set in the bin from warps and drafts there."""
    return key.lower().endswith(".set") and os.sep in key


def _called(key: str) -> str:
    return PurePath(key).stem if is_draft(key) else key


def _counts(emptied: Emptied) -> str:
    kinds = zip(emptied, ("warp", DRAFT, SET), strict=True)
    parts = [counted(number, kind) for number, kind in kinds if number] or [counted(0, "warp")]
    return " and ".join(filter(None, (", ".join(parts[:-1]), parts[-1])))


def _ask_what(warp: str, warps: tuple[str, ...]) -> Asked[TidyWanted]:
    away: Answer[TidyWanted] = Answer("Into the bin", lambda: Answered(BinWarp(warp)))
    return Asked(
        warp,
        (
            Answer("Another name", partial(_ask_name, warp)),
            Answer("A copy, with its picks", partial(_ask_copy, warp, warps)),
            away,
        ),
        detail="The bin keeps a warp whole until it is emptied",
        own=(warp,),
    )


def _ask_draft(draft: MenuItem) -> Asked[TidyWanted]:
    away: Answer[TidyWanted] = Answer("Into the bin", lambda: Answered(BinDraft(draft.key)))
    name = PurePath(draft.key).stem

    def rename() -> AskedToWrite[TidyWanted]:
        asks = f"Another name for {_short(name)}"
        return AskedToWrite(asks, lambda new: Answered(RenameDraft(draft.key, new)), name)

    def copy() -> AskedToWrite[TidyWanted]:
        asks = f"Name of the copy of {_short(name)}"
        return AskedToWrite(asks, lambda new: Answered(CopyDraft(draft.key, new)), f"{name} 2")

    return Asked(
        draft.words,
        (Answer("Another name", rename), Answer("A copy", copy), away),
        detail="The bin keeps a draft until it is emptied",
        own=(draft.words,),
    )


def _ask_name(warp: str) -> AskedToWrite[TidyWanted]:
    return AskedToWrite(f"Another name for {_short(warp)}", lambda new: Answered(RenameWarp(warp, new)), warp)


def _ask_copy(warp: str, warps: tuple[str, ...]) -> AskedToWrite[TidyWanted]:
    taken = {name.casefold() for name in warps}
    number = next(number for number in range(2, len(warps) + 3) if f"{warp} {number}".casefold() not in taken)
    words = f"Name of the copy of {_short(warp)}"
    return AskedToWrite(words, lambda new: Answered(CopyWarp(warp, new)), f"{warp} {number}")


def _ask_bin(binned: tuple[MenuItem, ...]) -> Asked[TidyWanted]:
    rows: tuple[Answer[TidyWanted], ...] = tuple(
        Answer(item.words, partial(_answered, TakeOutOfBin(item.key)), detail=item.detail, own=True) for item in binned
    )
    drafts, sets = sum(is_draft(item.key) for item in binned), sum(is_set(item.key) for item in binned)
    held = Emptied(len(binned) - drafts - sets, drafts, sets)
    empty: Answer[TidyWanted] = Answer("Empty it", partial(_ask_empty, held))
    what = "one" if drafts or sets else "a warp"
    return Asked("The bin", rows, detail=f"Touch {what} to put it back", foot=(empty,), as_list=True)


def _ask_empty(held: Emptied) -> Asked[TidyWanted]:
    remove: Answer[TidyWanted] = Answer("Remove for good", partial(_answered, EmptyBin()))
    picks = ", with every pick noted" if held.warps else ""
    return Asked("Empty the bin?", (remove,), detail=f"{_counts(held)}{picks}; no way back")


def _short(warp: str) -> str:
    return warp if len(warp) <= _MOST_OF_A_NAME else f"{warp[:_MOST_OF_A_NAME]}…"


def _answered(wanted: TidyWanted) -> Answered[TidyWanted]:
    return Answered(wanted)
