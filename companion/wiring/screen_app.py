"""The program with a window: settings, pedal, the choice of warps and the loom, and the ways between them."""

from __future__ import annotations

from contextlib import suppress
from functools import partial
from pathlib import Path
from types import TracebackType
from typing import Self

from companion.journal.errors import JournalError
from companion.present.asking import Elsewhere
from companion.present.cue import Sound
from companion.present.preferences import dressing_way
from companion.screens.clearing import ClearedAtRest
from companion.screens.place import Place
from companion.screens.window import FellsideWindow
from companion.weaving.errors import WeavingError
from companion.wiring.dressing import DressingSide, is_being_dressed
from companion.wiring.ear import USUAL_GUARD, Ear
from companion.wiring.help import HelpWay
from companion.wiring.loom import LoomWay
from companion.wiring.looms import show_looms
from companion.wiring.navigator import Navigator
from companion.wiring.preferences import PreferencesWay
from companion.wiring.record import show_record
from companion.wiring.sheets import show_sheet_of_warp
from companion.wiring.start import StartWay
from companion.workshop import app
from companion.workshop.bookmarks import Bookmark, Marked, keep_bookmarks, search_of, take_bookmarks
from companion.workshop.draft_files import DraftFileError
from companion.workshop.last_window import remember_window_size
from companion.workshop.watchdog import SignsOfLife
from drivers.double_guard import GuardTimes


class ScreenApp:
    """The window, opened on the warp called `name`, or on the choice of warps where it is None or cannot be opened.

    `trouble` is said on the choice of warps, where that is why the weaver comes there. `pedal` is
    a serial port to listen to today, whatever the settings say; `guard` None believes every press.
    """

    def __init__(
        self,
        name: str | None,
        pedal: str | None = None,
        guard: GuardTimes | None = USUAL_GUARD,
        trouble: str = "",
    ) -> None:
        self._today = pedal
        self._trouble = trouble
        self.window = FellsideWindow(lambda _window: self._first(name))
        self._ways = Navigator(self.window)
        self._ear = Ear(
            swallowed=lambda: self._kept.sounds.play(Sound.REFUSED), double_tapped=self._double_tapped, guard=guard
        )
        self._kept = PreferencesWay(self._ways, self._ear)
        self._loom = LoomWay(self.window, self._kept, self._ear, self._go)
        self._dressing = DressingSide(self._ways, self._kept, self._ear, self._go)
        self._start = StartWay(self._ways, self._open, self._kept.ask, lambda: dressing_way(self._kept.now))
        self.window.help_wanted = HelpWay(self._ways, self._kept).show
        self.window.put_away = self._keep_page
        self.window.taken_up = self._forget_page
        self.window.closed = remember_window_size

    def __enter__(self) -> Self:
        self._kept.listen(self._today)
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._ear.close()
        self._kept.close()
        self._leave_loom()

    def run(self) -> None:
        """Stay until the window is closed; raises JournalError where not even the choice of warps can be shown."""
        with self, SignsOfLife(self.window.post), ClearedAtRest():
            self.window.run()

    def _double_tapped(self) -> None:
        self._loom.double_tapped()

    def _first(self, name: str | None) -> Place:
        usual = Bookmark(Marked.START) if name is None else Bookmark(Marked.LOOM, name)
        marks = take_bookmarks(app.bookmark_file())
        try:
            for mark in marks:
                self._turn_to(mark)
        except (JournalError, WeavingError, DraftFileError, ValueError):
            # The warp or the draft went elsewhere meanwhile; the weaver begins where every day begins.
            marks = ()
        if not marks:
            self._begin_at(usual)
        if self._trouble:
            self._ways.message(self._trouble)
        return self.window.place

    def _begin_at(self, mark: Bookmark) -> None:
        """Show the place that is marked, or the choice of warps; raises JournalError where there is no shelf."""
        if mark.at is Marked.LOOM:
            self._open(mark.of)
        else:
            self._turn_to(mark)

    def _turn_to(self, mark: Bookmark) -> None:
        """Show the place that is marked, on top of those that are shown.

        Raises JournalError, WeavingError and DraftFileError, and ValueError for a search that makes no sense.
        """
        match mark.at:
            case Marked.START:
                self._show_start()
            case Marked.LOOM:
                self._ways.home(partial(self._sit_down, self._loom, mark.of), mark=mark)
            case Marked.DRESSING:
                self._ways.home(partial(self._sit_down, self._dressing, mark.of), mark=mark)
            case Marked.RECORD:
                show_record(self._ways, mark.of)
            case Marked.OWN_LOOMS:
                show_looms(self._ways)
            case Marked.SETTINGS:
                self._kept.ask()
            case Marked.DRAFT:
                self._start.draft.show_again(Path(mark.of))
            case Marked.SEARCH:
                self._start.draft.search_again(*search_of(mark))

    def _sit_down(self, way: LoomWay | DressingSide, name: str) -> Place:
        # A journal has one writer: whoever dresses does not weave.
        self._leave_loom()
        return way.side(name)

    def _leave_loom(self) -> None:
        self._loom.close()
        self._dressing.close()

    def _keep_page(self) -> None:
        # Without a bookmark the weaver begins where every day begins: no reason to stop anybody.
        with suppress(OSError):
            keep_bookmarks(app.bookmark_file(), self._ways.bookmarks)

    def _forget_page(self) -> None:
        take_bookmarks(app.bookmark_file())

    def _show_start(self) -> None:
        self._leave_loom()
        self._ways.home(self._start.side, fresh=True, mark=Bookmark(Marked.START))

    def _open(self, name: str) -> None:
        try:
            self._turn_to(Bookmark(Marked.DRESSING if is_being_dressed(name) else Marked.LOOM, name))
        except (JournalError, WeavingError) as error:
            # One bad journal is not the end: the others are there, and its copies.
            self._show_start()
            self._start.ask_for_copy(name, error)

    def _go(self, where: Elsewhere, name: str) -> None:
        match where:
            case Elsewhere.OTHER_WARP:
                self._show_start()
            case Elsewhere.RECORD:
                show_record(self._ways, name)
            case Elsewhere.TIE_UP:
                self._loom.show_tie_up(self._ways)
            case Elsewhere.SHEET:
                show_sheet_of_warp(self._ways, name)
            case Elsewhere.SQUARES:
                self._loom.show_squares(self._ways, self._start.show_square)
            case Elsewhere.SETTINGS:
                self._kept.ask()
            case Elsewhere.SWITCHED_OFF:
                self.window.stop()
            case Elsewhere.DRESSING:
                self._turn_to(Bookmark(Marked.DRESSING, name))
            case Elsewhere.WEAVING:
                self._turn_to(Bookmark(Marked.LOOM, name))
                self._loom.begin()
