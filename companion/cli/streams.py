"""The streams of the process, made fit for any terminal and locale: no letter stops the program.

What the terminal cannot show is said in plainer signs; what nothing plainer stands for is written as its number, so
that two different signs never look alike.
"""

from __future__ import annotations

import codecs
import io
import sys

_PLAINER = {"·": ".", "…": "...", "×": "x", "■": "#", "□": "o", "–": "-", "−": "-"}
_ERRORS = "fellside-plainer"


def make_fit() -> None:
    """Let stdout write every letter, in plainer signs where it must, and stdin read every byte."""
    codecs.register_error(_ERRORS, plainer)
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(errors=_ERRORS)
    if isinstance(sys.stdin, io.TextIOWrapper):
        sys.stdin.reconfigure(errors="replace")


def plainer(error: UnicodeError) -> tuple[str, int]:
    """Return signs that every terminal has for those that could not be written, as `#` for `■`, and where to go on.

    Raises the error again where it is about reading.
    """
    if not isinstance(error, UnicodeEncodeError):
        raise error
    signs = error.object[error.start : error.end]
    plain = (_PLAINER.get(sign) or sign.encode("ascii", "backslashreplace").decode("ascii") for sign in signs)
    return "".join(plain), error.end
