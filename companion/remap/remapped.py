"""What the remapping says to a weaver: the values that screens, cards and the command line show."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from companion.draft.masks import Shed
from companion.remap.conflict import Conflict
from companion.remap.cords import CordChange
from companion.remap.levers import LeverChange
from companion.remap.loom import Footing, Loom, TieUp


class Verdict(Enum):
    """Whether the loom weaves the draft."""

    FITS = "fits"
    RE_TIE = "re-tie"
    UNKNOWN = "unknown"
    TOO_FEW_SHAFTS = "too few shafts"


@dataclass(frozen=True, slots=True)
class Fewest:
    """The fewest treadles for the asked action and reach: known to do (None: none known yet), and at least needed."""

    treadles: int | None
    at_least: int

    @property
    def proven(self) -> bool:
        """Tell whether it is known exactly."""
        return self.treadles == self.at_least


@dataclass(frozen=True, slots=True)
class ShedFeet:
    """A shed (the shafts that are up), its commonest footing, and how many picks open it.

    `steady` is false where the feet that cost least open it in different ways at different picks.
    """

    shed: Shed
    footing: Footing
    picks: int
    steady: bool


@dataclass(frozen=True, slots=True)
class Legwork:
    """What the feet have to do on a stage, and what they would have to do with the columns in draft order.

    `travel_widths` counts treadle widths. `best_order`: no order of these treadles costs less (proven); otherwise it is
    the best found. `tieups_weighed` of the tie-ups with so few treadles were compared; `all_tieups` says: every one.
    """

    cost: int
    travel_widths: float
    draft_order_cost: int
    draft_order_travel_widths: float
    best_order: bool
    tieups_weighed: int
    all_tieups: bool

    @property
    def travel_saved_percent(self) -> float:
        """How much less the feet travel than in draft order; below 0 where they travel more but with less effort."""
        if not self.draft_order_travel_widths:
            return 0.0
        return 100 * (1 - self.travel_widths / self.draft_order_travel_widths)

    @property
    def effort_saved_percent(self) -> float:
        """How much less the footwork costs than in draft order."""
        return 100 * (1 - self.cost / self.draft_order_cost) if self.draft_order_cost else 0.0


@dataclass(frozen=True, slots=True)
class TiedStage:
    """The picks `first` to `last` (indices, both woven) on one tie-up, with a footing per pick.

    `tieup` has one tie per treadle of the loom; a treadle that no footing presses keeps the cords it had. `changes`
    are the cords to change before it, from the present tie-up or the stage before; None where that is not known.
    `fewest_cords`: no answer with so few treadles changes fewer (proven).
    """

    first: int
    last: int
    tieup: TieUp
    footings: tuple[Footing, ...]
    sheds: tuple[ShedFeet, ...]
    changes: tuple[CordChange, ...] | None
    fewest_cords: bool
    at_section_end: bool
    legwork: Legwork

    @property
    def cords_changed(self) -> int | None:
        """How many cords change before this stage; None where the tie-up before it is not known."""
        return None if self.changes is None else sum(change.cords for change in self.changes)


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another way: `loom` is what it asks for; `fewest` its treadles; `fits` None where the search did not end.

    Where an answer is known, it has been woven and compared with the cloth, like every answer.
    """

    what: str
    loom: Loom
    fewest: Fewest
    fits: bool | None
    face_down: bool = False


@dataclass(frozen=True, slots=True)
class Remapping:
    """The answer to "can my loom weave this, and how do my feet move?".

    `sheds` are the distinct sheds in the order of first use. `stages` is one stage where
    it fits, several where it must be re-tied, empty where there is no answer, no pick or no treadle. `proven_cloth`:
    woven both ways and compared, pick by pick; None where there is nothing to compare.
    `missing_shafts` are shafts (from 1) that carry ends and that the loom lacks. `fewest_stages`: re-tied, and no plan
    has fewer stages (proven). `fewest_cords_in_all`: nor does one with as few change fewer cords over all its stages.
    `face_down`: the cloth lies with its face below, so the sheds are the complements of the draft's.
    """

    loom: Loom
    verdict: Verdict
    fewest: Fewest
    sheds: tuple[Shed, ...]
    stages: tuple[TiedStage, ...] = ()
    proven_cloth: bool | None = None
    conflict: Conflict | None = None
    alternatives: tuple[Alternative, ...] = ()
    levers: tuple[LeverChange, ...] = ()
    missing_shafts: tuple[int, ...] = ()
    fewest_cords_in_all: bool = False
    fewest_stages: bool = False
    face_down: bool = False

    @property
    def cords_in_all(self) -> int:
        """How many cords change over all stages; those of a first tie-up with none known before it do not count."""
        return sum(stage.cords_changed or 0 for stage in self.stages)

    @property
    def tieup(self) -> TieUp:
        """The tie-up of the first stage: the whole answer where it fits."""
        return self.stages[0].tieup if self.stages else ()

    @property
    def footings(self) -> tuple[Footing, ...]:
        """The footing of every pick, through all stages."""
        return tuple(footing for stage in self.stages for footing in stage.footings)
