"""Work that may take a while, such as looking into a slow folder, done beside the screen."""

from __future__ import annotations

import queue
import threading
from collections.abc import Callable
from typing import Any, TypeVar

from companion.present.asking import Asked
from companion.screens.flow import FlowPlace
from companion.wiring.navigator import Navigator

AT_ONCE_S = 0.03
"""What is done in this time is shown without a word about waiting."""

ON_THE_WAY = "on the way to another screen"
"""What a thread is called on which another screen waits."""

Result = TypeVar("Result")
Made = TypeVar("Made")


def on_with(
    ways: Navigator, side: FlowPlace, waiting: str, work: Callable[[], Made], use: Callable[[Made], None]
) -> None:
    """Call `use` on the screen's thread with what `work` makes, unless the weaver has gone elsewhere meanwhile.

    Where it takes long, the line `waiting` says so.
    """
    asked, made = side.asking, queue.SimpleQueue[Made]()

    def do() -> None:
        made.put(work())
        ways.window.post(use_it)

    def use_it() -> None:
        if not made.empty():
            one = made.get()
            if ways.is_shown(side) and side.asking is asked:
                use(one)

    thread = threading.Thread(target=do, name=ON_THE_WAY, daemon=True)
    thread.start()
    thread.join(AT_ONCE_S)
    if made.empty():
        side.say(waiting)
    use_it()


def in_background(
    ways: Navigator, side: FlowPlace, waiting: Asked[Result], work: Callable[[], Asked[Result]]
) -> Asked[Result]:
    """Return the question that `work` makes; or `waiting`, in whose place it is put once it is made."""
    made: list[Asked[Any]] = []

    def do() -> None:
        made.append(work())
        ways.window.post(lambda: side.instead(waiting, made[0]))

    thread = threading.Thread(target=do, name="work beside the screen", daemon=True)
    thread.start()
    thread.join(AT_ONCE_S)
    return made[0] if made else waiting
