"""Work that may take a while, such as looking into a slow folder, done beside the screen."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Any, TypeVar

from companion.present.asking import Asked
from companion.screens.flow import FlowPlace
from companion.screens.window import FellsideWindow

AT_ONCE_S = 0.03
"""What is done in this time is shown without a word about waiting."""

Result = TypeVar("Result")


def in_background(
    window: FellsideWindow, side: FlowPlace, waiting: Asked[Result], work: Callable[[], Asked[Result]]
) -> Asked[Result]:
    """Return the question that `work` makes; or `waiting`, in whose place it is put once it is made."""
    made: list[Asked[Any]] = []

    def do() -> None:
        made.append(work())
        window.post(lambda: side.instead(waiting, made[0]))

    thread = threading.Thread(target=do, name="work beside the screen", daemon=True)
    thread.start()
    thread.join(AT_ONCE_S)
    return made[0] if made else waiting
