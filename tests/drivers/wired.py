"""A made-up board at the other end of a real pseudo-terminal, and a listener that can be waited on."""

from __future__ import annotations

import os
import queue
import select
import termios
import tty
from pathlib import Path

from drivers.line_protocol import LineReader, print_line
from drivers.messages import Ask, Hello, State, line_of, message_of
from drivers.tally import new_tally

PATIENCE_S = 60.0
"""How long a test waits for what must come; nothing takes so long unless it is broken."""


class Ears:
    """A listener that keeps what it hears until somebody asks."""

    def __init__(self):
        self.heard = queue.SimpleQueue()

    def __call__(self, event):
        self.heard.put(event)

    def next(self):
        return self.heard.get(timeout=PATIENCE_S)

    def next_of(self, kind):
        """Wait for the next event of this kind, dropping others."""
        while not isinstance(event := self.next(), kind):
            pass
        return event


class WiredBoard:
    """The board's end of a cable: what it writes arrives at `port`, which stays the same name when replugged."""

    def __init__(self, port: Path):
        self.port = str(port)
        self._link = port
        self._sequence = 0
        self.ms = 1000
        self.plug_in()

    def plug_in(self):
        self.end, device = os.openpty()
        tty.setraw(device)
        assert termios.tcgetattr(device)[3] & termios.ECHO == 0
        # Kept open, so that the pair lives on while the companion closes and opens its side.
        self._device = device
        self._link.unlink(missing_ok=True)
        self._link.symlink_to(os.ttyname(device))
        self._reader = LineReader(new_tally())
        self._waiting = []
        self.plugged_in = True

    def pull_out(self):
        os.close(self.end)
        os.close(self._device)
        self._link.unlink()
        self.plugged_in = False

    def write(self, data: bytes):
        os.write(self.end, data)

    def say(self, message):
        self._sequence += 1
        self.write(print_line(line_of(message, self._sequence)))

    def answer(self, pedals=1, treadles=8):
        """Wait until the companion has opened the port (what came before is lost, as on a real one) and asks."""
        assert self.hear() == Ask()
        self.say(Hello(pedals, treadles, treadles, "made-up"))
        self.state()
        self.state()

    def state(self, pedals=0, treadles=0, lamps=0, after_ms=50):
        self.ms += after_ms
        self.say(State(self.ms, pedals, treadles, lamps))

    def rest(self, seconds=1.0):
        for _ in range(round(seconds / 0.05)):
            self.state()

    def press(self, milliseconds, pedals=1, bounces=2):
        """Press the pedals for so long, bouncing at both ends as a switch does, then rest for half a second."""
        for _ in range(bounces):
            self.state(pedals, after_ms=1)
            self.state(0, after_ms=1)
        self.state(pedals, after_ms=1)
        for _ in range(milliseconds // 50):
            self.state(pedals)
        for _ in range(bounces):
            self.state(0, after_ms=1)
            self.state(pedals, after_ms=1)
        self.rest(0.5)

    def hear(self):
        """Wait for the companion's next message."""
        while not self._waiting:
            assert select.select([self.end], [], [], PATIENCE_S)[0], "the companion says nothing"
            self._waiting += self._reader.feed(os.read(self.end, 4096))
        return message_of(self._waiting.pop(0))
