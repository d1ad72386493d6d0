"""Where a pick stands in what the weaver chants: "repeat 4 of 12, pick 5 of 8", for each section on its own.

Reading a long treadling as repeats takes up to seconds, so it is done once for a piece, away from the picks; looking a
pick up takes microseconds.
"""

from __future__ import annotations

from dataclasses import dataclass

from companion.draft.repeat_search import read_repeats
from companion.draft.repeats import Part, RepeatStep, Step, path
from companion.weaving.warp import Piece


@dataclass(frozen=True, slots=True)
class Chants:
    """The reading of each section of a piece; None for a section without picks."""

    sections: tuple[Part | None, ...]


def chants_of(piece: Piece) -> Chants:
    """Return the readings of a piece's sections; two picks are one thing to chant when shed and weft are the same."""
    picks = list(zip(piece.sheds, piece.draft.weft, strict=True))
    readings = []
    for section in range(len(piece.sections)):
        listed = piece.section_picks(section)
        readings.append(read_repeats(picks[listed.start : listed.stop]).part if listed else None)
    return Chants(tuple(readings))


def steps_at(chants: Chants, piece: Piece, pick: int) -> tuple[Step, ...]:
    """Return the repeats and turns that a pick (index) lies in within its section, from the outermost inwards."""
    if not 0 <= pick < piece.picks:
        return ()
    section = piece.section_at(pick)
    part = chants.sections[section]
    return () if part is None else path(part, pick - piece.section_picks(section).start)


def repeat_at(chants: Chants, piece: Piece, pick: int) -> RepeatStep | None:
    """Return the outermost repeat that a pick (index) lies in within its section; None where nothing is repeated."""
    return next((step for step in steps_at(chants, piece, pick) if isinstance(step, RepeatStep)), None)
