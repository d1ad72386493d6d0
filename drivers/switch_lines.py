"""The session with a bare switch between two control lines of a serial adapter: no micro-controller, no bytes.

RTS (or DTR) is switched on and feeds the switch; CTS (or DSR, DCD, RI) is looked at every few milliseconds. Waiting
for a change in the kernel instead (TIOCMIWAIT) knows no time-out and not every adapter's driver offers it.
"""

from __future__ import annotations

import errno
import time
from dataclasses import dataclass
from enum import Enum
from typing import TYPE_CHECKING

from drivers.events import Trouble
from drivers.gestures import FootSwitch, FootTimes, PedalUse
from drivers.serial_link import SerialLink
from drivers.tally import Tally

if TYPE_CHECKING:
    import serial


class ControlLine(Enum):
    """A line that an adapter can read; the value is pyserial's name for it."""

    CTS = "cts"
    DSR = "dsr"
    DCD = "cd"
    RI = "ri"


@dataclass(frozen=True, slots=True)
class SwitchWiring:
    """Which line each pedal pulls, whether a pressed switch reads as off, and how often to look.

    At rest looking every 8 ms is enough to find a foot (it stays for 50 ms and more) and halves the work.

    RS-232 levels read an open input as off; adapters with TTL levels are the other way round: `invert`.
    """

    lines: tuple[ControlLine, ...] = (ControlLine.CTS, ControlLine.DSR, ControlLine.DCD)
    invert: bool = False
    poll_ms: float = 4.0
    rest_poll_ms: float = 8.0


class SwitchSession:
    """Polls the switches, one for each use, until its link stops."""

    def __init__(self, ignored: Tally, uses: tuple[PedalUse, ...], times: FootTimes, wiring: SwitchWiring) -> None:
        self._ignored = ignored
        self._uses = uses
        self._times = times
        self._wiring = wiring

    def run(self, link: SerialLink, port: serial.SerialBase) -> None:
        """Feed the switches and look at them; returns when the link stops or the port has no control lines."""
        pedals = [FootSwitch(use, self._times, self._ignored) for use in self._uses]
        lines = list(zip(self._wiring.lines, pedals, strict=False))
        try:
            port.rts = True
            port.dtr = True
            while not link.stopping:
                for line, pedal in lines:
                    closed = getattr(port, line.value) != self._wiring.invert
                    for pressed in pedal.sample(closed, link.clock()):
                        link.tell(pressed)
                link.up()
                at_rest = all(pedal.at_rest for pedal in pedals)
                # Not `link.wait`: waiting on an event costs several times a plain sleep, 250 times a second.
                time.sleep((self._wiring.rest_poll_ms if at_rest else self._wiring.poll_ms) / 1000)
        except OSError as error:
            if error.errno != errno.ENOTTY:
                raise
            link.down(Trouble.FAULT, f"{port.port}: has no control lines for a bare switch; use another adapter")
