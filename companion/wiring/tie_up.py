"""A tie-up looked for in the window, taken, and the draft put on the shelf as a warp."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from companion.draft.model import Draft
from companion.journal.errors import JournalError
from companion.journal.words_beside import read_words
from companion.present.new_warp import NewPiece, NewWarp
from companion.present.planned_warp import planned_warp
from companion.present.tie_up import (
    NOT_DONE,
    ChooseWay,
    LookClosely,
    TieUpDeed,
    TieUpSigns,
    said_signs,
    searching_signs,
)
from companion.present.tie_up_choices import best_choice, choice_signs
from companion.present.trade_words import in_trade_words
from companion.remap.search.answers import SearchProgress
from companion.screens.tie_up import TieUpScreen
from companion.weaving.cloth_plan import plan_cloth
from companion.weaving.errors import WeavingError, error_words
from companion.weaving.sheet_words import NOTHING_SAID
from companion.weaving.warp import LoomProfile
from companion.wiring.cards import save_card_of
from companion.wiring.navigator import Navigator
from companion.wiring.new_warp import tell_of_warp
from companion.workshop import app
from companion.workshop.bookmarks import Bookmark, mark_of_search
from companion.workshop.dressing import CannotDressError
from companion.workshop.new_warp import shelve
from companion.workshop.plans_kept import plan_of
from companion.workshop.tie_up_search import TieUpSearch


def try_loom(
    ways: Navigator,
    name: str,
    draft: Draft,
    profile: LoomProfile,
    weave: Callable[[str], None],
    file: Path | None = None,
    lies_in: Path | None = None,
    back: Callable[[], None] = lambda: None,
) -> None:
    """Look for a tie-up of `draft` on this loom, with few cords to change from the tie-up that is now on it.

    What the weaver wishes of the feet holds where the loom leaves it open.

    Where it does not fit, other ways stand beside it. What the weaver takes is woven under its name.
    The words that stand beside its `file`, where it has one, go with it. The search is found again by the file that the
    draft itself `lies_in`. `back` is called when the weaver has gone back from here.
    """
    mark = None if lies_in is None else mark_of_search(lies_in, profile)
    search = TieUpSearch(draft, profile.wishing(ways.around.wish))
    _TieUpWay(ways, name, search, weave, file, back).begin(mark)


class _TieUpWay:
    """One search on the screen: which of the ways found is chosen, and what becomes of it."""

    def __init__(
        self,
        ways: Navigator,
        name: str,
        search: TieUpSearch,
        weave: Callable[[str], None],
        file: Path | None,
        back: Callable[[], None],
    ) -> None:
        self._ways = ways
        self._file = file
        self._back = back
        self._name = name
        self._search = search
        self._weave = weave
        self._chosen = 0
        self._weaver_chose = False
        self._closely: bool | None = None
        self._screen = TieUpScreen(ways.around, self._do)

    def begin(self, mark: Bookmark | None) -> None:
        """Show the screen and search."""
        self._ways.push(lambda: self._screen, left=self._search.leave, mark=mark)
        self._search.start(self._progressed, lambda: self._ways.window.post(self._show_found))

    def _do(self, wanted: TieUpDeed | ChooseWay | LookClosely) -> None:
        match wanted:
            case ChooseWay(number):
                self._chosen, self._weaver_chose = number, True
                self._show_found()
            case LookClosely(closely):
                self._closely, self._weaver_chose = closely, True
                self._show_found()
            case TieUpDeed.ACCEPT:
                self._put_on_shelf(self._found())
            case TieUpDeed.ACCEPT_TIED:
                self._put_on_shelf(self._found(), tied=True)
            case TieUpDeed.SAVE:
                self._save()
            case TieUpDeed.TELL_MORE:
                if (warp := self._found()) is not None:
                    tell_of_warp(self._ways, warp, self._put_on_shelf)
            case TieUpDeed.STOP:
                self._search.stop()
            case TieUpDeed.LEAVE if self._closely is False and self._seen_alone_first():
                self._closely = None
                self._show_found()
            case TieUpDeed.LEAVE:
                self._ways.pop()
                self._back()

    def _seen_alone_first(self) -> bool:
        """Tell whether the answer stood alone before the ways side by side, so that the way back leads over it."""
        return bool(self._search.choices) and self._search.choices[self._chosen].aim is not None

    def _found(self) -> NewWarp | None:
        choice = self._search.choices[self._chosen] if self._search.choices else None
        if choice is None or choice.answer is None:
            return None
        draft = self._search.draft
        warp = NewWarp(self._name, choice.profile, (NewPiece(self._name, draft, choice.answer),), {})
        try:
            return planned_warp(warp, plan_cloth(plan_of(draft)))
        except WeavingError:
            # Nothing is planned of it, or not all.
            return warp

    def _put_on_shelf(self, warp: NewWarp | None, tied: bool = False) -> None:
        if warp is None:
            return
        self._search.leave()
        try:
            new = shelve(warp, self._ways.around.facing, tied)
        except (JournalError, WeavingError, CannotDressError) as error:
            self._ways.message(error_words(error, self._ways.around.units))
        else:
            if self._file is not None:
                app.bring_words(self._file, new)
            self._weave(new)

    def _save(self) -> None:
        warp = self._found()
        if warp is None:
            return
        piece = warp.pieces[0]
        words = NOTHING_SAID if self._file is None else read_words(self._file)
        save_card_of(self._ways, self._screen, self._name, piece.draft, lambda: piece.answer, words)

    def _progressed(self, progress: SearchProgress) -> None:
        self._ways.window.post(lambda: self._show(searching_signs(progress)))

    def _show_found(self) -> None:
        if self._search.problem:
            self._show(said_signs(NOT_DONE, self._search.problem))
            return
        best = best_choice(self._search.choices)
        if not self._weaver_chose and best != self._chosen:
            # Another way stands out now: no finger that was meant for the one before takes it.
            self._chosen = best
            self._screen.settle()
        self._show(choice_signs(self._search.choices, self._chosen, self._closely))

    def _show(self, signs: TieUpSigns) -> None:
        self._screen.signs = in_trade_words(signs, self._ways.around.look.trade)
