"""Dials: amounts set by touch, in steps and from a beginning that are round in the weaver's units."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto

from companion.draft.units import (
    Units,
    density_step,
    density_words,
    length_step,
    length_words,
    per_length_words,
    tidy,
    usual_density,
    usual_length,
)


class DialKind(Enum):
    """What a dial sets: a length in cm, picks per cm, or a share in percent."""

    LENGTH = auto()
    CLOSENESS = auto()
    SHARE = auto()


@dataclass(frozen=True, slots=True)
class Dial:
    """How an amount is set: the value begun with, the steps small and large, the bounds, and what it means.

    All are metric and round so; a weaver who measures in inches gets what is near and round in inches.
    """

    kind: DialKind
    begin: float
    steps: tuple[float, float]
    least: float
    most: float
    meaning: str

    def begun_at(self, units: Units) -> float:
        """Return the value begun with."""
        match self.kind:
            case DialKind.LENGTH:
                return usual_length(self.begin, units)
            case DialKind.CLOSENESS:
                return usual_density(self.begin, units)
            case DialKind.SHARE:
                return self.begin

    def turned(self, value: float, step: float, units: Units) -> float:
        """Return the value after one step (one of `steps`, or below 0 for less), within the bounds."""
        change = self._step(abs(step), units)
        return min(max(tidy(value + (change if step > 0 else -change)), self.least), self.most)

    def words(self, value: float, units: Units) -> str:
        """Return a value as the dial shows it: `300 cm`, `10 %`; picks per length as a bare number."""
        match self.kind:
            case DialKind.LENGTH:
                return length_words(value, units)
            case DialKind.CLOSENESS:
                return density_words(value, units, "g")
            case DialKind.SHARE:
                return f"{value:g} %"

    def step_words(self, step: float, units: Units) -> str:
        """Return how far a step goes: `10 cm`, `0.5 per cm`."""
        words = self.words(self._step(step, units), units)
        return f"{words} {per_length_words(units)}" if self.kind is DialKind.CLOSENESS else words

    def _step(self, step: float, units: Units) -> float:
        match self.kind:
            case DialKind.LENGTH:
                return length_step(step, units)
            case DialKind.CLOSENESS:
                return density_step(step, units)
            case DialKind.SHARE:
                return step
