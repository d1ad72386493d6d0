"""A picture as a PNG file in memory, and as a data address for a page that needs no other file.

Written by the PNG specification (ISO/IEC 15948): one chunk each of header, data and end; 8-bit RGB, no filter.
"""

from __future__ import annotations

import base64
import struct
import zlib

import numpy as np
from numpy.typing import NDArray

_SIGNATURE = b"\x89PNG\r\n\x1a\n"


def png(image: NDArray[np.uint8]) -> bytes:
    """Return a picture (rows x columns x 3, uint8, sRGB, top row first) as a PNG file."""
    rows, columns, _ = image.shape
    lines = np.zeros((rows, 1 + columns * 3), dtype=np.uint8)
    lines[:, 1:] = image.reshape(rows, columns * 3)
    header = struct.pack(">IIBBBBB", columns, rows, 8, 2, 0, 0, 0)
    return (
        _SIGNATURE + _chunk(b"IHDR", header) + _chunk(b"IDAT", zlib.compress(lines.tobytes(), 9)) + _chunk(b"IEND", b"")
    )


def data_address(image: NDArray[np.uint8]) -> str:
    """Return the picture as `data:image/png;base64,…`."""
    return "data:image/png;base64," + base64.b64encode(png(image)).decode("ascii")


def _chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
