"""The session with a micro-controller: its lines in, lamp orders out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from drivers.board_decoder import BoardDecoder
from drivers.events import Trouble
from drivers.gestures import ONE_PEDAL, FootTimes, PedalUse
from drivers.line_protocol import VERSION, print_line
from drivers.messages import Ask, Lamps, Message, bits_of, line_of
from drivers.serial_link import SerialLink, read_some
from drivers.tally import Ignored, Tally

if TYPE_CHECKING:
    import serial

SILENT_AFTER_S = 3.0
"""Six heartbeats; a small board that restarts when its port is opened needs up to two seconds (common practice)."""
LAMP_RETRY_S = 0.1


class BoardSession:
    """Reads a board until its link stops. `light` may be called from any thread."""

    def __init__(
        self,
        ignored: Tally,
        uses: Sequence[PedalUse] = ONE_PEDAL,
        times: FootTimes = FootTimes(),  # noqa: B008 - frozen
        silent_after_s: float = SILENT_AFTER_S,
    ) -> None:
        self._ignored = ignored
        self._uses = uses
        self._times = times
        self._silent_after_s = silent_after_s
        self._lamps_wanted = 0
        self._sequence = 0

    def light(self, treadles: frozenset[int]) -> None:
        """Want the lamps over these treadles (indices from 0) lit and no others."""
        self._lamps_wanted = bits_of(treadles)

    def run(self, link: SerialLink, port: serial.SerialBase) -> None:
        """Ask the board who it is, then pass on what it tells until the link stops."""
        decoder = BoardDecoder(self._uses, self._times, self._ignored)
        heard_s = link.clock()
        ordered: tuple[int, float] = (0, heard_s)
        self._send(port, Ask())
        while not link.stopping:
            data = read_some(port)
            now_s = link.clock()
            lines_before = decoder.lines_heard
            events = decoder.feed(data, now_s)
            if decoder.lines_heard > lines_before:
                heard_s = now_s
                link.up()
            elif now_s - heard_s > self._silent_after_s:
                link.down(*_silence(port.port, decoder.other_version))
            for event in events:
                link.tell(event)
            ordered = self._order_lamps(port, decoder, ordered, now_s)

    def _order_lamps(
        self, port: serial.SerialBase, decoder: BoardDecoder, ordered: tuple[int, float], now_s: float
    ) -> tuple[int, float]:
        """Order the lamps again until the board shows them lit; a lost order is healed in this way."""
        wanted = self._lamps_wanted
        last_order, order_s = ordered
        if wanted == decoder.lamps_lit or not decoder.lines_heard:
            return ordered
        if wanted == last_order and now_s - order_s < LAMP_RETRY_S:
            return ordered
        self._send(port, Lamps(wanted))
        return wanted, now_s

    def _send(self, port: serial.SerialBase, message: Message) -> None:
        # The library is there, as the port is open.
        from serial import SerialTimeoutException

        self._sequence += 1
        try:
            port.write(print_line(line_of(message, self._sequence)))
        except SerialTimeoutException:
            # The board does not read just now; the next state line shows that the lamps are still wrong.
            self._ignored[Ignored.LATE_WRITE] += 1


def _silence(port: str, other_version: int | None) -> tuple[Trouble, str]:
    if other_version is not None:
        older = "the pedal's sketch" if other_version < VERSION else "Fellside"
        why = f"{port}: the pedal speaks version {other_version}, Fellside speaks {VERSION}; update {older}"
        return Trouble.OTHER_VERSION, why
    return Trouble.SILENT, f"{port}: no sign of life; check the cable, or choose the bare-switch wiring if it is one"
