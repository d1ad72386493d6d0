"""What the remapping says to a weaver: the values that screens, cards and the command line show.

When each is said: assets/mathematics.md, "What proven means".
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum

from companion.draft.masks import Shed
from companion.remap.aim import Aim
from companion.remap.feet.tied_stage import TiedStage
from companion.remap.loom.levers import LeverChange
from companion.remap.loom.loom import Footing, Loom, TieUp
from companion.remap.search.bounds import Bounds
from companion.remap.search.conflict import Conflict


class Verdict(Enum):
    """Whether the loom weaves the draft."""

    FITS = "fits"
    RE_TIE = "re-tie"
    UNKNOWN = "unknown"
    TOO_FEW_SHAFTS = "too few shafts"


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another way: `loom` is what it asks for; `fewest` bounds its treadles; `fits` None where the search did not end.

    Where an answer is known, it has been woven and compared with the cloth, like every answer.
    """

    what: str
    loom: Loom
    fewest: Bounds
    fits: bool | None
    face_down: bool = False


@dataclass(frozen=True, slots=True)
class Remapping:
    """The answer to "can my loom weave this, and how do my feet move?".

    `fewest` bounds the treadles for the asked action and reach. `sheds` are the distinct sheds in the order of first
    use. `stages` is one stage where it fits, several where it must be re-tied, or where that it fits is not known;
    empty where shafts are missing, or there is no pick or no treadle. `proven_cloth`: woven both ways and compared,
    pick by pick; None where there is nothing to compare.
    `missing_shafts` are shafts (from 1) that carry ends and that the loom lacks. `fewest_stages`: re-tied, and no plan
    has fewer stages (proven). `fewest_cords_in_all`: nor does one with as few change fewer cords over all its stages.
    `tied_anew_each_lap` names the sections woven to a length with a stop within: stops and cords count one lap of them.
    `face_down`: the cloth lies with its face below, so the sheds are the complements of the draft's. `aim`: what the
    tie-up was chosen for where it fits; within the stages of a plan of tying anew few treadles and cords come first.
    `tabby` are the two sheds of plain weave on this threading, None where it has none. `plain_weave_left_out`: the
    draft ties them on treadles that no pick presses, and here there is no room for that.
    """

    loom: Loom
    verdict: Verdict
    fewest: Bounds
    sheds: tuple[Shed, ...]
    stages: tuple[TiedStage, ...] = ()
    proven_cloth: bool | None = None
    conflict: Conflict | None = None
    alternatives: tuple[Alternative, ...] = ()
    levers: tuple[LeverChange, ...] = ()
    missing_shafts: tuple[int, ...] = ()
    fewest_cords_in_all: bool = False
    fewest_stages: bool = False
    tied_anew_each_lap: tuple[str, ...] = ()
    face_down: bool = False
    aim: Aim = Aim.FEET
    tabby: tuple[Shed, Shed] | None = None
    plain_weave_left_out: bool = False

    def __repr__(self) -> str:
        treadles, at_least = self.fewest.best, self.fewest.at_least
        if self.missing_shafts:
            found = f"missing {', '.join(map(str, self.missing_shafts))}"
        elif treadles is None:
            found = f"at least {at_least} treadles needed"
        else:
            found = f"fewest treadles {treadles}" + ("" if self.fewest.proven else f", at least {at_least} needed")
        loom = f"{self.loom.shafts} shafts, {self.loom.treadles} treadles, {self.loom.action.value}"
        return f"<Remapping {self.verdict.value!r} ({loom}): {found}>"

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


OnAnswer = Callable[[Remapping], None]
