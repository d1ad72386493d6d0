"""The weaver's settings on disk: one small JSON file beside the journals."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from dataclasses import fields
from pathlib import Path
from typing import Any

from companion.draft.cloth import Surface
from companion.draft.facing import Facing, FirstPick, Side
from companion.draft.units import Units
from companion.journal.disk import write_whole
from companion.journal.shelf import data_folder
from companion.present.letters import KeyboardLayout
from companion.present.preferences import Preferences
from companion.present.trade_words import AS_WRITTEN, Trade
from companion.present.weave import WeaveButton
from companion.remap.loom.feet_wish import FirstFoot, TabbyPlace
from companion.workshop.first_start import first_preferences

_KEPT: Mapping[str, Mapping[str, object]] = {
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
    "tabby": {place.value: place for place in TabbyPlace},
    "first_foot": {foot.value: foot for foot in FirstFoot},
    "units": {"metric": Units.METRIC, "inch": Units.INCH},
    "facing": {
        "left": Facing(Side.LEFT, FirstPick.ON_TOP),
        "right": Facing(Side.RIGHT, FirstPick.ON_TOP),
        "left_first_pick_at_bottom": Facing(Side.LEFT, FirstPick.AT_BOTTOM),
        "right_first_pick_at_bottom": Facing(Side.RIGHT, FirstPick.AT_BOTTOM),
    },
    "trade": {
        "british": AS_WRITTEN,
        "north_american": Trade(american=True, harness=True),
        "american": Trade(american=True),
        "british_harness": Trade(harness=True),
        "british_mistake": Trade(mistake=True),
        "british_harness_mistake": Trade(harness=True, mistake=True),
        "american_mistake": Trade(american=True, mistake=True),
        "american_harness_mistake": Trade(american=True, harness=True, mistake=True),
    },
}
"""How a choice stands in the file, for ever: what a button is called may change, what was set may not be lost.

Files of the first version have the words of the buttons, which then were these but for capitals and spaces.
"""


def preference_file() -> Path:
    """Return where this weaver's settings are kept."""
    return data_folder() / "settings.json"


def load_preferences(path: Path) -> Preferences:
    """Return the settings kept at `path`; where there is no such file, or a spoilt one, those of a first start.

    What is missing in it is as it was before it could be set.
    """
    try:
        kept = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return first_preferences(os.environ)
    if not isinstance(kept, dict):
        return first_preferences(os.environ)
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
    return next(word for word, choice in _KEPT[name].items() if choice == value)
