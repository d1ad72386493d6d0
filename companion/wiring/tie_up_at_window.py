"""A tie-up looked for in the window, taken, and the draft put on the shelf as a warp."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from companion.draft.model import Draft
from companion.dressing import CannotDressError
from companion.journal.errors import JournalError
from companion.present.new_warp import NewPiece, NewWarp
from companion.present.tie_up import NOT_DONE, TieUpSigns, said_signs, searching_signs, tie_up_signs
from companion.present.trade_words import in_trade_words
from companion.remap.answers import Progress
from companion.remap.loom import Loom
from companion.screens.tie_up import TieUpScreen
from companion.screens.window import FellsideWindow
from companion.weaving.errors import WeavingError
from companion.weaving.warp import LoomProfile
from companion.wiring.new_warp_at_window import tell_of_warp
from companion.wiring.new_warp_shelved import shelve
from companion.wiring.saved_cards import save_card
from companion.wiring.tie_up_search import TieUpSearch


def try_loom(
    window: FellsideWindow,
    name: str,
    draft: Draft,
    profile: LoomProfile,
    weave: Callable[[str], None],
    leave: Callable[[], None],
) -> None:
    """Look for a tie-up of `draft` on this loom, with few cords to change from the tie-up that is now on it.

    Where the weaver takes it, `weave` the new warp under its name.
    """
    search = TieUpSearch(draft, profile)

    def found() -> NewWarp | None:
        answer = search.answer
        return None if answer is None else NewWarp(name, search.profile, (NewPiece(name, search.draft, answer),), {})

    def put_on_shelf(warp: NewWarp | None, tied: bool = False) -> None:
        if warp is None:
            return
        try:
            new = shelve(warp, tied)
        except (JournalError, WeavingError, CannotDressError) as error:
            say(window, str(error), leave)
        else:
            weave(new)

    def tell_more() -> None:
        warp = found()
        if warp is not None:
            tell_of_warp(window, warp, put_on_shelf, back)

    def back() -> None:
        screen.fit(window.sizes)
        window.show(screen)

    def go() -> None:
        search.stop()
        leave()

    def save() -> None:
        if search.answer is None:
            return
        try:
            page = save_card(name, draft, search.answer, Path.home() / "Documents" / "Fellside")
        except OSError as error:
            line = f"the card could not be saved: {error.strerror or error}"
        else:
            line = f"Saved: {page}, the draft beside it"
        screen.signs = replace(screen.signs, detail=line)

    screen = TieUpScreen(
        window.look,
        window.sizes,
        save=save,
        accept=lambda: put_on_shelf(found()),
        tied=lambda: put_on_shelf(found(), tied=True),
        tell_more=tell_more,
        leave=go,
        stop=search.stop,
        try_loom=lambda other: try_loom(window, name, draft, _used_otherwise(profile, other), weave, leave),
    )

    def show(signs: TieUpSigns) -> None:
        screen.signs = in_trade_words(signs, window.look.trade)

    def progressed(progress: Progress) -> None:
        window.post(lambda: show(searching_signs(progress)))

    def ended() -> None:
        if search.answer is None:
            signs = said_signs(NOT_DONE, search.problem)
        else:
            signs = tie_up_signs(search.answer, profile.present)
        window.post(lambda: show(signs))

    window.show(screen)
    search.start(progressed, ended)


def say(window: FellsideWindow, line: str, leave: Callable[[], None], headline: str = NOT_DONE) -> None:
    """Tell the weaver what came of it, on a screen of its own with one way on."""
    screen = TieUpScreen(
        window.look,
        window.sizes,
        accept=lambda: None,
        leave=leave,
        stop=lambda: None,
        try_loom=lambda _loom: None,
    )
    screen.signs = said_signs(headline, line)
    window.show(screen)


def _used_otherwise(profile: LoomProfile, loom: Loom) -> LoomProfile:
    """Return the weaver's loom worked in another way; its cords stay tied where they can be of use so."""
    present = profile.present
    if present is not None and (loom.action is not profile.loom.action or len(present) > loom.treadles):
        present = None
    return replace(profile, loom=loom, present=present)
