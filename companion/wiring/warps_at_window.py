"""The start: which warp to weave on, or which draft to look at or to put on which loom."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from companion import app
from companion.draft.errors import DraftError
from companion.draft.model import Draft
from companion.draft.reading import read_draft
from companion.places import drafts_to_choose_from
from companion.present.start import Choice, LookAtDraft, OpenWarp, PutOnLoom, Settings, Start, ask_start
from companion.screens.flow_side import FlowSide
from companion.screens.window import FellsideWindow
from companion.weaving.warp import LoomProfile
from companion.wiring.draft_at_window import look_over
from companion.wiring.tie_up_at_window import say, try_loom


class WarpsAtWindow:
    """The choice of warps and drafts; `weave` opens a warp by its name, `settings` asks for them."""

    def __init__(self, window: FellsideWindow, weave: Callable[[str], None], settings: Callable[[], None]) -> None:
        self._window = window
        self._weave = weave
        self._settings = settings

    def show(self) -> None:
        """Put the choice on the screen."""
        self._window.show(self.side())

    def side(self) -> FlowSide:
        """Return the choice as it is now: warps on the shelf, last used first, and drafts."""
        shelf = app.shelf()
        last = shelf.last_used()
        names = sorted(shelf.names(), key=lambda name: name != last)
        drafts = drafts_to_choose_from(Path.home())
        asked = ask_start(
            [Choice(name, name) for name in names], [Choice(str(path), path.stem.replace("-", " ")) for path in drafts]
        )
        return FlowSide(asked, self._window.look, self._window.sizes, self._chosen)

    def _chosen(self, start: Start) -> None:
        match start:
            case OpenWarp(name):
                self._weave(name)
            case PutOnLoom(key):
                self._with_draft(key, lambda name, draft: self._try_loom(name, draft, start.profile(draft.shafts)))
            case LookAtDraft(key):
                self._with_draft(key, lambda name, draft: self._look_at_draft(key, name, draft))
            case Settings():
                self._settings()

    def _with_draft(self, key: str, use: Callable[[str, Draft], None]) -> None:
        """Read the draft file `key` and use it under its title; a file that cannot be read is told of."""
        try:
            draft = read_draft(Path(key).read_bytes())
        except (OSError, DraftError) as error:
            say(self._window, f"{Path(key).name}: {error}", self.show)
        else:
            use(draft.title or Path(key).stem, draft)

    def _look_at_draft(self, key: str, name: str, draft: Draft) -> None:
        look_over(
            self._window,
            Path(key).stem,
            draft,
            put_on=lambda changed, wanted: self._try_loom(name, changed, wanted.profile(changed.shafts)),
            leave=self.show,
        )

    def _try_loom(self, name: str, draft: Draft, profile: LoomProfile) -> None:
        try_loom(self._window, name, draft, profile, self._weave, self.show)
