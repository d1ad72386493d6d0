"""A serial port that is kept open in a thread of its own: opened exclusively, opened again after every loss.

What runs over the open port is a `Session`: the lines of a board, or the polling of a bare switch. Only the thread
touches the port, and closes it too; everybody else asks it to stop or to wake up.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from types import TracebackType
from typing import TYPE_CHECKING, Protocol, Self

from drivers.events import DriverEvent, LinkDown, LinkUp, Listener, Trouble
from drivers.port_errors import LOST_PORT_ERRORS, OPENING_ERRORS, NoSerialError, explain_opening, unplugged_line

if TYPE_CHECKING:
    # Loaded when the first port is opened: a tablet has none, and weaves without.
    import serial

BAUD = 115_200
READ_TIMEOUT_S = 0.25
WRITE_TIMEOUT_S = 0.2
LARGEST_READ = 4096

Clock = Callable[[], float]
Opener = Callable[[str], "serial.SerialBase"]


def open_exclusively(port: str) -> serial.SerialBase:
    """Open a port, or an address like `loop://`, so that no other program reads half of the pedal's bytes.

    Raises one of OPENING_ERRORS.
    """
    try:
        import serial
    except ImportError as error:
        raise NoSerialError("no serial library") from error
    lock = None if "://" in port else True
    opened: serial.SerialBase = serial.serial_for_url(
        port, BAUD, timeout=READ_TIMEOUT_S, write_timeout=WRITE_TIMEOUT_S, exclusive=lock
    )
    return opened


class Session(Protocol):
    """What is done with a port while it is open; it ends by itself only when the link is stopping."""

    def run(self, link: SerialLink, port: serial.SerialBase) -> None:
        """Use the port until `link.stopping`; errors of the port may pass through."""
        ...


class SerialLink:
    """A `Driver` on one port; `session` is called anew, in the thread, each time that the port is open."""

    def __init__(
        self,
        port: str,
        listener: Listener,
        session: Session,
        *,
        opener: Opener = open_exclusively,
        clock: Clock = time.monotonic,
        retry_s: float = 0.5,
    ) -> None:
        self.clock = clock
        self._port_name = port
        self._listener = listener
        self._session = session
        self._opener = opener
        self._retry_s = retry_s
        self._stop = threading.Event()
        self._port_lock = threading.Lock()
        self._open_port: serial.SerialBase | None = None
        self._last_told: LinkUp | LinkDown | None = None
        self._thread = threading.Thread(target=self._keep_open, name=f"pedal {port}", daemon=True)

    def __enter__(self) -> Self:
        self._thread.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._stop.set()
        self.wake()
        if self._thread is not threading.current_thread():
            self._thread.join()

    @property
    def stopping(self) -> bool:
        """Whether the session should return."""
        return self._stop.is_set()

    def wait(self, seconds: float) -> None:
        """Sleep in the session's thread, but not longer than until the link stops."""
        self._stop.wait(seconds)

    def wake(self) -> None:
        """Make a read that is waiting for bytes return at once; callable from any thread."""
        with self._port_lock:
            cancel = getattr(self._open_port, "cancel_read", None)
            if cancel is not None:
                cancel()

    def tell(self, event: DriverEvent) -> None:
        """Pass an event to the listener."""
        self._listener(event)

    def up(self) -> None:
        """Tell, once, that the device answers."""
        if not isinstance(self._last_told, LinkUp):
            self._last_told = LinkUp(self._port_name, self.clock())
            self.tell(self._last_told)

    def down(self, trouble: Trouble, why: str) -> None:
        """Tell, once per reason, that the device does not answer."""
        last = self._last_told
        if isinstance(last, LinkDown) and last.trouble is trouble and last.why == why:
            return
        self._last_told = LinkDown(self._port_name, why, self.clock(), trouble)
        self.tell(self._last_told)

    def _keep_open(self) -> None:
        while not self.stopping:
            try:
                port = self._opener(self._port_name)
            except OPENING_ERRORS as error:
                self._missing(*explain_opening(error, self._port_name))
            else:
                self._use(port)
            self._stop.wait(self._retry_s)

    def _missing(self, trouble: Trouble, why: str) -> None:
        last = self._last_told
        gone = isinstance(last, LinkDown) and last.trouble is Trouble.UNPLUGGED
        if not (gone and trouble is Trouble.NO_SUCH_PORT):
            # Once it is unplugged the weaver has been told; that the name is gone too says nothing new.
            self.down(trouble, why)

    def _use(self, port: serial.SerialBase) -> None:
        with self._port_lock:
            self._open_port = port
        try:
            self._session.run(self, port)
        except LOST_PORT_ERRORS:
            if not self.stopping:
                self.down(Trouble.UNPLUGGED, unplugged_line(self._port_name))
        finally:
            with self._port_lock:
                self._open_port = None
                _close(port)


def read_some(port: serial.SerialBase) -> bytes:
    """Return the bytes that are there, or wait for the first one; empty after the time-out or a `wake`."""
    data: bytes = port.read(max(1, min(port.in_waiting, LARGEST_READ)))
    return data


def _close(port: serial.SerialBase) -> None:
    try:
        port.close()
    except LOST_PORT_ERRORS:
        # Unplugged in the middle: the descriptor is gone either way.
        return
