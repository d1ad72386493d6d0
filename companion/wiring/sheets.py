"""The sheet of a warp or a draft by touch: the teacher's words, kept beside it, and the sheet saved to hand on."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from companion.journal.errors import JournalError
from companion.journal.shelf import file_stem, tidy_name
from companion.journal.snapshots import warp_to_hand_on
from companion.journal.words_beside import keep_words, read_words
from companion.present.outcome_words import SAVING, did_not_work_words, sheet_saved_words
from companion.present.sheet_page import WORDS_KEPT, KeepWords, SheetDeed, ask_sheet
from companion.screens.flow_place import FlowPlace
from companion.weaving.errors import WeavingError, error_words
from companion.weaving.warp import Warp
from companion.wiring.background import on_with
from companion.wiring.navigator import Navigator
from companion.wiring.record import folders
from companion.workshop import app
from companion.workshop.draft_files import DraftFileError, name_of_draft, read_draft_file
from companion.workshop.dressing import reckon_with
from companion.workshop.looms import UNNAMED_LOOM
from companion.workshop.saved_sheets import save_sheet

_REFUSALS = (DraftFileError, JournalError, WeavingError, OSError)


def show_sheet_of_warp(ways: Navigator, name: str) -> None:
    """Show the page of the sheet of a warp, told in the treadles of its loom."""

    def read() -> Warp:
        with app.shelf().open_to_read(name) as journal:
            return warp_to_hand_on(journal)

    _SheetWay(ways, name, lambda: app.shelf().path(name), read, on_loom=True).show()


def show_sheet_of_draft(ways: Navigator, path: Path) -> None:
    """Show the page of the sheet of the draft in a file, told as the draft has it."""

    def read() -> Warp:
        draft = read_draft_file(path).draft
        return reckon_with(name_of_draft(draft, path), [draft], UNNAMED_LOOM)

    _SheetWay(ways, path.stem, lambda: path, read, on_loom=False).show()


class _SheetWay:
    """The page of one sheet, made anew with every word; `beside` is the file that the words lie beside."""

    def __init__(
        self, ways: Navigator, name: str, beside: Callable[[], Path], read: Callable[[], Warp], on_loom: bool
    ) -> None:
        self._ways = ways
        self._name = name
        self._beside = beside
        self._read = read
        self._on_loom = on_loom

    def show(self) -> None:
        """Put the page on top of where the weaver is."""
        self._ways.push(self._place)

    def _place(self, done: str = "") -> FlowPlace:
        place = FlowPlace(ask_sheet(self._name, read_words(self._beside()), done), self._ways.around, self._do)
        self._shown = place
        return place

    def _do(self, deed: SheetDeed) -> None:
        on_with(self._ways, self._shown, SAVING, partial(self._carry_out, deed), self._show_again)

    def _show_again(self, line: str) -> None:
        self._ways.replace(partial(self._place, line))

    def _carry_out(self, deed: SheetDeed) -> str:
        try:
            if isinstance(deed, KeepWords):
                keep_words(self._beside(), deed.words)
                return WORDS_KEPT
            return sheet_saved_words(self._save())
        except _REFUSALS as error:
            return did_not_work_words(error_words(error, self._ways.around.units))

    def _save(self) -> Sequence[Path]:
        warp, words, around = self._read(), read_words(self._beside()), self._ways.around
        stem = file_stem(tidy_name(self._name))
        return [
            save_sheet(warp, stem, folder, around.units, around.facing, words, self._on_loom, around.look.trade)
            for folder in folders()
        ]
