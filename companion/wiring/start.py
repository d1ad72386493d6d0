"""The start: which warp to weave on, or which draft to look at or to put on which loom."""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping
from contextlib import suppress
from functools import partial
from pathlib import Path

from companion.draft.from_nothing import Begun
from companion.draft.model import Draft
from companion.journal.backup import PutBack, backup_folder, copies_to_put_back, put_back
from companion.journal.errors import DiskRefusedError, JournalError, JournalInUseError
from companion.present.asking import Asked
from companion.present.file_names import ALL_STICKS, HOME, ON_THIS_DEVICE, UP, draft_choices, one_stick_words
from companion.present.new_draft import NEW_DRAFT
from companion.present.outcome_words import closed_folder_words, new_drafts_words, putting_back_words, reading_words
from companion.present.start import (
    CANNOT_BE_OPENED,
    Around,
    BeginDraft,
    Folder,
    LookAtDraft,
    MenuItem,
    OpenWarp,
    OwnLooms,
    PutCopyBack,
    PutOnLoom,
    Settings,
    SquaresOf,
    Start,
    TidyUp,
    WeaveDemo,
    ask_copy,
    ask_folder,
    ask_start,
    copy_item,
    looking_for_copies,
    waiting_for,
)
from companion.screens.flow import FlowPlace
from companion.weaving.dressing_way import DressingWay
from companion.weaving.errors import WeavingError, error_words
from companion.weaving.warp import LoomProfile
from companion.wiring.background import in_background, on_with
from companion.wiring.draft import look_over
from companion.wiring.dressing import dressing_in_brief
from companion.wiring.looms import show_looms
from companion.wiring.navigator import Navigator
from companion.wiring.squares import choose_square
from companion.wiring.tidy import bin_is_empty, show_tidy
from companion.wiring.tie_up import try_loom
from companion.workshop import app
from companion.workshop.demo import put_demo_on_shelf
from companion.workshop.draft_files import DraftFileError, name_of_draft, read_draft_file
from companion.workshop.drafts_watched import Drafts, DraftWatch
from companion.workshop.looms import LoomsError, load_looms
from companion.workshop.places import (
    Contents,
    asset,
    drafts_to_choose_from,
    home,
    last_folder,
    look_into,
    remember_folder,
    sticks,
)

WATCH_EVERY_S = 2.0
"""How soon a stick that was put in is told of."""
STICK_FOLDER = "fellside"
"""Where the copies lie on a stick (deploy/device/copy-to-stick.sh puts them there)."""
STICKS = "sticks"
"""Stands for the path of a folder that has every stick in it: no path of a folder is relative."""


class StartWay:
    """The choice of warps and drafts; `weave` opens a warp by its name, `settings` asks for them.

    `way` is how the weaver dresses now.
    """

    def __init__(
        self,
        ways: Navigator,
        weave: Callable[[str], None],
        settings: Callable[[], None],
        way: Callable[[], DressingWay],
    ) -> None:
        self._ways = ways
        self._window = ways.window
        self._weave = weave
        self._settings = settings
        self._way = way
        self._side: FlowPlace
        self._watch: DraftWatch

    def side(self) -> FlowPlace:
        """Return the choice as it is now: warps on the shelf, last used first, and drafts, watched while it shows."""
        shelf = app.shelf()
        last = shelf.last_used()
        names = sorted(shelf.names(), key=lambda name: name != last)

        def ask(told: Mapping[str, str]) -> Asked[Start]:
            warps = [MenuItem(name, name, told.get(name, "")) for name in names]
            return ask_start(warps, Around(self._drafts, self._folder, self._looms), not bin_is_empty())

        asked = ask({})
        self._side = side = FlowPlace(asked, self._ways.around, self._chosen)
        self._watch = watch = DraftWatch(partial(drafts_to_choose_from, home()), partial(self._tell, side))
        watch.look_again()
        self._tell_of_warps(side, asked, ask)

        def tick() -> None:
            if self._window.place is side:
                watch.look_again()
            else:
                end()

        end = self._window.every(WATCH_EVERY_S, tick)
        return side

    def ask_for_copy(self, name: str, error: Exception) -> None:
        """Say on the choice of warps why this one cannot be opened, and offer the copies of it that there are."""
        if isinstance(error, JournalInUseError | DiskRefusedError):
            self._ways.message(str(error))
            return
        trouble = error.what if isinstance(error, JournalError) else error_words(error, self._window.units)

        def look() -> Asked[Start]:
            return ask_copy(name, trouble, _copies_of(name))

        self._side.lead_on(in_background(self._ways, self._side, looking_for_copies(name), look))

    def _tell_of_warps(
        self, side: FlowPlace, asked: Asked[Start], ask: Callable[[Mapping[str, str]], Asked[Start]]
    ) -> None:
        """Show beside a warp that it cannot be opened, or how far its dressing is; nothing that is touched moves."""
        way = self._way()

        def look() -> None:
            with suppress(JournalError):
                told = _told_of_warps(way)
                if told:
                    self._window.post(lambda: side.instead(asked, ask(told)))

        threading.Thread(target=look, name="look at the shelf", daemon=True).start()

    def _put_back(self, copy: Path) -> None:
        def put() -> PutBack | JournalError:
            try:
                return put_back(copy, app.shelf())
            except JournalError as error:
                return error

        def go_on(done: PutBack | JournalError) -> None:
            if isinstance(done, PutBack):
                self._weave(done.name)
            else:
                self._ways.message(str(done))

        on_with(self._ways, self._side, putting_back_words(copy.name), put, go_on)

    def _tell(self, side: FlowPlace, news: Drafts) -> None:
        """Say that drafts came; nothing that the weaver reads or touches moves."""
        first = draft_choices(news[:1], home(), asset("drafts"))[0]
        words = new_drafts_words(first, len(news))
        self._window.post(lambda: side.say(words))

    def _drafts(self) -> tuple[MenuItem, ...]:
        return draft_choices(self._watch.offer(), home(), asset("drafts"))

    def _looms(self) -> tuple[LoomProfile, ...]:
        try:
            return load_looms(app.looms_file())
        except LoomsError as error:
            # Weaving goes on with a loom described by touch; the file is told of and left as it is.
            line = str(error)
            self._window.post(lambda: self._say(line))
            return ()

    def _say(self, line: str) -> None:
        if isinstance(self._window.place, FlowPlace):
            self._window.place.say(line)

    def _folder(self, path: str) -> Asked[Start]:
        folder = Path(path) if path else last_folder()

        def look() -> Asked[Start]:
            seen = _all_sticks() if path == STICKS else _looked_into(folder)
            if seen.problem and not path:
                # A stick that was taken out since, mostly.
                seen = _looked_into(home())
            elif seen.drafts:
                remember_folder(folder)
            return ask_folder(seen, Around(self._drafts, self._folder, self._looms))

        return in_background(self._ways, self._side, waiting_for(folder.name), look)

    def _chosen(self, start: Start) -> None:
        match start:
            case OpenWarp(name):
                self._weave(name)
            case WeaveDemo():
                self._weave(put_demo_on_shelf(self._ways.around.facing))
            case PutOnLoom(key):
                self._with_draft(key, lambda name, draft: self._try_loom(name, draft, start.profile(draft.shafts)))
            case LookAtDraft(key):
                self._with_draft(key, lambda name, draft: self._look_at_draft(key, name, draft))
            case SquaresOf(key):
                self._with_draft(key, lambda name, draft: self._look_at_squares(key, name, draft))
            case PutCopyBack(key):
                self._put_back(Path(key))
            case BeginDraft(begun):
                self._look_at_new_draft(begun)
            case OwnLooms():
                show_looms(self._ways)
            case TidyUp():
                show_tidy(self._ways)
            case Settings():
                self._settings()

    def _with_draft(self, key: str, use: Callable[[str, Draft], None]) -> None:
        """Read the draft file `key` and use it under its title; a file that cannot be read is told of."""
        path = Path(key)

        def read() -> Draft | DraftFileError:
            try:
                return read_draft_file(path).draft
            except DraftFileError as error:
                return error

        def go_on(found: Draft | DraftFileError) -> None:
            if isinstance(found, Draft):
                use(name_of_draft(found, path), found)
            else:
                self._ways.message(f"{path.name}: {found}")

        on_with(self._ways, self._side, reading_words(path.name), read, go_on)

    def _look_at_draft(self, key: str, name: str, draft: Draft) -> None:
        look_over(
            self._ways,
            Path(key).stem,
            draft,
            put_on=lambda changed, wanted: self._try_loom(name, changed, wanted.profile(changed.shafts)),
            looms=self._looms,
        )

    def _look_at_squares(self, key: str, name: str, draft: Draft) -> None:
        # The way back leads to the gamp, which the start would have to be asked for anew.
        self._look_at_draft(key, name, draft)
        choose_square(self._ways, Path(key).stem, draft, self._show_square)

    def _show_square(self, name: str, square: Draft) -> None:
        look_over(
            self._ways,
            name,
            square,
            put_on=lambda changed, wanted: self._try_loom(changed.title, changed, wanted.profile(changed.shafts)),
            looms=self._looms,
            begun=True,
        )

    def _look_at_new_draft(self, begun: Begun) -> None:
        look_over(
            self._ways,
            NEW_DRAFT,
            begun.draft(),
            put_on=lambda draft, wanted: self._try_loom(NEW_DRAFT, draft, wanted.profile(draft.shafts)),
            looms=self._looms,
            begun=True,
        )

    def _try_loom(self, name: str, draft: Draft, profile: LoomProfile) -> None:
        try_loom(self._ways, name, draft, profile, self._weave)


def _copies_of(name: str) -> tuple[MenuItem, ...]:
    """Return the copies of a warp on this device and on the sticks in it."""
    own, stem = backup_folder(), app.shelf().path(name).stem
    now_ms = app.now_ms()
    items = []
    for copy in copies_to_put_back(stem, (own, *(stick / STICK_FOLDER for stick in sticks()))):
        age_ms = now_ms - copy.path.stat().st_mtime_ns // 1_000_000
        items.append(copy_item(str(copy.path), copy.entries, age_ms, copy.path.parent == own))
    return tuple(items)


def _looked_into(folder: Path) -> Folder:
    """Return what a folder holds, and the ways out of it."""
    found, problem = Contents((), ()), ""
    try:
        found = look_into(folder)
    except OSError as error:
        problem = closed_folder_words(error)
    ways = [MenuItem(str(folder.parent), UP)] if folder.parent != folder else []
    ways += [MenuItem(str(home()), HOME)]
    match sticks():
        case ():
            pass
        case (stick,):
            ways.append(MenuItem(str(stick), one_stick_words(stick.name)))
        case _:
            # A foot holds no button for each of many sticks; a list does.
            ways.append(MenuItem(STICKS, ALL_STICKS))
    return Folder(
        folder.name or str(folder),
        str(folder),
        tuple(MenuItem(str(inner), inner.name) for inner in found.folders),
        draft_choices(found.drafts, folder, asset("drafts")),
        tuple(ways),
        problem,
    )


def _all_sticks() -> Folder:
    """Return the sticks that are in this device now, as a folder that has them in it."""
    return Folder(
        ALL_STICKS,
        ON_THIS_DEVICE,
        tuple(MenuItem(str(stick), stick.name) for stick in sticks()),
        ways=(MenuItem(str(home()), HOME),),
    )


def _told_of_warps(way: DressingWay) -> dict[str, str]:
    """Return what is to be told of warps by their names, of those of which there is anything; raises JournalError."""
    shelf = app.shelf()
    told = dict.fromkeys(shelf.unreadable(), CANNOT_BE_OPENED)
    for name in shelf.names():
        # Damage within a journal shows when it is touched.
        with suppress(JournalError, WeavingError):
            if name not in told and (words := dressing_in_brief(name, way)):
                told[name] = words
    return told
