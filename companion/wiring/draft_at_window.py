"""A draft looked over, and changed, in the window before it is put on a loom; a changed one is kept in its own file."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from companion.draft.model import Draft
from companion.present.start import PutOnLoom, Start, ask_loom
from companion.screens.draft import DraftScreen
from companion.screens.flow_side import FlowSide
from companion.screens.window import FellsideWindow
from companion.wiring.changed_drafts import save_changed_draft


def look_over(
    window: FellsideWindow,
    stem: str,
    draft: Draft,
    put_on: Callable[[Draft, PutOnLoom], None],
    leave: Callable[[], None],
) -> None:
    """Show the draft of the file `stem`; then `put_on` a loom what became of it, or `leave`."""
    kept = draft

    def keep(changed: Draft) -> bool:
        """Keep a changed draft; tell whether nothing is lost by going on."""
        nonlocal kept
        if changed == kept:
            return True
        try:
            path = save_changed_draft(stem, changed, Path.home() / "Documents" / "Fellside")
        except OSError as error:
            screen.say(f"the changed draft could not be kept: {error.strerror or error}")
            return False
        kept, screen.title = changed, path.stem
        return True

    def ask_for_loom(changed: Draft) -> None:
        if keep(changed):
            window.show(FlowSide(ask_loom(stem), window.look, window.sizes, go_on))

    def go_on(start: Start) -> None:
        if isinstance(start, PutOnLoom):
            put_on(screen.draft, start)
        else:
            screen.fit(window.sizes)
            window.show(screen)

    def go(changed: Draft) -> None:
        if keep(changed):
            leave()

    screen = DraftScreen(stem.replace("-", " "), draft, window.look, window.sizes, ask_for_loom, go)
    window.show(screen)
