"""Every exception that the weaving room raises."""

from __future__ import annotations

from companion.draft.units import Amount, Units, sentence


class WeavingError(ValueError):
    """Something that cannot be done or cannot have happened here: one clear line for the weaver.

    `parts` are its words and the amounts among them, which `said` puts into the weaver's units; as text it is metric.
    """

    def __init__(self, *parts: str | Amount) -> None:
        self.parts = parts
        super().__init__(sentence(parts, Units.METRIC))

    def said(self, units: Units) -> str:
        """Return the line in these units."""
        return sentence(self.parts, units)


class ContradictionError(WeavingError):
    """An entry of a journal that cannot follow the entries before it: not of this warp, or altered."""


def error_words(error: Exception | str, units: Units) -> str:
    """Return what an error says, its amounts in these units where it carries any; a line stays as it is."""
    return error.said(units) if isinstance(error, WeavingError) else str(error)
