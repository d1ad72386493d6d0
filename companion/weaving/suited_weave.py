"""Which weave's sett suits a draft, by how often its threads pass from one face of the cloth to the other.

T.R. Ashenhurst's rule sets ends by the intersections of the repeat: in plain weave a thread passes at every crossing,
in a 2/2 twill at every second one. Lace lies in between and is set more open; lace whose floats are long and many
passes as seldom as a twill and counts as one. Where tabby binds a pattern, as in overshot, the ends are set as for
plain weave (both common practice, no source). Of layers one above the other each has a weave of its own, and each is
set as if it were alone (common practice, no source): two layers take twice the sett of one.
"""

from __future__ import annotations

from collections import Counter
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from companion.draft.cloth import Crossings, crossings_of
from companion.draft.layers_met import layers_met
from companion.draft.model import Draft
from companion.weaving.planning import Weave

PLAIN_FROM, LACE_FROM = 0.88, 0.75
"""Shares of the crossings at which threads pass: bounds of our own between plain weave, lace and twill."""
PLAIN_PICK, TABBY_FROM = 0.95, 0.2
"""A pick is tabby where its weft passes nearly everywhere; so many picks of either tabby bind a pattern."""

_Shares = NDArray[np.float64]


@lru_cache(maxsize=4)
def suited_weave(draft: Draft) -> Weave:
    """Return the weave whose sett suits a draft, or each of its layers: `Weave.TWILL` for a 2/2 twill.

    Plain where nothing interlaces; where layers differ, what most of them are.
    """
    woven = crossings_of(draft)
    if cloths := [cloth for window in layers_met(woven) for cloth in window]:
        (weave, _), *_ = Counter(map(_weave_of, cloths)).most_common(1)
        return weave
    return _weave_of(woven)


@lru_cache(maxsize=4)
def layers_in(draft: Draft) -> int:
    """Return how many cloths a draft weaves one above the other in most of its places."""
    met = layers_met(crossings_of(draft))
    return len(met[0]) if met else 1


def _weave_of(woven: Crossings) -> Weave:
    if woven.picks < 2 or woven.ends < 2:
        return Weave.PLAIN
    # Each shed and each shaft once, counted as often as it lies there: a long draft costs no more than a short one.
    along = _passing(woven.raised, woven.shaft_of_end)
    across = _passing(woven.raised.T, woven.shed_of_pick)
    picks = woven.picks_of_shed / woven.picks
    weft, warp = float(along @ picks), float(across @ woven.ends_of_shaft) / woven.ends
    tabby, first_up = along >= PLAIN_PICK, woven.raised[:, woven.shaft_of_end[0]]
    of_either = min(picks[tabby & first_up].sum(), picks[tabby & ~first_up].sum())
    if of_either >= TABBY_FROM or max(weft, warp) >= PLAIN_FROM:
        return Weave.PLAIN
    return Weave.LACE if (weft + warp) / 2 >= LACE_FROM else Weave.TWILL


def _passing(raised: NDArray[np.bool_], crossed: NDArray[np.intp]) -> _Shares:
    """Return for each row the share of neighbours among the columns `crossed`, in order, that lie on either side."""
    columns = raised.shape[1]
    pairs, times = np.unique(crossed[:-1] * columns + crossed[1:], return_counts=True)
    differ = raised[:, pairs // columns] != raised[:, pairs % columns]
    shares: _Shares = differ @ times / times.sum()
    return shares
