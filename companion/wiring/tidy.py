"""The shelf kept tidy in the window: warps renamed, copied, thrown away, put back; the list is made anew each time."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from companion.journal.bin import (
    bin_folder,
    copy_warp,
    empty_bin,
    found_in_bin,
    in_bin,
    rename_warp,
    take_out,
    throw_away,
)
from companion.journal.errors import JournalError
from companion.present.start import MenuItem
from companion.present.tidy import (
    WORKING,
    BinWarp,
    CopyWarp,
    EmptyBin,
    RenameWarp,
    TakeOutOfBin,
    TidyWanted,
    ask_tidy,
    binned_item,
    tidied_words,
)
from companion.screens.flow import FlowPlace
from companion.wiring.background import on_with
from companion.wiring.navigator import Navigator
from companion.workshop import app


def show_tidy(ways: Navigator) -> None:
    """Put the warps on the screen to be kept tidy, on top of where the weaver is."""
    ways.push(partial(_place, ways), fresh=True)


def bin_is_empty() -> bool:
    """Tell whether nothing could be put back; a bin that cannot be read holds nothing for this weaver."""
    try:
        return not in_bin(bin_folder())
    except JournalError:
        return True


def _place(ways: Navigator, done: str = "") -> FlowPlace:
    now_ms, binned = app.now_ms(), () if bin_is_empty() else in_bin(bin_folder())
    items: list[MenuItem] = [binned_item(str(warp.path), warp.name, now_ms - warp.at_ms) for warp in binned]

    def chosen(wanted: TidyWanted) -> None:
        def work() -> str | JournalError:
            try:
                return _carry_out(wanted)
            except JournalError as error:
                return error

        on_with(ways, place, WORKING, work, go_on)

    def go_on(outcome: str | JournalError) -> None:
        if isinstance(outcome, JournalError):
            ways.message(str(outcome))
        else:
            ways.replace(partial(_place, ways, outcome))

    place = FlowPlace(ask_tidy(app.shelf().names(), items, done), ways.around, chosen)
    return place


def _carry_out(wanted: TidyWanted) -> str:
    """Do what the weaver wants and return a line that says what was done; raises JournalError."""
    shelf, folder = app.shelf(), bin_folder()
    match wanted:
        case RenameWarp(name, new):
            return tidied_words(wanted, rename_warp(shelf, name, new))
        case CopyWarp(name, new):
            return tidied_words(wanted, copy_warp(shelf, name, new))
        case BinWarp(name):
            return tidied_words(wanted, throw_away(shelf, name, folder, app.now_ms()).name)
        case TakeOutOfBin(key):
            return tidied_words(wanted, take_out(found_in_bin(folder, Path(key)), shelf))
        case EmptyBin():
            return tidied_words(wanted, "", empty_bin(folder))
