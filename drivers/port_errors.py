"""What is wrong with a port, in one line that says how to mend it."""

from __future__ import annotations

import errno
import sys
from importlib import import_module
from pathlib import Path

from drivers.events import Trouble


class NoSerialError(OSError):
    """There is no serial library on this device, as on a tablet."""


def _terminal_errors() -> tuple[type[Exception], ...]:
    # reset_input_buffer and friends raise this one on an unplugged port; it is no OSError.
    try:
        return (import_module("termios").error,)
    except ImportError:
        return ()


_TERMINAL_ERRORS = _terminal_errors()

LOST_PORT_ERRORS: tuple[type[Exception], ...] = (OSError, *_TERMINAL_ERRORS)
"""What pyserial lets through when a port is pulled out in the middle of a call; its own exception is an OSError.

Reading also gives TypeError when another thread has closed the port; here only the reader closes it.
"""
OPENING_ERRORS: tuple[type[Exception], ...] = (*LOST_PORT_ERRORS, ValueError)
"""What it lets through when a port is missing, taken or forbidden; ValueError for a name that it cannot parse."""

_BUSY = {errno.EBUSY, errno.EAGAIN, errno.EWOULDBLOCK}


def explain_opening(error: Exception, port: str) -> tuple[Trouble, str]:
    """Return the kind of trouble and one line for the weaver, for an error from opening `port`."""
    if isinstance(error, NoSerialError):
        return Trouble.FAULT, f"{port}: this device has no serial ports; a pedal that acts as a keyboard will do"
    number = getattr(error, "errno", None)
    text = str(error)
    if number in (errno.EACCES, errno.EPERM) or "PermissionError" in text:
        if sys.platform == "win32":
            # There the same code stands for a port that is open elsewhere.
            return Trouble.BUSY, _busy_line(port)
        return Trouble.NO_PERMISSION, _permission_line(port)
    if number in _BUSY:
        return Trouble.BUSY, _busy_line(port)
    if number in (errno.ENOENT, errno.ENXIO, errno.ENODEV) or "FileNotFoundError" in text:
        return Trouble.NO_SUCH_PORT, f"{port}: no such port; plug the pedal in, or see `fellside pedal` for the ports"
    if number == errno.ENOTTY or isinstance(error, ValueError) or _is_no_device(port):
        return Trouble.NO_SUCH_PORT, f"{port}: not a serial port; see `fellside pedal` for the ports"
    return Trouble.FAULT, f"{port}: cannot be opened ({_reason(error)}); unplug it, plug it in again"


def unplugged_line(port: str) -> str:
    """Return the line for a port that vanished while it was read."""
    return f"{port}: unplugged; weave on by touch, plug it in again when you like"


def _busy_line(port: str) -> str:
    return f"{port}: another program uses it; close that program (or the other Fellside)"


def _permission_line(port: str) -> str:
    group = group_of(port)
    if group in (None, "root"):
        return f"{port}: no permission and no group to join; install the udev rule from deploy/"
    return f"{port}: no permission; join its group with `sudo usermod -aG {group} $USER`, then log out and in again"


def group_of(port: str) -> str | None:
    """Return the name of the group that owns the port's device, or None where there is no such thing."""
    try:
        return Path(port).group()
    except (OSError, KeyError, ImportError, NotImplementedError):
        return None


def _is_no_device(port: str) -> bool:
    path = Path(port)
    try:
        return sys.platform != "win32" and path.exists() and not path.is_char_device()
    except OSError:
        # Such as a name longer than any file may have.
        return True


def _reason(error: Exception) -> str:
    return getattr(error, "strerror", None) or " ".join(str(error).split()) or type(error).__name__
