"""Warps and drafts kept tidy in the window: renamed, copied, thrown away, put back; the list is made anew each time."""

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
from companion.journal.errors import JournalError, clear_errors
from companion.present.asking import Asked
from companion.present.file_names import draft_choices
from companion.present.start import MenuItem
from companion.present.tidy import (
    DRAFT,
    SET,
    WORKING,
    BinDraft,
    BinWarp,
    CopyDraft,
    CopyWarp,
    Emptied,
    EmptyBin,
    RenameDraft,
    RenameWarp,
    TakeOutOfBin,
    TidyWanted,
    ask_tidy,
    binned_item,
    is_draft,
    is_set,
    tidied_words,
)
from companion.screens.flow_place import FlowPlace
from companion.wiring.background import fill_in, on_with
from companion.wiring.navigator import Navigator
from companion.wiring.start_warps import as_told, told_of_all
from companion.workshop import app
from companion.workshop.drafts_seen import seen
from companion.workshop.drafts_tidied import (
    copy_draft,
    drafts_in_bin,
    own_drafts,
    rename_draft,
    take_draft_out,
    throw_draft_away,
)
from companion.workshop.places import asset, home
from companion.workshop.sets_made import rename_in_sets, sets_folder
from companion.workshop.sets_tidied import sets_in_bin, take_set_out


def show_tidy(ways: Navigator) -> None:
    """Put the warps on the screen to be kept tidy, on top of where the weaver is."""
    ways.push(partial(_place, ways), fresh=True)


def bin_is_empty() -> bool:
    """Tell whether nothing could be put back; a bin that cannot be read holds nothing for this weaver."""
    try:
        return not any(look(bin_folder()) for look in (in_bin, drafts_in_bin, sets_in_bin))
    except JournalError:
        return True


def _place(ways: Navigator, done: str = "") -> FlowPlace:
    now_ms, folder = app.now_ms(), bin_folder()
    items: list[MenuItem] = []
    if not bin_is_empty():
        items += [binned_item(str(warp.path), warp.name, now_ms - warp.at_ms) for warp in in_bin(folder)]
        items += [binned_item(str(one.path), one.path.stem, now_ms - one.at_ms, DRAFT) for one in drafts_in_bin(folder)]
        items += [binned_item(str(one.path), one.name, now_ms - one.at_ms, SET) for one in sets_in_bin(folder)]
    drafts = draft_choices(own_drafts(home()), home(), asset("drafts"))
    warps = [MenuItem(name, name) for name in app.shelf().names_by_use()]

    def look() -> Asked[TidyWanted]:
        seen_drafts = [seen(draft, ways.around.facing, now_ms) for draft in drafts]
        return ask_tidy(as_told(warps, told_of_all(ways.around.facing)), items, done, seen_drafts)

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

    place = FlowPlace(ask_tidy(warps, items, done, drafts), ways.around, chosen)
    fill_in(ways, place, look)
    return place


def _carry_out(wanted: TidyWanted) -> str:
    """Do what the weaver wants and return a line that says what was done; raises JournalError."""
    shelf, folder = app.shelf(), bin_folder()
    match wanted:
        case RenameWarp(name, new):
            new = rename_warp(shelf, name, new)
            with clear_errors(sets_folder()):
                return tidied_words(wanted, new, sets=rename_in_sets(name, new))
        case CopyWarp(name, new):
            return tidied_words(wanted, copy_warp(shelf, name, new))
        case BinWarp(name):
            return tidied_words(wanted, throw_away(shelf, name, folder, app.now_ms()).name)
        case RenameDraft(key, new):
            return tidied_words(wanted, rename_draft(Path(key), new).stem)
        case CopyDraft(key, new):
            return tidied_words(wanted, copy_draft(Path(key), new).stem)
        case BinDraft(key):
            return tidied_words(wanted, throw_draft_away(Path(key), folder, app.now_ms()).path.stem)
        case TakeOutOfBin(key) if is_draft(key):
            return tidied_words(wanted, take_draft_out(Path(key), folder).stem)
        case TakeOutOfBin(key) if is_set(key):
            return tidied_words(wanted, take_set_out(Path(key), folder).name)
        case TakeOutOfBin(key):
            return tidied_words(wanted, take_out(found_in_bin(folder, Path(key)), shelf))
        case EmptyBin():
            drafts, sets = len(drafts_in_bin(folder)), len(sets_in_bin(folder))
            return tidied_words(wanted, "", Emptied(empty_bin(folder), drafts, sets))
