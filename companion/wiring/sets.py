"""Sets by touch: made, filled with drafts and warps, seen side by side, and written as sheets and one bundle."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path

from companion.draft.facing import Facing
from companion.draft.units import counted
from companion.journal.bin import bin_folder
from companion.journal.disk import write_whole
from companion.journal.errors import JournalError
from companion.present.asking import Asked
from companion.present.file_names import draft_choices
from companion.present.outcome_words import SAVING, did_not_work_words, files_written_words
from companion.present.sets import (
    BinSet,
    InSet,
    MakeSet,
    MoveInSet,
    PutIntoSet,
    RenameSet,
    SayInSet,
    SeeSet,
    SetDeed,
    SetsDeed,
    WriteBundle,
    WriteSheets,
    ask_set,
    ask_sets,
    in_set_words,
)
from companion.present.square_table import sample_picture, sampler_picture
from companion.present.start import MenuItem
from companion.record.ink import usual_paper
from companion.record.ink_pdf import pdf_of
from companion.screens.flow_place import FlowPlace
from companion.weaving.errors import WeavingError, error_words
from companion.wiring.background import fill_in, on_with
from companion.wiring.navigator import Navigator
from companion.wiring.start_warps import as_told, told_of_all
from companion.workshop import app
from companion.workshop.drafts_seen import seen
from companion.workshop.places import asset, drafts_to_choose_from, home, last_folder
from companion.workshop.project_sets import ProjectSetError, read_set
from companion.workshop.set_papers import bundle_name, overview_of, set_bundle, sheets_of
from companion.workshop.sets_made import (
    Listed,
    add_draft,
    add_warp,
    add_words,
    look_at_set,
    make_set,
    put_first,
    sets_there,
    take_out,
)
from companion.workshop.sets_tidied import rename_set, throw_set_away

_REFUSALS = (ProjectSetError, JournalError, WeavingError, OSError)


def show_sets(ways: Navigator) -> None:
    """Show the sets that there are, to see one or to make one."""

    def make(done: str = "") -> FlowPlace:
        sets = _sets()
        place = FlowPlace(ask_sets(sets, done), ways.around, chosen)
        fill_in(ways, place, lambda: ask_sets([_told_of_set(one, ways.around.facing) for one in sets], done))
        return place

    def chosen(deed: SetsDeed) -> None:
        match deed:
            case SeeSet(key):
                _SetWay(ways, Path(key)).show()
            case MakeSet(title):
                try:
                    folder = make_set(title)
                except _REFUSALS as error:
                    ways.message(error_words(error, ways.around.units))
                else:
                    _SetWay(ways, folder).show()

    ways.push(make, fresh=True)


def _sets() -> list[MenuItem]:
    try:
        return [MenuItem(str(folder), folder.name) for folder in sets_there()]
    except OSError:
        return []


def _told_of_set(one: MenuItem, facing: Facing) -> MenuItem:
    """Return a set with how much is in it, and the cloth of its first."""
    try:
        _title, _words, listed = look_at_set(Path(one.key), app.shelf())
    except _REFUSALS:
        return one
    drafts = [member.member.warp.pieces[0].draft for member in listed if member.member is not None]
    picture = sample_picture(drafts[0], facing) if drafts else None
    return replace(one, detail=in_set_words(len(listed)), picture=picture)


class _SetWay:
    """The page of one set, made anew with every change."""

    def __init__(self, ways: Navigator, folder: Path) -> None:
        self._ways = ways
        self._folder = folder

    def show(self) -> None:
        """Put the page on top of where the weaver is."""
        try:
            self._ways.push(self._place)
        except _REFUSALS as error:
            self._ways.message(self._told(error))

    def _place(self, done: str = "") -> FlowPlace:
        title, _words, listed = look_at_set(self._folder, app.shelf())
        members = [self._seen(one) for one in listed]
        drafts = draft_choices(drafts_to_choose_from(home(), last_folder()), home(), asset("drafts"))
        others = [draft for draft in drafts if Path(draft.key).parent != self._folder]
        warps = [MenuItem(name, name) for name in app.shelf().names_by_use()]
        place = FlowPlace(ask_set(title, members, others, warps, done), self._ways.around, self._do)

        def look() -> Asked[SetDeed]:
            facing, now_ms = self._ways.around.facing, app.now_ms()
            seen_drafts = [seen(draft, facing, now_ms) for draft in others]
            return ask_set(title, members, seen_drafts, as_told(warps, told_of_all(facing)), done)

        fill_in(self._ways, place, look)
        self._shown = place
        return place

    def _seen(self, one: Listed) -> InSet:
        if one.member is None:
            return InSet(one.kind, one.which, one.which, None, one.problem)
        draft = one.member.warp.pieces[0].draft
        # Versions on four and on eight shafts may well bear one name.
        name = f"{counted(draft.shafts, 'shaft')}: {one.member.name}"
        return InSet(one.kind, one.which, name, sampler_picture(draft, self._ways.around.facing))

    def _do(self, deed: SetDeed) -> None:
        on_with(self._ways, self._shown, SAVING, partial(self._carry_out, deed), partial(self._go_on, deed))

    def _go_on(self, deed: SetDeed, line: str) -> None:
        if isinstance(deed, BinSet) and not line:
            # The sets below are looked for anew, and this one is not among them.
            self._ways.pop()
        else:
            self._show_again(line)

    def _show_again(self, line: str) -> None:
        try:
            self._ways.replace(partial(self._place, line))
        except _REFUSALS as error:
            self._ways.message(self._told(error))

    def _carry_out(self, deed: SetDeed) -> str:
        """Do what the weaver wants of the set, and return a line to say."""
        folder = self._folder
        try:
            match deed:
                case PutIntoSet("draft", which):
                    add_draft(folder, Path(which))
                case PutIntoSet(_, which):
                    add_warp(folder, which)
                case SayInSet(words):
                    add_words(folder, words)
                case RenameSet(new):
                    self._folder = rename_set(folder, new)
                case BinSet():
                    throw_set_away(folder, bin_folder(), app.now_ms())
                case MoveInSet(kind, which, out):
                    (take_out if out else put_first)(folder, Listed(kind, which, None))
                case WriteSheets() | WriteBundle():
                    return files_written_words(self._write(bundled=isinstance(deed, WriteBundle)))
        except _REFUSALS as error:
            return did_not_work_words(self._told(error))
        return ""

    def _told(self, error: Exception) -> str:
        """Return what is wrong and how to mend it, without the folder that the weaver has before her."""
        told = error.told_by_touch if isinstance(error, ProjectSetError) else error
        return error_words(told, self._ways.around.units)

    def _write(self, bundled: bool) -> list[Path]:
        units, facing = self._ways.around.units, self._ways.around.facing
        trade = self._ways.around.look.trade
        found, paper = read_set(self._folder, app.shelf()), usual_paper(units)
        if bundled:
            bundle = self._folder.with_name(bundle_name(found.title))
            files = [(bundle, set_bundle(self._folder, found, paper, units, facing, trade))]
        else:
            page = (self._folder / "set.pdf", pdf_of(found.title, overview_of(found, paper, facing)))
            sheets = self._folder / "sheets"
            sheets.mkdir(exist_ok=True)
            files = [page, *((sheets / name, data) for name, data in sheets_of(found, paper, units, facing, trade))]
        for file, data in files:
            write_whole(file, data)
        return [file for file, _ in files]
