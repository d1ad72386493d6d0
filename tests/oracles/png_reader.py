"""Reads a PNG file byte by byte, by the PNG specification (ISO/IEC 15948); shares no code with the product.

Only what is needed here, but that in full: signature, chunks with their lengths and checksums, all five line filters,
8-bit RGB without interlacing. The checksum is worked out bit by bit (the specification's Annex D), not by a library.
"""

from __future__ import annotations

import zlib


def crc(data):
    """The CRC of PNG, ITU-T V.42: polynomial 0xedb88320, bits reversed, ones before and after."""
    register = 0xFFFFFFFF
    for byte in data:
        register ^= byte
        for _ in range(8):
            register = (register >> 1) ^ (0xEDB88320 if register & 1 else 0)
    return register ^ 0xFFFFFFFF


def chunks(data):
    """Yield (name, body) of each chunk; raises ValueError where a length or checksum is wrong."""
    if data[:8] != bytes([137, 80, 78, 71, 13, 10, 26, 10]):
        raise ValueError("no PNG signature")
    at = 8
    while at < len(data):
        length = int.from_bytes(data[at : at + 4], "big")
        name, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + length]
        if len(body) != length or int.from_bytes(data[at + 8 + length : at + 12 + length], "big") != crc(name + body):
            raise ValueError(f"chunk {name!r} is damaged")
        yield name.decode("ascii"), body
        at += 12 + length


def read(data):
    """Return the picture as rows of (red, green, blue)."""
    found = list(chunks(data))
    if found[0][0] != "IHDR" or found[-1] != ("IEND", b""):
        raise ValueError("a PNG begins with IHDR and ends with IEND")
    header = found[0][1]
    width, height = int.from_bytes(header[:4], "big"), int.from_bytes(header[4:8], "big")
    if tuple(header[8:]) != (8, 2, 0, 0, 0):
        raise ValueError("not 8-bit RGB without interlacing")
    lines = zlib.decompress(b"".join(body for name, body in found if name == "IDAT"))
    if len(lines) != height * (1 + 3 * width):
        raise ValueError("the picture's data is not as long as its size says")
    rows, above = [], bytes(3 * width)
    for row in range(height):
        line = lines[row * (1 + 3 * width) : (row + 1) * (1 + 3 * width)]
        above = unfiltered(line[0], line[1:], above)
        rows.append([tuple(above[at : at + 3]) for at in range(0, 3 * width, 3)])
    return rows


def unfiltered(kind, line, above):
    """Undo one of the five line filters: none, sub, up, average, Paeth."""
    out = bytearray()
    for at, byte in enumerate(line):
        a = out[at - 3] if at >= 3 else 0
        b = above[at]
        c = above[at - 3] if at >= 3 else 0
        nearest = min((abs(b - c), 0, a), (abs(a - c), 1, b), (abs(a + b - 2 * c), 2, c))[2]
        out.append((byte + (0, a, b, (a + b) // 2, nearest)[kind]) % 256)
    return bytes(out)
