"""What stands in a box, in which order: widgets that change places as a window turns or a question changes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any


def stand_in(box: Any, parts: Sequence[Any]) -> None:
    """Let these parts, and no others, stand in a box in this order, wherever they stood; nothing moves that does."""
    if list(parts) != list(reversed(box.children)):
        box.clear_widgets()
        for part in parts:
            if part.parent is not None:
                part.parent.remove_widget(part)
            box.add_widget(part)
