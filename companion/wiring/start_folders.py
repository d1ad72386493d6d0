"""Folders looked into for drafts, and the ways out of them; sticks are a folder too where there are several."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

from companion.present.file_names import ALL_STICKS, HOME, ON_THIS_DEVICE, UP, draft_choices, one_stick_words
from companion.present.outcome_words import closed_folder_words
from companion.present.start import Folder, MenuItem
from companion.workshop.places import Contents, asset, home, last_folder, look_into, remember_folder, sticks

READ_FIRST, READ_AT_ONCE = 24, 60
"""Drafts of a folder that are read before it shows, for their titles and cloth, and then from time to time."""
STICKS = "sticks"
"""Stands for the path of a folder that has every stick in it: no path of a folder is relative."""


def folder_wanted(path: str) -> Path:
    """Return the folder with this path; the one in which a draft was seen last where it is empty."""
    return Path(path) if path else last_folder()


def looked_into(path: str) -> Folder:
    """Return what the folder with this path holds (see `folder_wanted`) and remember it where a draft is in it."""
    if path == STICKS:
        return _all_sticks()
    folder = folder_wanted(path)
    seen = _looked_into(folder)
    if seen.problem and not path:
        # A stick that was taken out since, mostly.
        return _looked_into(home())
    if seen.drafts:
        remember_folder(folder)
    return seen


def read_by_and_by(folder: Folder, read: Callable[[MenuItem], MenuItem]) -> Iterator[Folder]:
    """Yield the folder with more and more of its drafts `read`, once at least: a full one takes a while."""
    known = [read(item) for item in folder.drafts[:READ_FIRST]]
    yield replace(folder, drafts=(*known, *folder.drafts[len(known) :]))
    while len(known) < len(folder.drafts):
        known += [read(item) for item in folder.drafts[len(known) : len(known) + READ_AT_ONCE]]
        yield replace(folder, drafts=(*known, *folder.drafts[len(known) :]))


def _looked_into(folder: Path) -> Folder:
    """Return what a folder holds, and the ways out of it."""
    found, problem = Contents((), ()), ""
    try:
        found = look_into(folder)
    except OSError as error:
        problem = closed_folder_words(error)
    ways = [MenuItem(str(folder.parent), UP)] if folder.parent != folder else []
    ways += [MenuItem(str(home()), HOME)]
    match sticks():
        case ():
            pass
        case (stick,):
            ways.append(MenuItem(str(stick), one_stick_words(stick.name)))
        case _:
            # A foot holds no button for each of many sticks; a list does.
            ways.append(MenuItem(STICKS, ALL_STICKS))
    return Folder(
        folder.name or str(folder),
        str(folder),
        tuple(MenuItem(str(inner), inner.name) for inner in found.folders),
        # The list says above where they lie.
        tuple(replace(item, detail="") for item in draft_choices(found.drafts, folder, asset("drafts"))),
        tuple(ways),
        problem,
    )


def _all_sticks() -> Folder:
    """Return the sticks that are in this device now, as a folder that has them in it."""
    return Folder(
        ALL_STICKS,
        ON_THIS_DEVICE,
        tuple(MenuItem(str(stick), stick.name) for stick in sticks()),
        ways=(MenuItem(str(home()), HOME),),
    )
