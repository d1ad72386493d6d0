"""The flow that keeps the shelf tidy: a warp is renamed, copied, or put into the bin, from which it comes back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from companion.draft.units import counted
from companion.present.asking import Answer, Answered, Asked, AskedToWrite
from companion.present.start import TIDY_UP, MenuItem
from companion.present.wording import ago_words

WORKING = "One moment"
_MOST_OF_A_NAME = 24
"""Letters of a warp's name that stand in a question."""


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
class TakeOutOfBin:
    """Put the warp with this key in the bin back on the shelf."""

    key: str


@dataclass(frozen=True, slots=True)
class EmptyBin:
    """Remove for ever what is in the bin."""


TidyWanted = RenameWarp | CopyWarp | BinWarp | TakeOutOfBin | EmptyBin


def ask_tidy(warps: Sequence[str], binned: Sequence[MenuItem], done: str = "") -> Asked[TidyWanted]:
    """Ask which warp to rename, copy or put away; `done` says what was done last."""
    rows: tuple[Answer[TidyWanted], ...] = tuple(
        Answer(warp, partial(_ask_what, warp, tuple(warps)), own=True) for warp in warps
    )
    full: Answer[TidyWanted] = Answer(f"The bin: {len(binned)}", partial(_ask_bin, tuple(binned)))
    return Asked(
        TIDY_UP,
        rows,
        detail=done or ("Touch a warp to rename, copy or put it away" if warps else "No warp is on the shelf"),
        foot=(full,) if binned else (),
        as_list=True,
        own=tuple(warps),
    )


def binned_item(key: str, name: str, age_ms: int) -> MenuItem:
    """Return a warp in the bin as something to choose: `Towel`, `thrown away 3 days ago`."""
    return MenuItem(key, name, f"thrown away {ago_words(max(age_ms, 0))}")


def tidied_words(wanted: TidyWanted, name: str, emptied: int = 0) -> str:
    """Return what was done, in a line; `name` is the warp's name now, `emptied` how many warps the bin held."""
    match wanted:
        case RenameWarp(old):
            return f"{old} is called {name} now"
        case CopyWarp(old):
            return f"{name} is a copy of {old}"
        case BinWarp():
            return f"{name} is in the bin, whole"
        case TakeOutOfBin():
            return f"{name} is back on the shelf"
        case EmptyBin():
            return f"{counted(emptied, 'warp')} removed for ever"


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
    empty: Answer[TidyWanted] = Answer("Empty it", partial(_ask_empty, len(binned)))
    return Asked("The bin", rows, detail="Touch a warp to put it back", foot=(empty,), as_list=True)


def _ask_empty(number: int) -> Asked[TidyWanted]:
    remove: Answer[TidyWanted] = Answer("Remove for ever", partial(_answered, EmptyBin()))
    return Asked("Empty the bin?", (remove,), detail=f"{counted(number, 'warp')}, with every pick noted; no way back")


def _short(warp: str) -> str:
    return warp if len(warp) <= _MOST_OF_A_NAME else f"{warp[:_MOST_OF_A_NAME]}…"


def _answered(wanted: TidyWanted) -> Answered[TidyWanted]:
    return Answered(wanted)
