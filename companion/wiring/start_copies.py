"""Copies of a warp that cannot be opened, looked for on this device and on the sticks in it."""

from __future__ import annotations

from companion.journal.backup import backup_folder, copies_to_put_back
from companion.present.start import MenuItem
from companion.present.which_warp import copy_item
from companion.workshop import app
from companion.workshop.places import sticks

STICK_FOLDER = "fellside"
"""Where the copies lie on a stick (deploy/device/copy-to-stick.sh puts them there)."""


def copies_of(name: str) -> tuple[MenuItem, ...]:
    """Return the copies of a warp on this device and on the sticks in it."""
    own, stem = backup_folder(), app.shelf().path(name).stem
    now_ms = app.now_ms()
    items = []
    for copy in copies_to_put_back(stem, (own, *(stick / STICK_FOLDER for stick in sticks()))):
        age_ms = now_ms - copy.path.stat().st_mtime_ns // 1_000_000
        items.append(copy_item(str(copy.path), copy.entries, age_ms, copy.path.parent == own))
    return tuple(items)
