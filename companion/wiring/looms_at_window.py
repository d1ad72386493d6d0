"""The weaver's own looms in the window: described and changed by touch, kept in their file."""

from __future__ import annotations

from collections.abc import Callable

from companion import app
from companion.looms import LoomsError, load_looms, loom_named, save_looms, with_loom, without_loom
from companion.present.letters import Layout
from companion.present.looms import KeepLoom, Looms, RemoveLoom, ask_looms
from companion.screens.flow_side import FlowSide
from companion.screens.window import FellsideWindow
from companion.weaving.warp import LoomProfile
from companion.wiring.tie_up_at_window import say


def show_looms(
    window: FellsideWindow, leave: Callable[[], None], letters: Layout, removed: LoomProfile | None = None
) -> None:
    """Put the looms on the screen; `leave` when the weaver is done. A file that cannot be used is told of.

    `letters` is how the keyboard on the screen is arranged.
    """

    def chosen(wanted: Looms) -> None:
        try:
            gone = _carry_out(wanted)
        except LoomsError as error:
            say(window, str(error), lambda: show_looms(window, leave, letters))
        else:
            if isinstance(wanted, KeepLoom | RemoveLoom):
                show_looms(window, leave, letters, gone)
            else:
                leave()

    try:
        looms = load_looms(app.looms_file())
    except LoomsError as error:
        say(window, str(error), leave)
    else:
        window.show(FlowSide(ask_looms(looms, removed), window.look, window.sizes, chosen, letters))


def _carry_out(wanted: Looms) -> LoomProfile | None:
    """Keep what the weaver wants; return the loom that was removed, if one was. Raises LoomsError."""
    looms = load_looms(app.looms_file())
    match wanted:
        case KeepLoom(loom, was):
            others = without_loom(looms, was) if was else looms
            if any(other.name.casefold() == loom.name.casefold() for other in others):
                raise LoomsError(f"another loom is called {loom.name!r}; give this one another name")
            save_looms(app.looms_file(), with_loom(others, loom))
        case RemoveLoom(name):
            gone = loom_named(looms, name)
            save_looms(app.looms_file(), without_loom(looms, name))
            return gone
    return None
