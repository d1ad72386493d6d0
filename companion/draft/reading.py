"""Reading a draft of whatever dialect: the content tells a Weaving Information File from shorthand."""

from __future__ import annotations

import re

from companion.draft.deviations import Deviation, Read, Tolerated
from companion.draft.errors import DraftError
from companion.draft.model import Draft
from companion.draft.shorthand import parse_shorthand
from companion.draft.wif_read import read_wif
from companion.draft.wif_text import decode

__all__ = ["Deviation", "Read", "read_draft", "read_with_deviations"]

_WIF_HEAD = re.compile(r"^[ \t]*\[", re.MULTILINE)
_STATEMENT = re.compile(r"^[ \t]*[A-Za-z][A-Za-z -]{0,40}:", re.MULTILINE)


def read_draft(data: bytes) -> Draft:
    """Return the draft in a file of either dialect; raises DraftError."""
    return read_with_deviations(data).draft


def read_with_deviations(data: bytes) -> Read:
    """Return the draft in a file and what was tolerated in it; raises DraftError.

    A WIF file has sections, lines that begin with a square bracket; shorthand has words with a colon and no such line.
    """
    text = decode(data, Tolerated()).replace("\r", "\n")
    if _WIF_HEAD.search(text):
        return read_wif(data)
    if _STATEMENT.search(text):
        return Read(parse_shorthand(decode(data, Tolerated())))
    if not text.strip():
        raise DraftError("the file is empty", mend="give the file of a draft")
    mend = "a WIF file begins with [WIF], and a line of shorthand with a word and a colon, as threading: 1 2 3 4"
    raise DraftError("this is neither a WIF file nor shorthand", mend=mend)
