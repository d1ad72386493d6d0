"""Everything that the companion reads out of a board's bytes, without I/O or clock: bytes and time in, events out.

The board's own clock times the presses, so that a program that stalls, or a cable that delivers in lumps, makes
neither a hold out of a tap nor a tap out of a hold.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import assert_never

from drivers.debounce import Debounce, DebounceTimes
from drivers.events import DriverEvent, Pressed, TreadlesSensed
from drivers.gestures import FootSwitch, FootTimes, PedalUse
from drivers.line_protocol import SEQUENCE_NUMBERS, VERSION, Line, LineReader
from drivers.messages import CLOCK_MS, MOST_CONTACTS, Ask, Hello, Judged, Lamps, State, contacts_of, message_of
from drivers.tally import Ignored, Tally

FASTEST_DRIFT = 0.01
"""Seconds per second by which a board's resonator may be slow; ceramic ones are good to 0.5 % (common practice)."""
LATEST_S = 10.0
"""A line that seems to have been on its way longer shows that the board's clock has jumped."""


class BoardClock:
    """The board's milliseconds as seconds that never go backwards, and as seconds of our own clock.

    The line with the shortest way tells the offset between the clocks; it creeps up again in case the board is slow.
    """

    def __init__(self) -> None:
        self._ms = 0
        self._board_s = 0.0
        self._offset_s: float | None = None
        self._arrived_s = 0.0

    def tick(self, ms: int, arrived_s: float) -> float:
        """Take the board's `ms` of a line that arrived at `arrived_s`; return the board's time in seconds."""
        step_ms = (ms - self._ms) % CLOCK_MS
        restarted = step_ms > CLOCK_MS // 2
        self._board_s += 0.0 if restarted else step_ms / 1000
        self._ms = ms
        offset_s = arrived_s - self._board_s
        if self._offset_s is None or offset_s - self._offset_s > LATEST_S:
            self._offset_s = offset_s
        else:
            crept_s = self._offset_s + FASTEST_DRIFT * max(0.0, arrived_s - self._arrived_s)
            self._offset_s = min(offset_s, crept_s)
        self._arrived_s = arrived_s
        return self._board_s

    def own_s(self, board_s: float) -> float:
        """Return our own clock's time for a time of the board, at the latest that of the last arrival."""
        return min(self._arrived_s, board_s + (self._offset_s or 0.0))


class BoardDecoder:
    """One board, from plugged in to unplugged; a board plugged in again gets a new decoder."""

    def __init__(self, uses: Sequence[PedalUse], times: FootTimes, ignored: Tally) -> None:
        self.hello: Hello | None = None
        self.lamps_lit = 0
        self.lines_heard = 0
        self.other_version: int | None = None
        self._ignored = ignored
        self._reader = LineReader(ignored)
        self._clock = BoardClock()
        self._sequence: int | None = None
        self._pedals = [FootSwitch(use, times, ignored) for use in uses]
        # A treadle stays down for a second: the short settling is enough, a long refractory would hide a quick foot.
        treadle_times = DebounceTimes(settle_ms=times.debounce.settle_ms, refractory_ms=times.debounce.settle_ms)
        self._treadles = [Debounce(treadle_times, ignored) for _ in range(MOST_CONTACTS)]
        self._stirring: frozenset[int] = frozenset()
        self._down: frozenset[int] | None = None

    def feed(self, data: bytes, now_s: float) -> list[DriverEvent]:
        """Take the next bytes, read at `now_s`; return what they tell, in order."""
        events: list[DriverEvent] = []
        for line in self._reader.feed(data):
            events += self._read(line, now_s)
        return events

    def _read(self, line: Line, now_s: float) -> list[DriverEvent]:
        if line.version != VERSION:
            self.other_version = line.version
            self._ignored[Ignored.OTHER_VERSION] += 1
            return []
        message = message_of(line)
        if message is None:
            self._ignored[Ignored.UNKNOWN_MESSAGE] += 1
            return []
        self.lines_heard += 1
        if not self._in_sequence(line.sequence, restarts=isinstance(message, Hello)):
            return []
        match message:
            case Hello():
                self.hello = message
                return []
            case State():
                return self._state(message, now_s)
            case Judged():
                return [Pressed(message.press, now_s)]
            case Ask() | Lamps():
                # Our own words come back: the adapter's lines are joined. Nothing to learn from it.
                self._ignored[Ignored.UNKNOWN_MESSAGE] += 1
                return []
        assert_never(message)

    def _in_sequence(self, sequence: int, *, restarts: bool) -> bool:
        before, self._sequence = self._sequence, sequence
        if before is None or restarts:
            return True
        step = (sequence - before) % SEQUENCE_NUMBERS
        if step == 0:
            self._ignored[Ignored.REPEATED_LINE] += 1
            return False
        self._ignored[Ignored.LOST_LINE] += step - 1
        return True

    def _state(self, state: State, now_s: float) -> list[DriverEvent]:
        board_s = self._clock.tick(state.ms, now_s)
        self.lamps_lit = state.lamps
        pedals = contacts_of(state.pedals)
        events: list[DriverEvent] = []
        for index, pedal in enumerate(self._pedals):
            for pressed in pedal.sample(index in pedals, board_s):
                events.append(replace(pressed, at_s=self._clock.own_s(pressed.at_s)))
        return events + self._treadle_events(contacts_of(state.treadles), board_s)

    def _treadle_events(self, closed: frozenset[int], board_s: float) -> list[DriverEvent]:
        down = set(closed if self._down is None else self._down)
        # Most treadles rest most of the time: only those that stir are looked at, for a flood of lines must not count.
        stirring = range(MOST_CONTACTS) if self._down is None else self._stirring | closed
        for index in stirring:
            edge = self._treadles[index].sample(index in closed, board_s)
            if edge is not None:
                (down.add if edge.down else down.discard)(index)
        self._stirring = frozenset(index for index in stirring if not self._treadles[index].rests_open)
        before, self._down = self._down or frozenset(), frozenset(down)
        return [] if self._down == before else [TreadlesSensed(self._down, self._clock.own_s(board_s))]
