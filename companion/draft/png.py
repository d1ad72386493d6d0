"""A picture as a PNG file in memory.

Written by the PNG specification (ISO/IEC 15948): one chunk each of header, data and end; 8-bit RGB, no filter.
"""

from __future__ import annotations

import struct
import zlib

import numpy as np
from numpy.typing import NDArray

_SIGNATURE = b"\x89PNG\r\n\x1a\n"
_RGB = 2


def png(image: NDArray[np.uint8]) -> bytes:
    """Return a picture (rows x columns x 3, uint8, sRGB, top row first, at least one pixel) as a PNG file."""
    rows, columns, _ = image.shape
    lines = np.zeros((rows, 1 + columns * 3), dtype=np.uint8)
    lines[:, 1:] = image.reshape(rows, columns * 3)
    header = struct.pack(">IIBBBBB", columns, rows, 8, _RGB, 0, 0, 0)
    body = zlib.compress(lines.tobytes(), 9)
    return _SIGNATURE + _chunk(b"IHDR", header) + _chunk(b"IDAT", body) + _chunk(b"IEND", b"")


def _chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
