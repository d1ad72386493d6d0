"""Damaged Weaving Information Files, made from sound ones: by the bytes, and by what the bytes mean.

A source of choice is passed in, so that the same number always gives the same file.
"""

from __future__ import annotations

from random import Random

HOSTILE_VALUES = (
    "",
    "0",
    "-1",
    "1",
    "2,1",
    "1,,2",
    ",",
    "999999999",
    "9" * 5000,
    "1e308",
    "1e999",
    "nan",
    "0x10",
    "1_0",
    "٣",
    "true",
    "no",
    ";",
    "=",
    "1,2,3,4",
    "255,255,255",
    "0,0",
    "5000",
    "256",
    "40",
    "\0",
    "Inches",
    "[",
    "é",
)
HOSTILE_LINES = (
    "[",
    "[]",
    "]",
    "[WIF]",
    "[TIEUP]",
    "[TREADLING]",
    "[LIFTPLAN]",
    "[THREADING]",
    "[WARP COLORS]",
    "[WEFT SPACING]",
    "[PRIVATE FELLSIDE SECTIONS]",
    "[PRIVATE FELLSIDE YARNS]",
    "[PRIVATE X",
    ";",
    "=",
    "=1",
    "1",
    "1=",
    "1=2,3,x",
    "5000=1",
    "Threads=5000",
    "Rising Shed=no",
    "\0\0",
    "x" * 2000,
)
HOSTILE_BYTES = (b"\0", b"\xff\xfe", b"\xef\xbb\xbf", b"\r", b"\n", b"=", b"[", b"]", b",", b";", b"\x80", b"9", b" ")


def mutated(sound: bytes, choice: Random) -> bytes:
    """A file that differs from a sound one in one to six places."""
    data = sound
    for _ in range(choice.randint(1, 6)):
        data = choice.choice(_MUTATIONS)(data, choice)
    return data


def _change_value(data, choice):
    lines = data.split(b"\n")
    line = choice.randrange(len(lines))
    key = lines[line].partition(b"=")[0]
    lines[line] = key + b"=" + choice.choice(HOSTILE_VALUES).encode()
    return b"\n".join(lines)


def _change_key(data, choice):
    lines = data.split(b"\n")
    line = choice.randrange(len(lines))
    value = lines[line].partition(b"=")[2]
    lines[line] = choice.choice(HOSTILE_VALUES).encode() + b"=" + value
    return b"\n".join(lines)


def _put_in_a_line(data, choice):
    lines = data.split(b"\n")
    lines.insert(choice.randint(0, len(lines)), choice.choice(HOSTILE_LINES).encode())
    return b"\n".join(lines)


def _take_out_lines(data, choice):
    lines = data.split(b"\n")
    first = choice.randrange(len(lines))
    del lines[first : first + choice.randint(1, 4)]
    return b"\n".join(lines)


def _double_lines(data, choice):
    lines = data.split(b"\n")
    first = choice.randrange(len(lines))
    lines[first:first] = lines[first : first + choice.randint(1, 8)]
    return b"\n".join(lines)


def _swap_lines(data, choice):
    lines = data.split(b"\n")
    one, other = choice.randrange(len(lines)), choice.randrange(len(lines))
    lines[one], lines[other] = lines[other], lines[one]
    return b"\n".join(lines)


def _change_bytes(data, choice):
    at = choice.randint(0, len(data))
    return data[:at] + choice.choice(HOSTILE_BYTES) + data[at + choice.randint(0, 3) :]


def _cut_off(data, choice):
    return data[: choice.randint(0, len(data))]


_MUTATIONS = (
    _change_value,
    _change_key,
    _put_in_a_line,
    _take_out_lines,
    _double_lines,
    _swap_lines,
    _change_bytes,
    _cut_off,
)
