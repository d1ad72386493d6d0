"""The weaver's settings on disk: one small JSON file beside the journals."""

from __future__ import annotations

import json
from dataclasses import asdict, fields
from pathlib import Path
from typing import Any

from companion.journal.disk import write_whole
from companion.present.preferences import Preferences

_ONCE_LABELS = ("double_tap", "trade")
"""Settings of which older files hold what a button said, such as `Note`, in place of its id."""


def load_preferences(path: Path) -> Preferences:
    """Return the settings kept at `path`; what is missing there or makes no sense is as at a first start."""
    try:
        kept = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return Preferences()
    if not isinstance(kept, dict):
        return Preferences()
    first = Preferences()
    sound: dict[str, Any] = {}
    for field in fields(Preferences):
        value, usual = kept.get(field.name), getattr(first, field.name)
        if isinstance(usual, tuple) and isinstance(value, list) and all(type(one) is int for one in value):
            sound[field.name] = tuple(value)
        elif type(value) is type(usual):
            sound[field.name] = _id_of(str(value)) if field.name in _ONCE_LABELS else value
    return Preferences(**sound)


def _id_of(label: str) -> str:
    return label.casefold().replace(" ", "_")


def save_preferences(path: Path, preferences: Preferences) -> None:
    """Keep the settings at `path`, whole or not at all; raises OSError."""
    path.parent.mkdir(parents=True, exist_ok=True)
    write_whole(path, (json.dumps(asdict(preferences), indent=1) + "\n").encode())
