"""What is told of each warp in the list of warps: how far it is and since when, with a little of its cloth."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import replace

from companion.draft.facing import Facing
from companion.journal.errors import JournalError
from companion.journal.snapshots import progress_of
from companion.present.preferences import dressing_way
from companion.present.square_table import sample_picture
from companion.present.start import MenuItem
from companion.present.warp_in_brief import warp_in_brief
from companion.present.which_warp import CANNOT_BE_OPENED
from companion.weaving.dressing_way import DressingWay
from companion.weaving.errors import WeavingError
from companion.weaving.warp import LoomProfile
from companion.wiring.dressing import dressing_words
from companion.workshop import app
from companion.workshop.preference_file import load_preferences, preference_file


def told_of_warps(way: DressingWay, facing: Facing) -> dict[str, MenuItem]:
    """Return what is to be told of warps, by their names; each journal is read. Raises JournalError."""
    shelf, now_ms = app.shelf(), app.now_ms()
    told = {name: MenuItem(name, name, CANNOT_BE_OPENED) for name in shelf.unreadable()}
    for name in shelf.names():
        # Damage within a journal shows when it is touched.
        with suppress(JournalError, WeavingError):
            if name not in told:
                with shelf.open_to_read(name) as journal:
                    warp, progress = journal.warp, progress_of(journal)
                brief = warp_in_brief(warp, progress, now_ms, dressing_words(warp, progress, way))
                told[name] = MenuItem(name, name, brief, sample_picture(warp.pieces[0].draft, facing))
    return told


def told_of_all(facing: Facing) -> dict[str, MenuItem]:
    """Return the same for a weaver who dresses as the settings say; nothing where the shelf cannot be read."""
    with suppress(JournalError):
        return told_of_warps(dressing_way(load_preferences(preference_file())), facing)
    return {}


def loom_used_last() -> LoomProfile | None:
    """Return the loom of the warp that was woven last; None where there is none, or only the demo."""
    with suppress(JournalError):
        shelf = app.shelf()
        name = shelf.last_used()
        if name is not None:
            with shelf.open_to_read(name) as journal:
                loom = journal.warp.loom
            return None if loom.name == app.DEMO_LOOM.name else loom
    return None


def as_told(items: Iterable[MenuItem], told: Mapping[str, MenuItem]) -> list[MenuItem]:
    """Return the items with what is told of them, in their order."""
    return [
        replace(item, detail=told[item.key].detail, picture=told[item.key].picture) if item.key in told else item
        for item in items
    ]
