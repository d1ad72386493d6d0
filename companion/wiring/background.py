"""Work that may take a while, such as looking into a slow folder, done beside the screen."""

from __future__ import annotations

import queue
import threading
from collections.abc import Callable
from typing import Any, Protocol, TypeVar

from companion.present.asking import Asked
from companion.screens.flow import asks_the_same
from companion.screens.flow_place import FlowPlace
from companion.screens.place import Place
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
            # More may be told of the question by now, which is still where the weaver waits.
            if ways.is_shown(side) and asks_the_same(side.asking, asked):
                use(one)

    thread = threading.Thread(target=do, name=ON_THE_WAY, daemon=True)
    thread.start()
    thread.join(AT_ONCE_S)
    if made.empty():
        side.say(waiting)
    use_it()


def place_with(ways: Navigator, waiting: Place, work: Callable[[], None], make: Callable[[], Place]) -> Place:
    """Return the place that is made once `work` is done; or `waiting`, in whose place that one is put then.

    The weaver may go on from `waiting` meanwhile, and finds the place that was made on the way back.
    """
    done = beside_screen(ways, work, lambda: ways.instead(waiting, make))
    return make() if done else waiting


def beside_screen(ways: Navigator, work: Callable[[], None], later: Callable[[], None]) -> bool:
    """Tell whether `work` was done at once; where it was not, `later` is called on the screen's thread when it is."""
    over = threading.Event()
    at_once = False

    def do() -> None:
        work()
        over.set()
        ways.window.post(then)

    def then() -> None:
        # On the screen's thread, as is the judgement below: it has been passed by now.
        if not at_once:
            later()

    threading.Thread(target=do, name=ON_THE_WAY, daemon=True).start()
    at_once = over.wait(AT_ONCE_S)
    return at_once


def fill_in(ways: Navigator, side: FlowPlace, look: Callable[[], Asked[Any]]) -> None:
    """Put what `look` finds out onto the question that stands at `side`, unless the weaver has gone on from it."""
    asked = side.asking

    def do() -> None:
        told = look()
        if asked is not None:
            ways.window.post(lambda: side.instead(asked, told))

    threading.Thread(target=do, name="look what is told of a list", daemon=True).start()


class Asking(Protocol):
    """A place on which a question stands."""

    def instead(self, waited_at: Asked[Any], asked: Asked[Any]) -> None:
        """Put another question in the place of the one the weaver waited at; nothing where the weaver went on."""


def in_background(
    ways: Navigator,
    side: Asking,
    waiting: Asked[Result],
    work: Callable[[], Asked[Result]],
    on_the_way: bool = False,
) -> Asked[Result]:
    """Return the question that `work` makes; or `waiting`, in whose place it is put once it is made.

    `on_the_way`: its thread has the name of those on which another screen waits.
    """
    made: list[Asked[Any]] = []

    def do() -> None:
        made.append(work())
        ways.window.post(lambda: side.instead(waiting, made[0]))

    thread = threading.Thread(target=do, name=ON_THE_WAY if on_the_way else None, daemon=True)
    thread.start()
    thread.join(AT_ONCE_S)
    return made[0] if made else waiting
