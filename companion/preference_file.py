"""The weaver's settings on disk: one small JSON file beside the journals."""

from __future__ import annotations

import json
from dataclasses import asdict, fields
from pathlib import Path

from companion.present.preferences import Preferences


def load_preferences(path: Path) -> Preferences:
    """Return the settings kept at `path`; what is missing there or makes no sense is as at a first start."""
    try:
        kept = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return Preferences()
    if not isinstance(kept, dict):
        return Preferences()
    first = Preferences()
    sound = {
        field.name: kept[field.name]
        for field in fields(Preferences)
        if type(kept.get(field.name)) is type(getattr(first, field.name))
    }
    return Preferences(**sound)


def save_preferences(path: Path, preferences: Preferences) -> None:
    """Keep the settings at `path`, whole or not at all; raises OSError."""
    path.parent.mkdir(parents=True, exist_ok=True)
    fresh = path.with_name(path.name + ".new")
    fresh.write_text(json.dumps(asdict(preferences), indent=1) + "\n", encoding="utf-8")
    fresh.replace(path)
