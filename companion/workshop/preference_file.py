"""The weaver's settings on disk: one small JSON file beside the journals."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import fields
from enum import Enum
from pathlib import Path
from typing import Any

from companion.draft.cloth import Surface
from companion.draft.units import Units
from companion.journal.disk import write_whole
from companion.present.letters import KeyboardLayout
from companion.present.preferences import Preferences
from companion.present.trade_words import Trade
from companion.present.weave import WeaveButton

_KEPT: Mapping[str, Mapping[str, Enum | None]] = {
    "double_tap": {
        "": None,
        "back": WeaveButton.BACK,
        "fault": WeaveButton.FAULT,
        "note": WeaveButton.NOTE,
        "measure": WeaveButton.MEASURE,
        "find": WeaveButton.FIND,
        "undo": WeaveButton.UNDO,
        "turn": WeaveButton.TURN,
        "pause": WeaveButton.PAUSE,
    },
    "letters": {
        "qwerty": KeyboardLayout.QWERTY,
        "qwertz": KeyboardLayout.QWERTZ,
        "azerty": KeyboardLayout.AZERTY,
    },
    "cloth": {"face": Surface.FACE, "back": Surface.BACK},
    "units": {"metric": Units.METRIC, "inch": Units.INCH},
    "trade": {"british": Trade.BRITISH, "north_american": Trade.NORTH_AMERICAN},
}
"""How a choice stands in the file, for ever: what a button is called may change, what was set may not be lost.

Files of the first version have the words of the buttons, which then were these but for capitals and spaces.
"""


def load_preferences(path: Path) -> Preferences:
    """Return the settings kept at `path`; what is missing there or makes no sense is as at a first start."""
    try:
        kept = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return Preferences()
    if not isinstance(kept, dict):
        return Preferences()
    first = Preferences()
    sound: dict[str, Any] = {}
    for field in fields(Preferences):
        value, usual = kept.get(field.name), getattr(first, field.name)
        if field.name in _KEPT:
            choices, word = _KEPT[field.name], str(value).lower().replace(" ", "_")
            if word in choices:
                sound[field.name] = choices[word]
        elif isinstance(usual, tuple) and isinstance(value, list) and all(type(one) is int for one in value):
            sound[field.name] = tuple(value)
        elif type(value) is type(usual):
            sound[field.name] = value
    return Preferences(**sound)


def save_preferences(path: Path, preferences: Preferences) -> None:
    """Keep the settings at `path`, whole or not at all; raises OSError."""
    kept = {field.name: _stored(field.name, getattr(preferences, field.name)) for field in fields(Preferences)}
    path.parent.mkdir(parents=True, exist_ok=True)
    write_whole(path, (json.dumps(kept, indent=1) + "\n").encode())


def _stored(name: str, value: object) -> object:
    if name not in _KEPT:
        return value
    return next(word for word, choice in _KEPT[name].items() if choice is value)
