"""What no tie-up of so many treadles is below: whichever sheds both feet open, they pay for that, and the rest walk.

Lemmas and proofs: assets/mathematics.md, "Feet first" (F7).
"""

from __future__ import annotations

from collections.abc import Sequence
from heapq import heappop, heappush

from companion.remap.feet.halves import MOST_COLUMNS, Halves
from companion.remap.feet.owning import own_treadles
from companion.remap.feet.presses import BOTH_FEET, TWO_UNDER_ONE
from companion.remap.feet.seats import seats_of
from companion.remap.feet.walks import Walks, walks_of
from companion.remap.loom.wished import AS_IT_COMES, WishedFeet
from companion.remap.search.alike import names_of

MOST_BOUNDS = 60
MOST_EXACT = 8
"""Up to so many sheds that keep a treadle of their own their walk is worked out for the bound, else bounded too."""
MOST_WAITING = 20_000


def least_footwork(picks: Sequence[int], treadles: int, reach: int, cost: int) -> int:
    """Return what no tie-up of so many treadles is below; `cost` where that is met by what is known to do."""
    names = names_of(picks)
    walk = walks_of([names.named(pick) for pick in picks])
    lost = own_treadles(walk.targets, walk.picks, treadles).at_least
    return footwork_bound(walk, cost, lost, treadles, reach, AS_IT_COMES)


def footwork_bound(walk: Walks, cost: int, lost_at_least: int, treadles: int, reach: int, wished: WishedFeet) -> int:
    """Return what no answer is below: over all sets of sheds that are not opened by one treadle, rising in picks.

    Such a set pays for each of its picks, and the walk of the others, by the triangle inequality, is no dearer when the
    others' picks are left out, strides not counted. Tabby that is wished to one side has treadles of its own there.
    """
    dear, lost = (BOTH_FEET, lost_at_least) if reach == 1 else (TWO_UNDER_ONE, 0)
    order = sorted((k for k, target in enumerate(walk.targets) if target), key=lambda k: walk.picks[k])
    two_at_least = len(order) - treadles
    order = [k for k in order if k not in (wished.tabby or ())]
    most = max(2, min(MOST_BOUNDS, 4_000 // 2 ** max(0, min(len(order), treadles))))
    heap: list[tuple[int, tuple[int, ...], int]] = [(0, (), 0)]
    least, looked = cost, 0
    while heap:
        picks, chosen, after = heappop(heap)
        if picks * dear >= least:
            break
        for at in range(after, len(order)):
            heappush(heap, (picks + walk.picks[order[at]], (*chosen, order[at]), at + 1))
        looked += picks >= lost and len(chosen) >= two_at_least
        if looked > most or len(heap) > MOST_WAITING:
            return min(least, max(picks, lost) * dear)
        if picks >= lost and len(chosen) >= two_at_least:
            least = min(least, picks * dear + _walk_of_others(walk, chosen, least - picks * dear, wished))
    return least


def _walk_of_others(walk: Walks, left_out: tuple[int, ...], below: int, wished: WishedFeet) -> int:
    singles = [k for k, target in enumerate(walk.targets) if target and k not in left_out]
    if len(singles) > MOST_COLUMNS:
        return 0
    number = {k: c for c, k in enumerate(singles)}
    ways = [(number[k],) if k in number else () for k in range(len(walk.targets))]
    seats = seats_of(wished, ways)
    if seats is None:
        return 0
    halves = Halves(walk, len(singles), ways, seats, strides=not left_out)
    if len(singles) > MOST_EXACT and left_out:
        return halves.floor()
    found = halves.best(below)
    return below if found is None else found.at_least
