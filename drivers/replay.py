"""A recorded watch of a pedal, played again with its times: for demos, and for tests without a pedal."""

from __future__ import annotations

import json
import threading
import time
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path
from types import TracebackType
from typing import Self

from drivers.event_facts import event_of
from drivers.events import DriverEvent, Listener


def read_recorded(path: Path) -> tuple[DriverEvent, ...]:
    """Return the events of a file written by `fellside pedal --json`, in order of time.

    Raises OSError, or ValueError with one line that names the file.
    """
    try:
        document = json.loads(path.read_text(encoding="utf-8"))
        events = [event_of(facts) for facts in document["events"]]
    except (KeyError, TypeError, ValueError, RecursionError) as error:
        raise ValueError(f"{path}: no recorded watch ({error}); make one with `fellside pedal --json`") from error
    return tuple(sorted(events, key=lambda event: event.at_s))


class Replay:
    """A `Driver` that tells recorded events at their times; `speed` 2 plays twice as fast. Ends by itself."""

    def __init__(
        self,
        events: Iterable[DriverEvent],
        listener: Listener,
        *,
        speed: float = 1.0,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._events = tuple(events)
        self._listener = listener
        self._speed = speed
        self._clock = clock
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._play, name="pedal replay", daemon=True)

    def __enter__(self) -> Self:
        self._thread.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._stop.set()
        if self._thread is not threading.current_thread():
            self._thread.join()

    def _play(self) -> None:
        start_s = self._clock()
        for event in self._events:
            due_s = start_s + event.at_s / self._speed
            if self._stop.wait(max(0.0, due_s - self._clock())):
                return
            self._listener(replace(event, at_s=due_s))
