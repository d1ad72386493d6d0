"""The weave screen's contents, ready to show: words, colours and pictures of this pick, and nothing to decide."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Action(Enum):
    """The buttons at the foot of the weave screen."""

    BACK = "Back"
    PAUSE = "Pause"


@dataclass(frozen=True, slots=True)
class HarnessSigns:
    """The loom at this pick.

    `ties[treadle][shaft]` is 1 where a cord raises, -1 where it sinks, 0 where there is none; `left` and `right` are
    the treadle indices under each foot; `raised[shaft]` is the shed.
    """

    shafts: int
    ties: tuple[tuple[int, ...], ...]
    left: frozenset[int]
    right: frozenset[int]
    raised: tuple[bool, ...]
    left_letter: str
    right_letter: str


@dataclass(frozen=True, slots=True)
class WeaveSigns:
    """Everything that the weave screen says at one pick. Colours are parts in 0..1; shares add up to 1."""

    place: str
    count: str
    section_shares: tuple[float, ...]
    done_share: float
    shuttle: str
    shuttle_colour: tuple[float, float, float]
    from_left: bool
    from_right: bool
    side: str
    harness: HarnessSigns
    shed: str
    left_foot: str
    right_foot: str
    left_letter: str
    right_letter: str
    following: str
    cue: str
    warning: str = ""
