"""Dials: amounts given on the number pad, from a beginning that is round in the weaver's units."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto

from companion.draft.unit_readings import (
    NumberReading,
    density_reading,
    length_reading,
    share_reading,
    usual_density,
    usual_length,
    usual_warp,
    warp_reading,
)
from companion.draft.units import Units, density_words, length_words
from companion.present.number_pad import Wanted


class DialKind(Enum):
    """What a dial sets: a length in cm, one of warp, picks per cm, or a share in percent."""

    LENGTH = auto()
    WARP = auto()
    CLOSENESS = auto()
    SHARE = auto()


@dataclass(frozen=True, slots=True)
class Dial:
    """How an amount is given: the value begun with, the bounds, and what it means.

    All are metric and round so; a weaver who measures in inches gets what is near and round in inches.
    """

    kind: DialKind
    begin: float
    least: float
    most: float
    meaning: str

    def begun_at(self, units: Units) -> float:
        """Return the value begun with."""
        match self.kind:
            case DialKind.LENGTH:
                return usual_length(self.begin, units)
            case DialKind.WARP:
                return usual_warp(self.begin, units)
            case DialKind.CLOSENESS:
                return usual_density(self.begin, units)
            case DialKind.SHARE:
                return self.begin

    def words(self, value: float, units: Units) -> str:
        """Return a value as the dial shows it: `300 cm`, a warp `4.5 yd`, `10 %`; picks per length as a bare number."""
        match self.kind:
            case DialKind.LENGTH:
                return length_words(value, units)
            case DialKind.WARP:
                reading = self.reading(units)
                return f"{reading.number(value)} {reading.sign}"
            case DialKind.CLOSENESS:
                return density_words(value, units, "g")
            case DialKind.SHARE:
                return f"{value:g} %"

    def wanted(self, words: str, value: float, units: Units) -> Wanted:
        """Return what the pad asks for, beginning at a value."""
        reading = self.reading(units)
        least, most = reading.least(self.least), reading.most(self.most)
        return Wanted(words, reading.sign, least, most, reading.decimals, reading.number(value), self.meaning)

    def reading(self, units: Units) -> NumberReading:
        """Return how its numbers are read."""
        match self.kind:
            case DialKind.LENGTH:
                return length_reading(units)
            case DialKind.WARP:
                return warp_reading(units)
            case DialKind.CLOSENESS:
                return density_reading(units)
            case DialKind.SHARE:
                return share_reading()
