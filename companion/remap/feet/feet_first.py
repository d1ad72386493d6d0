"""The aim `feet`: least footwork among all tie-ups with at most so many treadles, all orders and all feet.

For each number of treadles (see `feet_search`):

1. Seeds, each priced as it stands: the draft's own tie-up, the fewest treadles, the answer of feet that press one
   treadle only, the answer with one treadle fewer. Nothing leaves here that is dearer than one of them.
2. `owning` says which sheds deserve a treadle of their own, `halves` gives each set of columns its lightest order.
3. Exchanges, and feet of their own for sheds with several ways, improve what was found.
4. On few treadles every set of columns is looked at, where these are not too many (`every_set`).
5. The bound (`least_footwork`): whichever sheds both feet open, they pay for that, and what the rest walk is no
   dearer without them.

Lemmas and proofs: assets/mathematics.md, "Feet first".
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from companion.remap.feet.feet_search import LightestFound, feet_first
from companion.remap.feet.tidy_order import in_walking_order
from companion.remap.feet.walks import walks_of
from companion.remap.loom.targets import Column, Columns
from companion.remap.loom.wished import AS_IT_COMES, WishedFeet
from companion.remap.search.answers import ShouldStop, never_stop


def lightest_of_all(
    picks: Sequence[int],
    treadles: int,
    reach: int,
    *,
    own: Columns | None = None,
    fewest: Sequence[Columns] = (),
    should_stop: ShouldStop = never_stop,
    wished: WishedFeet = AS_IT_COMES,
) -> LightestFound | None:
    """Return the lightest tie-up found for these picks (a target each); None where nothing does as wished.

    `own` is the draft's own tie-up where it fits, `fewest` the answers with fewest treadles at reach 1 up to `reach`.
    Asked for more treadles, or for a longer reach, it is never dearer: the answers with fewer are seeds of it. More
    treadles than sheds are of no use to feet that press one treadle at a time, so there the answers are the same.
    Of rows that are as light the draft's own comes first, then one in walking order (see `tidy_order`).
    """
    found = _lightest(picks, treadles, reach, own, fewest, should_stop, wished)
    return found if found is None or found.columns == own else tidied(found, picks, wished)


def tidied(found: LightestFound, picks: Sequence[int], wished: WishedFeet) -> LightestFound:
    """Return the answer in the order that legs learn soonest, of those that are as light."""
    row, feet = in_walking_order(walks_of(picks), found.columns, found.feet, wished)
    return replace(found, columns=tuple(map(Column, row)), feet=feet)


def _lightest(
    picks: Sequence[int],
    treadles: int,
    reach: int,
    own: Columns | None,
    fewest: Sequence[Columns],
    should_stop: ShouldStop,
    wished: WishedFeet,
) -> LightestFound | None:
    sheds = len({pick for pick in picks if pick})
    shortest = min(map(len, fewest), default=sheds)
    most = min(treadles, max(sheds, shortest))
    given = [*fewest] if own is None else [own, *fewest]
    at_once = None
    if most >= sheds or (reach == 1 and shortest >= most):
        seeds = [row for row in given if len(row) <= treadles]
        at_once = feet_first(picks, most, reach, seeds, should_stop, wished=wished)
        if at_once is not None and (at_once.proven or shortest >= most):
            return at_once
    found: dict[int, LightestFound] = {}
    for number in range(min(most, shortest), most + 1):
        if number < most and should_stop():
            # Whoever waits no longer gets what is asked for by itself, without fewer treadles before it.
            continue
        for feet in range(1, reach + 1):
            seeds = [row for row in given if len(row) <= (treadles if number == most else number)]
            seeds += [found[fewer].columns for fewer in sorted(found) if fewer <= feet]
            asked = number == most and feet == reach
            lightest = feet_first(
                picks, number, feet, seeds, should_stop, bounded=asked, arranged=feet > 1 and 1 in found, wished=wished
            )
            if lightest is not None:
                found[feet] = lightest
    return found.get(reach, at_once)
