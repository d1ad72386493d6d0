"""The weaver's own looms in the window: described and changed by touch, kept in their file."""

from __future__ import annotations

from collections.abc import Callable

from companion.present.letters import KeyboardLayout
from companion.present.looms import DrawTieUp, KeepLoom, LoomsOutcome, RemoveLoom, ask_loom_facts, ask_looms
from companion.screens.flow import FlowPlace
from companion.screens.present_tieup import PresentTieUpScreen
from companion.screens.window import FellsideWindow
from companion.weaving.warp import LoomProfile
from companion.wiring.tie_up import say
from companion.workshop import app
from companion.workshop.looms import (
    Looms,
    LoomsError,
    change_looms,
    load_looms,
    loom_named,
    same_loom,
    with_loom,
    without_loom,
)


def show_looms(
    window: FellsideWindow, leave: Callable[[], None], letters: KeyboardLayout, removed: LoomProfile | None = None
) -> None:
    """Put the looms on the screen; `leave` when the weaver is done. A file that cannot be used is told of.

    `letters` is how the keyboard on the screen is arranged.
    """

    def chosen(wanted: LoomsOutcome) -> None:
        try:
            gone = _carry_out(wanted)
        except LoomsError as error:
            say(window, str(error), lambda: show_looms(window, leave, letters))
        else:
            if isinstance(wanted, DrawTieUp):
                draw(wanted)
            elif isinstance(wanted, KeepLoom | RemoveLoom):
                show_looms(window, leave, letters, gone)
            else:
                leave()

    def draw(wanted: DrawTieUp) -> None:
        def go_on(loom: LoomProfile) -> None:
            side = FlowPlace(ask_looms(looms, removed), window.look, window.sizes, chosen, letters)
            side.lead_on(ask_loom_facts(loom, wanted.was))
            window.show(side)

        window.show(PresentTieUpScreen(wanted.loom, window.look, window.sizes, go_on, leave=lambda: go_on(wanted.loom)))

    try:
        looms = load_looms(app.looms_file())
    except LoomsError as error:
        say(window, str(error), leave)
    else:
        window.show(FlowPlace(ask_looms(looms, removed), window.look, window.sizes, chosen, letters))


def _carry_out(wanted: LoomsOutcome) -> LoomProfile | None:
    """Keep what the weaver wants; return the loom that was removed, if one was. Raises LoomsError."""
    match wanted:
        case KeepLoom(loom, was):

            def with_kept(looms: Looms) -> Looms:
                others = without_loom(looms, was) if was else looms
                if any(same_loom(other.name, loom.name) for other in others):
                    raise LoomsError(f"another loom is called {loom.name!r}; give this one another name")
                return with_loom(others, loom)

            change_looms(app.looms_file(), with_kept)
        case RemoveLoom(name):
            gone = loom_named(load_looms(app.looms_file()), name)
            change_looms(app.looms_file(), lambda looms: without_loom(looms, name))
            return gone
    return None
