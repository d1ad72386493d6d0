"""Reading a draft of whatever dialect: the content tells a Weaving Information File from shorthand."""

from __future__ import annotations

from companion.draft.deviations import Deviation, Read
from companion.draft.model import Draft
from companion.draft.wif_read import read_wif

__all__ = ["Deviation", "Read", "read_draft", "read_with_deviations"]


def read_draft(data: bytes) -> Draft:
    """Return the draft in a file of either dialect; raises DraftError."""
    return read_with_deviations(data).draft


def read_with_deviations(data: bytes) -> Read:
    """Return the draft in a file and what was tolerated in it; raises DraftError."""
    return read_wif(data)
