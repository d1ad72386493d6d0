"""What a pedal or sensor can tell: a handful of events, each with monotonic seconds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from types import TracebackType
from typing import Protocol, Self


class Press(Enum):
    """What the foot, or the beater, asked for."""

    ADVANCE = "advance"
    BACK = "back"
    HOLD = "hold"
    BEAT = "beat"


@dataclass(frozen=True, slots=True)
class Pressed:
    """The foot, or the beater, asked for something at `at_s` (monotonic)."""

    press: Press
    at_s: float


@dataclass(frozen=True, slots=True)
class TreadlesSensed:
    """The treadles (indices from 0) that are down since `at_s`."""

    down: frozenset[int]
    at_s: float


@dataclass(frozen=True, slots=True)
class LinkUp:
    """The device answers, under this port name."""

    port: str
    at_s: float


class Trouble(Enum):
    """Why a device does not answer."""

    NO_SUCH_PORT = "no such port"
    NO_PERMISSION = "no permission"
    BUSY = "in use by another program"
    UNPLUGGED = "unplugged"
    SILENT = "silent"
    OTHER_VERSION = "speaks another version"
    FAULT = "fault"


@dataclass(frozen=True, slots=True)
class LinkDown:
    """The device is gone; `why` is one clear line for the weaver."""

    port: str
    why: str
    at_s: float
    trouble: Trouble = Trouble.UNPLUGGED


@dataclass(frozen=True, slots=True)
class PressSwallowed:
    """A press came `after_s` seconds after the last one, too soon to be meant: not carried out, but worth a sound."""

    press: Press
    at_s: float
    after_s: float


DriverEvent = Pressed | TreadlesSensed | LinkUp | LinkDown | PressSwallowed
Listener = Callable[[DriverEvent], None]
"""Called from the driver's own thread: it must only put the event into a queue."""


class Driver(Protocol):
    """A context manager that reports to its listener until it is closed; entering never blocks on the device."""

    def __enter__(self) -> Self:
        """Start listening."""
        ...

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Stop; safe to call twice."""
        ...
