"""The streams of the process, made fit for any terminal and locale: no letter stops the program.

What the terminal cannot show is said in plainer signs; what nothing plainer stands for is written as its number, so
that two different signs never look alike. So are the signs that steer a terminal, which a note or a draft may hold.
"""

from __future__ import annotations

import codecs
import io
import re
import sys
from typing import TextIO

_PLAINER = {"·": ".", "…": "...", "×": "x", "■": "#", "□": "o", "–": "-", "−": "-"}
_ERRORS = "fellside-plainer"
_STEERING = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]|\r(?!\n)")
"""Signs that move, colour, ring or turn round what a terminal shows (ECMA-48; Unicode Standard Annex 9)."""


class _Harmless(io.TextIOWrapper):
    """Writes every letter, and shows the signs that steer a terminal instead of sending them."""

    def write(self, text: str) -> int:
        super().write(harmless(text))
        return len(text)

    def return_to_begin(self) -> None:
        """Send the one sign that steers which the program itself sends: back to where the line begins."""
        super().write("\r")


def write_over(line: str, stream: TextIO) -> None:
    """Write a line in the place of the one that the cursor is in; steering signs in it are shown."""
    if isinstance(stream, _Harmless):
        stream.return_to_begin()
    else:
        stream.write("\r")
    stream.write(line)
    stream.flush()


def make_fit() -> None:
    """Let stdout and stderr write every letter, in plainer signs where they must, and stdin read every byte."""
    codecs.register_error(_ERRORS, plainer)
    sys.stdout, sys.stderr = _made_harmless(sys.stdout), _made_harmless(sys.stderr)
    if isinstance(sys.stdin, io.TextIOWrapper):
        sys.stdin.reconfigure(errors="replace")


def harmless(text: str) -> str:
    """Return a text with what would steer a terminal written as its number: `\\x1b[31m`."""
    return _STEERING.sub(lambda found: _by_number(found[0]), text)


def _by_number(sign: str) -> str:
    return f"\\x{ord(sign):02x}" if ord(sign) < 256 else f"\\u{ord(sign):04x}"


def _made_harmless(stream: TextIO) -> TextIO:
    # A stream that was closed from the start is None, and one of a test's is nobody's terminal.
    if type(stream) is not io.TextIOWrapper:
        return stream
    encoding, lines, through = stream.encoding, stream.line_buffering, stream.write_through
    return _Harmless(stream.detach(), encoding, _ERRORS, line_buffering=lines, write_through=through)


def plainer(error: UnicodeError) -> tuple[str, int]:
    """Return signs that every terminal has for those that could not be written, as `#` for `■`, and where to go on.

    Raises the error again where it is about reading.
    """
    if not isinstance(error, UnicodeEncodeError):
        raise error
    signs = error.object[error.start : error.end]
    plain = (_PLAINER.get(sign) or sign.encode("ascii", "backslashreplace").decode("ascii") for sign in signs)
    return "".join(plain), error.end
