"""One call for the program: open a pedal on a serial port, whatever its wiring, and hear from it.

>>> with open_pedal("/dev/serial/by-id/usb-footboard", events.put) as pedal:  # doctest: +SKIP
...     pedal.light(frozenset({0, 3}))
"""

from __future__ import annotations

import time
from dataclasses import dataclass, field
from enum import Enum
from types import TracebackType
from typing import Self

from drivers.board import BoardSession
from drivers.double_guard import DoubleGuard, GuardedListener, GuardTimes
from drivers.events import Listener
from drivers.gestures import ONE_PEDAL, FootTimes, PedalUse
from drivers.serial_link import Clock, Opener, SerialLink, Session, open_exclusively
from drivers.switch_lines import SwitchSession, SwitchWiring
from drivers.tally import Ignored, Tally, new_tally


class Wiring(Enum):
    """What hangs on the port."""

    BOARD = "micro-controller"
    SWITCH = "bare switch"


@dataclass(frozen=True, slots=True)
class PedalSettings:
    """How a pedal is wired and what its gestures mean; `uses` has one entry per pedal."""

    wiring: Wiring = Wiring.BOARD
    uses: tuple[PedalUse, ...] = ONE_PEDAL
    times: FootTimes = field(default_factory=FootTimes)
    switch: SwitchWiring = field(default_factory=SwitchWiring)
    guard: GuardTimes | None = field(default_factory=GuardTimes)
    """None lets every press through."""


class Pedal:
    """A `Driver` with counts of all it ignored, and lamps. Made by `open_pedal`."""

    def __init__(self, link: SerialLink, board: BoardSession | None, ignored: Tally) -> None:
        self._link = link
        self._board = board
        self._ignored = ignored

    def __enter__(self) -> Self:
        self._link.__enter__()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._link.__exit__(kind, error, trace)

    def light(self, treadles: frozenset[int]) -> None:
        """Light the lamps over these treadles (indices from 0) and no others, if there are any; returns at once."""
        if self._board is not None:
            self._board.light(treadles)
            self._link.wake()

    def ignored(self) -> dict[Ignored, int]:
        """Return how often each reason for ignoring something has applied so far."""
        return dict(self._ignored)


def open_pedal(
    port: str,
    listener: Listener,
    settings: PedalSettings = PedalSettings(),
    *,
    opener: Opener = open_exclusively,
    clock: Clock = time.monotonic,
    retry_s: float = 0.5,
) -> Pedal:
    """Return the pedal on this port, to be entered with `with`; a missing port is retried and told as LinkDown.

    The listener is called from the pedal's thread and must only put the event into a queue.
    """
    ignored = new_tally()
    heard = listener if settings.guard is None else GuardedListener(listener, DoubleGuard(settings.guard), ignored)
    session: Session
    board: BoardSession | None = None
    match settings.wiring:
        case Wiring.BOARD:
            session = board = BoardSession(ignored, settings.uses, settings.times)
        case Wiring.SWITCH:
            session = SwitchSession(ignored, settings.uses, settings.times, settings.switch)
    link = SerialLink(port, heard, session, opener=opener, clock=clock, retry_s=retry_s)
    return Pedal(link, board, ignored)
