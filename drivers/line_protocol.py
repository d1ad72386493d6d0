"""Lines with a version, a sequence number and a checksum: bytes in, sound lines out, and back. No I/O, no clock.

A line is `!1 42 state 61250 1 0 0 3FA1` and a line feed: `!`, version, sequence number 0..255, a verb with its
words, and four hexadecimal digits of CRC-16/IBM-3740 (polynomial 1021, start FFFF; "123456789" gives 29B1) over all
between the `!` and the space before them. `!` occurs nowhere else, so that a reader that comes in halfway, or after
noise, finds the next line. What the words mean stands in `messages`.
"""

from __future__ import annotations

import binascii
import re
from dataclasses import dataclass

from drivers.tally import Ignored, Tally

VERSION = 1
SEQUENCE_NUMBERS = 256
LONGEST_LINE = 80
"""Bytes from `!` to the line feed; a small board keeps a buffer of this size."""

_LINE = re.compile(rb"((\d{1,2}) (\d{1,3})((?: [\x22-\x7e]+)+)) ([0-9A-F]{4})\r?")


@dataclass(frozen=True, slots=True)
class Line:
    """A sound line: its words are the verb and what follows it, `("lamps", "A")`."""

    version: int
    sequence: int
    words: tuple[str, ...]


def checksum(body: bytes) -> int:
    """Return the checksum of what stands between `!` and the space before the checksum."""
    return binascii.crc_hqx(body, 0xFFFF)


def print_line(line: Line) -> bytes:
    """Return the bytes of a line; `LineReader` reads them back."""
    body = f"{line.version} {line.sequence} {' '.join(line.words)}".encode("ascii")
    return b"!%s %04X\n" % (body, checksum(body))


def parse_body(body: bytes) -> Line | None:
    """Return the line whose bytes between `!` and line feed these are, or None when they are not sound."""
    found = _LINE.fullmatch(body)
    if found is None or checksum(found[1]) != int(found[5], 16):
        return None
    words = tuple(found[4].decode("ascii").split())
    return Line(int(found[2]), int(found[3]), words)


class LineReader:
    """Collects bytes, in pieces of any size, and hands out sound lines; counts all the rest."""

    def __init__(self, ignored: Tally) -> None:
        self._ignored = ignored
        self._rest = b""

    def feed(self, data: bytes) -> list[Line]:
        """Take the next bytes; return the lines that they complete, in order."""
        *ended, rest = (self._rest + data).split(b"\n")
        lines = [line for body in ended if (line := self._take(body)) is not None]
        self._rest = self._trim(rest)
        return lines

    def _take(self, piece: bytes) -> Line | None:
        noise, _, body = piece.rpartition(b"!")
        self._count_noise(noise)
        line = parse_body(body)
        if line is None and piece:
            self._ignored[Ignored.BAD_LINE] += 1
        return line

    def _count_noise(self, noise: bytes) -> None:
        self._ignored[Ignored.NOISE_BYTE] += len(noise)

    def _trim(self, rest: bytes) -> bytes:
        """Keep only what can still become a line, so that noise without a line feed fills no memory."""
        start = rest.rfind(b"!")
        kept = rest[start:] if start >= 0 else b""
        if len(kept) > LONGEST_LINE:
            kept = b""
        self._count_noise(rest[: len(rest) - len(kept)])
        return kept
