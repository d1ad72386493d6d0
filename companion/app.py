"""The one place that wires rooms, drivers and screens together."""

from __future__ import annotations

import time
from collections.abc import Callable

from companion.draft.model import Draft
from companion.draft.reading import read_draft
from companion.dressing import dress
from companion.journal.backup import backup_folder
from companion.journal.shelf import Shelf, data_folder
from companion.loomside import AtTheLoom, LoomWorker, Told
from companion.places import asset
from companion.remap.loom import Loom
from companion.watchdog import SignsOfLife
from companion.weaving.decide import pause
from companion.weaving.warp import LoomProfile

DEMO = "drafts/demo-double-faced-four-shaft.wif"
DEMO_NAME = "Demo"
DEMO_LOOM = LoomProfile("demo loom", Loom(shafts=4, treadles=6))
DRESSING_SECONDS = 20.0
"""How long finding a tie-up for a new warp may take before the weaver is told that none was found in time."""


def now_ms() -> int:
    """Return the time of day in Unix milliseconds."""
    return time.time_ns() // 1_000_000


def until(seconds: float) -> Callable[[], bool]:
    """Return a question that is answered yes once this many seconds have gone by."""
    end = time.monotonic() + seconds
    return lambda: time.monotonic() > end


def shelf() -> Shelf:
    """Return the shelf of this weaver's warps."""
    return Shelf(data_folder() / "journal")


def demo_draft() -> Draft:
    """Return the draft of the demo warp, which ships with the program."""
    return read_draft(asset(DEMO).read_bytes())


def put_on_shelf(name: str, draft: Draft, profile: LoomProfile) -> None:
    """Make a warp of this draft and keep it; raises CannotDressError or JournalError."""
    shelf().create(name, dress(name, draft, profile, until(DRESSING_SECONDS)), now_ms()).close()


def sit_down(name: str) -> AtTheLoom:
    """Open the warp called `name` to weave on; raises JournalError."""
    return AtTheLoom(shelf().open(name), now_ms, copies=backup_folder())


def weave_on_screen(name: str) -> None:
    """Open the warp called `name` in a window until it is closed; raises NoDisplayError or JournalError."""
    from companion.screens.environment import prepare

    prepare()
    from companion.screens.loom_side import LoomSide
    from companion.screens.window import FellsideWindow

    def loom_side(window: FellsideWindow) -> LoomSide:
        away_ms = now_ms() - worker.at_start.now.at_ms
        return LoomSide(
            worker.warp, worker.at_start, worker.submit, window.look, window.sizes, away_ms, window.mirrored
        )

    window = FellsideWindow(loom_side)

    def show(told: Told) -> None:
        window.post(lambda: window.place.told(told.progress, told.problem))

    with LoomWorker(lambda: sit_down(name), show) as worker:
        try:
            with SignsOfLife(window.post):
                window.run()
        finally:
            # A window that was closed is a weaver who left; on a pause already, this is refused and harmless.
            worker.submit(pause)
