"""Every exception that the remap room raises."""

from __future__ import annotations


class RemapError(ValueError):
    """A question to the remapping that makes no sense: says what is wrong and how to mend it, in one line."""

    def __init__(self, what: str, *, mend: str = "") -> None:
        self.what = what
        self.mend = mend
        super().__init__(what + (f"; {mend}" if mend else ""))


class NoSuchTieUpError(RemapError):
    """The question makes sense, but there is no tie-up for this aim on this loom."""
