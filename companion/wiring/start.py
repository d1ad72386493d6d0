"""The start: which warp to weave on, or which draft to look at or to put on which loom."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from dataclasses import replace
from functools import partial
from pathlib import Path

from companion.draft.model import Draft
from companion.journal.backup import PutBack, put_back
from companion.journal.errors import DiskRefusedError, JournalError, JournalInUseError
from companion.present.asking import Asked
from companion.present.file_names import draft_choices
from companion.present.outcome_words import new_drafts_words, putting_back_words, reading_words
from companion.present.start import (
    Around,
    BeginDraft,
    Folder,
    LookAtDraft,
    MenuItem,
    OpenWarp,
    OwnLooms,
    PutCopyBack,
    PutOnLoom,
    SeeSets,
    Settings,
    SheetOf,
    SquaresOf,
    Start,
    TidyUp,
    WeaveDemo,
)
from companion.present.which_draft import DRAFTS, ask_draft, ask_folder, refused, waiting_for, waiting_for_draft
from companion.present.which_loom import ask_loom, last_first
from companion.present.which_warp import ask_copy, ask_start, looking_for_copies
from companion.screens.flow_place import FlowPlace
from companion.weaving.dressing_way import DressingWay
from companion.weaving.errors import error_words
from companion.weaving.warp import LoomProfile
from companion.wiring.background import in_background, on_with
from companion.wiring.looms import show_looms
from companion.wiring.navigator import Navigator
from companion.wiring.sets import show_sets
from companion.wiring.start_copies import copies_of
from companion.wiring.start_drafts import ChosenDraft
from companion.wiring.start_folders import folder_wanted, looked_into, read_by_and_by
from companion.wiring.start_warps import as_told, loom_used_last, told_of_warps
from companion.wiring.tidy import show_tidy
from companion.workshop import app
from companion.workshop.demo import put_demo_on_shelf
from companion.workshop.drafts_seen import seen
from companion.workshop.drafts_watched import Drafts, DraftWatch
from companion.workshop.looms import LoomsError
from companion.workshop.looms_file import load_looms
from companion.workshop.places import (
    asset,
    drafts_to_choose_from,
    home,
    last_folder,
)

WATCH_EVERY_S = 2.0
"""How soon a stick that was put in is told of."""


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
        self.draft = ChosenDraft(ways, weave, self._looms, self._ask_loom)
        self._side: FlowPlace
        self._watch: DraftWatch

    def side(self) -> FlowPlace:
        """Return the choice as it is now: warps on the shelf, last used first, and drafts, watched while it shows."""
        warps = [MenuItem(name, name) for name in app.shelf().names_by_use()]

        def ask(told: Mapping[str, MenuItem]) -> Asked[Start]:
            return ask_start(as_told(warps, told), self._around)

        asked = ask({})
        self._side = side = FlowPlace(asked, self._ways.around, self._chosen)
        # Where drafts were seen last there may be more of the weaver's own; a folder looked into today comes next time.
        look = partial(drafts_to_choose_from, home(), last_folder())
        self._watch = watch = DraftWatch(look, partial(self._tell, side))
        watch.look_again()
        self._tell_of_warps(side, asked, ask)

        def tick() -> None:
            if self._ways.is_shown(side):
                watch.look_again()
            else:
                end()

        end = self._window.every(WATCH_EVERY_S, tick)
        return side

    def show_square(self, name: str, square: Draft) -> None:
        """Show a square of a gamp that was made a draft, to be changed or put on a loom."""
        self.draft.show_square(name, square)

    def ask_for_copy(self, name: str, error: Exception) -> None:
        """Say on the choice of warps why this one cannot be opened, and offer the copies of it that there are."""
        if isinstance(error, JournalInUseError | DiskRefusedError):
            self._ways.message(str(error))
            return
        trouble = error.what if isinstance(error, JournalError) else error_words(error, self._window.units)

        def look() -> Asked[Start]:
            return ask_copy(name, trouble, copies_of(name))

        self._side.lead_on(in_background(self._ways, self._side, looking_for_copies(name), look))

    def _tell_of_warps(
        self, side: FlowPlace, asked: Asked[Start], ask: Callable[[Mapping[str, MenuItem]], Asked[Start]]
    ) -> None:
        """Show beside a warp how far it is, since when, and its cloth, or that it cannot be opened; nothing moves."""
        way, facing = self._way(), self._ways.around.facing

        def look() -> None:
            with suppress(JournalError):
                told = told_of_warps(way, facing)
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
        items = draft_choices(self._watch.offer(), home(), asset("drafts"))
        self._tell_of_drafts(self._side, items)
        return items

    def _tell_of_drafts(self, side: FlowPlace, items: tuple[MenuItem, ...]) -> None:
        """Show beside each draft its title, date and cloth, once they are read; nothing that is touched moves."""
        facing, now_ms = self._ways.around.facing, app.now_ms()

        def look() -> None:
            known = [seen(item, facing, now_ms) for item in items]
            self._window.post(lambda: show(known))

        def show(known: list[MenuItem]) -> None:
            asked = side.asking
            if asked is not None and asked.bit_by_bit == DRAFTS and len(asked.answers) == len(known):
                # Why a draft was refused stands there until the list is left.
                side.instead(asked, replace(ask_draft(self._around, known), lines=asked.lines, own=asked.own))

        threading.Thread(target=look, name="look at the drafts", daemon=True).start()

    @property
    def _around(self) -> Around:
        return Around(self._drafts, self._folder, self._looms, self._opened)

    def _opened(self, key: str) -> Asked[Start]:
        """Read a draft that was chosen, and ask for its loom; a broken one is refused on the list it stands on."""
        listed = self._side.asking

        def look() -> Asked[Start]:
            problem = self.draft.refusal(key)
            if problem and listed is not None:
                return refused(listed, Path(key).name, problem)
            return ask_loom(key, self._looms(), in_file=True)

        return in_background(
            self._ways, self._side, waiting_for_draft(reading_words(Path(key).name)), look, on_the_way=True
        )

    def _ask_loom(self, key: str) -> None:
        self._side.lead_on(ask_loom(key, self._looms(), in_file=True))

    def _looms(self) -> tuple[LoomProfile, ...]:
        try:
            return last_first(load_looms(app.looms_file()), loom_used_last())
        except LoomsError as error:
            # Weaving goes on with a loom described by touch; the file is told of and left as it is.
            line = str(error)
            self._window.post(lambda: self._say(line))
            return ()

    def _say(self, line: str) -> None:
        if isinstance(self._window.place, FlowPlace):
            self._window.place.say(line)

    def _folder(self, path: str) -> Asked[Start]:
        facing, now_ms = self._ways.around.facing, app.now_ms()

        def look() -> Asked[Start]:
            parts = read_by_and_by(looked_into(path), lambda item: seen(item, facing, now_ms))
            first = ask_folder(next(parts), self._folder, self._opened)
            threading.Thread(target=self._read_on, args=(first, parts), name="look at a folder", daemon=True).start()
            return first

        return in_background(self._ways, self._side, waiting_for(folder_wanted(path).name), look)

    def _read_on(self, asked: Asked[Start], parts: Iterator[Folder]) -> None:
        """Show the cloth of more and more drafts of a folder, where they stand, until the weaver goes elsewhere."""
        side, gone = self._side, threading.Event()

        def show(again: Asked[Start]) -> None:
            there = side.asking
            if there is None or there.bit_by_bit != asked.bit_by_bit:
                gone.set()
            elif (there.words, there.detail, len(there.answers)) == (asked.words, asked.detail, len(asked.answers)):
                # Why a draft was refused stands there until the list is left.
                side.instead(there, replace(again, lines=there.lines, own=there.own))

        for part in parts:
            if gone.is_set():
                return
            self._window.post(partial(show, ask_folder(part, self._folder, self._opened)))

    def _chosen(self, start: Start) -> None:
        match start:
            case OpenWarp(name):
                self._weave(name)
            case WeaveDemo():
                self._weave(put_demo_on_shelf(self._ways.around.facing))
            case PutOnLoom():
                self.draft.put_on(self._side, start)
            case LookAtDraft(key):
                self.draft.look_at(self._side, key)
            case SquaresOf(key):
                self.draft.look_at_squares(self._side, key)
            case SheetOf(key):
                self.draft.look_at_sheet(self._side, key)
            case PutCopyBack(key):
                self._put_back(Path(key))
            case BeginDraft(begun):
                self.draft.look_at_new(begun)
            case OwnLooms():
                show_looms(self._ways)
            case SeeSets():
                show_sets(self._ways)
            case TidyUp():
                show_tidy(self._ways)
            case Settings():
                self._settings()
