"""A cloth as a weaver wishes for it, and all that it takes: setts of its yarn, ends, warp, yarn of each colour, cones.

What nobody tells is taken as usual, and said to be (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from math import ceil

from companion.draft.laying_in import laid_in_at
from companion.draft.model import Draft
from companion.draft.sections import sections_of
from companion.weaving.errors import WeavingError
from companion.weaving.mixed_dents import BY_RULE_WITHIN, TOLD_WITHIN
from companion.weaving.planning import (
    USUAL_FRINGE_CM,
    USUAL_SHARES,
    USUAL_WASTE_CM,
    Plan,
    Shares,
    Thread,
    Weave,
    Wish,
    YarnNeed,
    plan,
    thread_needs,
    working_sett,
)
from companion.weaving.shuttles import WEFT_TAKE_UP
from companion.weaving.state import laps_needed
from companion.weaving.suited_weave import layers_in, suited_weave
from companion.weaving.yarn_written import WrittenYarn

WARP, WEFT = "warp", "weft"
MOST_LAYERS = 4


class PlanFact(Enum):
    """What can be told of a cloth that is planned, in cm, threads per cm, layers, percent, pieces or grams."""

    WIDTH = "width"
    LENGTH = "length"
    PIECES = "pieces"
    SETT = "sett"
    LAYERS = "layers"
    PICKS = "picks"
    REED = "reed"
    TAKE_UP = "take_up"
    DRAW_IN = "draw_in"
    SHRINKAGE = "shrinkage"
    SHRINKAGE_WIDTH = "shrinkage_width"
    WASTE = "waste"
    FRINGE = "fringe"
    PUT_UP = "put_up"


SHARES = (PlanFact.TAKE_UP, PlanFact.DRAW_IN, PlanFact.SHRINKAGE, PlanFact.SHRINKAGE_WIDTH)
USUAL: Mapping[PlanFact, float] = {
    PlanFact.TAKE_UP: 100 * USUAL_SHARES.take_up,
    PlanFact.DRAW_IN: 100 * USUAL_SHARES.draw_in,
    PlanFact.SHRINKAGE: 100 * USUAL_SHARES.shrinkage_length,
    PlanFact.SHRINKAGE_WIDTH: 100 * USUAL_SHARES.shrinkage_width,
    PlanFact.WASTE: USUAL_WASTE_CM,
    PlanFact.FRINGE: USUAL_FRINGE_CM,
}
"""What is taken where nothing is told."""

PlanFacts = Mapping[PlanFact, float]


@dataclass(frozen=True, slots=True)
class PlannedYarn:
    """A yarn's size as it was said and as it was read."""

    words: str
    size: WrittenYarn


@dataclass(frozen=True, slots=True)
class ClothWished:
    """A cloth as told so far: `yarns` of WARP and WEFT, a draft for its weave and colours.

    `weave` is what the weaver chose a sett for; None where that is left to the draft.
    """

    told: PlanFacts
    yarns: Mapping[str, PlannedYarn]
    weave: Weave | None = None
    draft: Draft | None = None

    def suited(self) -> Weave | None:
        """Return the weave whose sett suits the draft, or each of its layers; None without a draft."""
        return None if self.draft is None else suited_weave(self.draft)

    def sett_for(self) -> Weave:
        """Return the weave that the sett is for: as chosen, else what suits the draft, else plain weave."""
        return self.weave or self.suited() or Weave.PLAIN

    def layers_met(self) -> int:
        """Return how many layers the draft was found to weave; 1 without a draft."""
        return 1 if self.draft is None else layers_in(self.draft)

    def layers(self) -> int:
        """Return how many layers the sett is for: as told, else as the draft weaves."""
        return round(self.told.get(PlanFact.LAYERS, self.layers_met()))

    def sett_by_rule(self) -> float | None:
        """Return the ends per cm of all layers together, each set as if it were alone; None without a yarn size."""
        one = setts_of(self).get(self.sett_for())
        return None if one is None else one * self.layers()


@dataclass(frozen=True, slots=True)
class ClothPlanned:
    """What a cloth takes; `setts` are those of its warp yarn, `untold` is what was taken as usual.

    `uncut` are the yarns that are laid in at lengths nobody told: each is counted `thrown_cm` long, as if thrown.
    """

    wished: ClothWished
    wish: Wish
    plan: Plan
    setts: Mapping[Weave, float]
    warp: tuple[YarnNeed, ...]
    weft: tuple[YarnNeed, ...]
    untold: tuple[PlanFact, ...]
    uncut: tuple[str, ...]
    thrown_cm: float

    @property
    def put_up_g(self) -> float | None:
        """What a cone or skein weighs, where that is told."""
        return self.wished.told.get(PlanFact.PUT_UP)

    def put_ups(self, need: YarnNeed) -> int | None:
        """Return how many cones or skeins a yarn takes; None where a weight is unknown."""
        if self.put_up_g is None or need.grams is None:
            return None
        return ceil(need.grams / self.put_up_g - 1e-9)


def setts_of(wished: ClothWished) -> Mapping[Weave, float]:
    """Return the ends per cm of the warp yarn in one layer of each weave, what suits the draft first; else empty."""
    yarn = wished.yarns.get(WARP)
    if yarn is None:
        return {}
    suited = wished.suited()
    return {weave: working_sett(yarn.size.tex, weave) for weave in sorted(Weave, key=lambda weave: weave is not suited)}


def plan_cloth(wished: ClothWished) -> ClothPlanned:
    """Return what the cloth takes; raises WeavingError where size or sett are untold, or no reed suits."""
    told, setts = wished.told, setts_of(wished)
    for fact in (PlanFact.WIDTH, PlanFact.LENGTH):
        if fact not in told:
            raise WeavingError(f"the finished {fact.value} is not set; give it")
    sett = told.get(PlanFact.SETT, wished.sett_by_rule())
    if sett is None:
        raise WeavingError("the sett is not set; give the warp yarn, or a sett")
    taken = {fact: told.get(fact, usual) for fact, usual in USUAL.items()}
    wish = Wish(
        told[PlanFact.WIDTH],
        told[PlanFact.LENGTH],
        sett,
        told.get(PlanFact.PICKS),
        Shares(*(taken[fact] / 100 for fact in SHARES)),
        taken[PlanFact.WASTE],
        taken[PlanFact.FRINGE],
        round(told.get(PlanFact.PIECES, 1)),
        told.get(PlanFact.REED),
        TOLD_WITHIN if PlanFact.SETT in told else BY_RULE_WITHIN,
    )
    answer = plan(wish)
    weft_cm = answer.width_in_reed_cm * (1 + WEFT_TAKE_UP)
    return ClothPlanned(
        wished,
        wish,
        answer,
        setts,
        thread_needs(answer.ends, _ends(wished, answer.warp_cm), _sizes(wished, WARP)),
        _of_all_pieces(
            thread_needs(
                answer.picks // wish.pieces, _picks(wished, weft_cm, answer.picks_per_cm), _sizes(wished, WEFT)
            ),
            wish.pieces,
        ),
        tuple(fact for fact in USUAL if fact not in told),
        _uncut(wished),
        weft_cm,
    )


def _order(wished: ClothWished, side: str) -> tuple[str, ...]:
    draft = wished.draft
    if draft is None:
        return (side,)
    threads = draft.warp if side == WARP else draft.weft
    return tuple(draft.yarns[yarn].name or f"yarn {yarn + 1}" for yarn in threads) or (side,)


def _ends(wished: ClothWished, warp_cm: float) -> list[Thread]:
    return [Thread(name, warp_cm) for name in _order(wished, WARP)]


def _picks(wished: ClothWished, weft_cm: float, per_cm: float) -> list[Thread]:
    """Return the picks of the draft, thrown across the width; what is laid in is as long as it was told to be cut.

    The picks of a section that is woven to a length are woven so often, whole, that they reach it, so many per cm.
    """
    draft = wished.draft
    if draft is None or not draft.picks:
        return [Thread(WEFT, weft_cm)]
    laid_in = laid_in_at(draft)
    lengths = {pick: laid.length_cm for pick, laid in laid_in.items() if laid.length_cm is not None}
    listed = [Thread(name, lengths.get(pick, weft_cm)) for pick, name in enumerate(_order(wished, WEFT))]
    threads: list[Thread] = []
    first = 0
    for section in sections_of(draft):
        own = listed[first : first + section.picks]
        first += section.picks
        threads += own * (laps_needed(section.until_cm, per_cm, section.picks) or 1)
    return threads


def _uncut(wished: ClothWished) -> tuple[str, ...]:
    """Return the names of the yarns that are laid in somewhere at a length that nobody told."""
    draft = wished.draft
    if draft is None:
        return ()
    names = _order(wished, WEFT)
    return tuple(dict.fromkeys(names[pick] for pick, laid in laid_in_at(draft).items() if laid.length_cm is None))


def _of_all_pieces(needs: tuple[YarnNeed, ...], pieces: int) -> tuple[YarnNeed, ...]:
    return tuple(
        YarnNeed(
            need.name,
            need.threads * pieces,
            need.metres * pieces,
            None if need.grams is None else need.grams * pieces,
        )
        for need in needs
    )


def _sizes(wished: ClothWished, side: str) -> dict[str, float]:
    yarn = wished.yarns.get(side)
    return {} if yarn is None else dict.fromkeys(_order(wished, side), yarn.size.tex)
