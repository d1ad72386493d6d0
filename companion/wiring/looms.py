"""The weaver's own looms in the window: described and changed by touch, kept in their file."""

from __future__ import annotations

from companion.present.looms import DrawTieUp, KeepLoom, LoomsOutcome, RemoveLoom, ask_loom_facts, ask_looms
from companion.screens.current_tieup import CurrentTieUpScreen
from companion.screens.flow_place import FlowPlace
from companion.weaving.warp import LoomProfile
from companion.wiring.navigator import Navigator
from companion.workshop import app
from companion.workshop.bookmarks import Bookmark, Marked
from companion.workshop.looms import Looms, LoomsError, loom_named, with_loom_kept, without_loom
from companion.workshop.looms_file import change_looms, load_looms


def show_looms(ways: Navigator) -> None:
    """Put the looms on the screen, on top of where the weaver is. A file that cannot be used is told of."""
    _LoomsWay(ways).show()


class _LoomsWay:
    """The list of looms, made anew after every change; the loom that was removed last can be put back."""

    def __init__(self, ways: Navigator) -> None:
        self._ways = ways
        self._removed: LoomProfile | None = None
        self._list: FlowPlace

    def show(self) -> None:
        try:
            load_looms(app.looms_file())
        except LoomsError as error:
            self._ways.message(str(error))
        else:
            self._ways.push(self._place, mark=Bookmark(Marked.OWN_LOOMS))

    def _place(self) -> FlowPlace:
        around = self._ways.around
        self._list = FlowPlace(ask_looms(_looms(), around.units, self._removed), around, self._chosen)
        return self._list

    def _chosen(self, wanted: LoomsOutcome) -> None:
        try:
            gone = _carry_out(wanted)
        except LoomsError as error:
            self._ways.message(str(error))
            return
        match wanted:
            case DrawTieUp(loom, was):
                self._draw(loom, was)
            case KeepLoom() | RemoveLoom():
                self._removed = gone
                self._ways.replace(self._place, mark=Bookmark(Marked.OWN_LOOMS))

    def _draw(self, loom: LoomProfile, was: str) -> None:
        def go_on(drawn: LoomProfile) -> None:
            self._ways.pop()
            self._list.lead_on(ask_loom_facts(drawn, was, self._ways.around.units))

        self._ways.push(lambda: CurrentTieUpScreen(loom, self._ways.around, go_on))


def _looms() -> Looms:
    try:
        return load_looms(app.looms_file())
    except LoomsError:
        # Told when the list was asked for; a file that was spoilt since is told at the next change.
        return ()


def _carry_out(wanted: LoomsOutcome) -> LoomProfile | None:
    """Keep what the weaver wants; return the loom that was removed, if one was. Raises LoomsError."""
    match wanted:
        case KeepLoom(loom, was):
            change_looms(app.looms_file(), lambda looms: with_loom_kept(looms, loom, was))
        case RemoveLoom(name):
            gone = loom_named(load_looms(app.looms_file()), name)
            change_looms(app.looms_file(), lambda looms: without_loom(looms, name))
            return gone
    return None
