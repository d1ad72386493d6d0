"""Signs of life for a service manager that restarts the program when its window hangs.

The protocol is that of sd_notify(3): datagrams such as `WATCHDOG=1` to the socket named in NOTIFY_SOCKET. Each sign is
posted to the thread of the window and sent from there, so a window that hangs gives none.
"""

from __future__ import annotations

import os
import socket
import threading
from collections.abc import Callable, Mapping
from types import TracebackType

READY = "READY=1"
ALIVE = "WATCHDOG=1"
STOPPING = "STOPPING=1"


def notify(state: str, environment: Mapping[str, str] = os.environ) -> bool:
    """Tell the service manager a state such as `READY=1`; False where none is listening, which is no failure."""
    address = environment.get("NOTIFY_SOCKET", "")
    if not address or not hasattr(socket, "AF_UNIX"):
        return False
    if address.startswith("@"):
        address = "\0" + address[1:]  # Linux's abstract names, as sd_notify(3) writes them
    try:
        with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as line:
            line.connect(address)
            line.send(state.encode())
    except OSError:
        return False
    return True


def seconds_between_signs(environment: Mapping[str, str] = os.environ) -> float | None:
    """Return how often to show life, half of what the manager allows, or None if it is not watching this process.

    Example: WATCHDOG_USEC=30000000 gives 15.0. Source: sd_watchdog_enabled(3), which also asks for the half.
    """
    try:
        allowed_us = int(environment.get("WATCHDOG_USEC", ""))
        watched = int(environment.get("WATCHDOG_PID", os.getpid()))
    except ValueError:
        return None
    return allowed_us / 2_000_000 if allowed_us > 0 and watched == os.getpid() else None


class SignsOfLife:
    """While this context lasts, `post` is given a sign to send again and again; without a manager it does nothing.

    `post` hands a callable to the thread whose life matters, as `FellsideWindow.post` does.
    """

    def __init__(self, post: Callable[[Callable[[], None]], None], environment: Mapping[str, str] = os.environ) -> None:
        self._post = post
        self._environment = environment
        self._over = threading.Event()
        self._thread: threading.Thread | None = None

    def __enter__(self) -> SignsOfLife:
        if self._environment.get("NOTIFY_SOCKET"):
            self._send_from_there(READY)
            every = seconds_between_signs(self._environment)
            if every is not None:
                self._thread = threading.Thread(target=self._go_on, args=(every,), name="signs of life", daemon=True)
                self._thread.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._over.set()
        if self._thread is not None:
            self._thread.join()
        notify(STOPPING, self._environment)

    def _go_on(self, every: float) -> None:
        while not self._over.wait(every):
            self._send_from_there(ALIVE)

    def _send_from_there(self, state: str) -> None:
        def send() -> None:
            notify(state, self._environment)

        self._post(send)
