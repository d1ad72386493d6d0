"""The aim `feet`: least footwork among all tie-ups with at most so many treadles, all orders and all feet.

For each number of treadles that may be lightest (see `feet_search`):

1. Seeds, each priced as it stands: the draft's own tie-up, the fewest treadles; at reach 2 also the answer of feet that
   press one treadle only, and the answer with one treadle fewer. Nothing leaves here that is dearer than one of them.
2. `owning` says which sheds deserve a treadle of their own, `halves` gives each set of columns its lightest order.
3. Exchanges, and feet of their own for sheds with several ways, improve what was found.
4. On few treadles every set of columns is looked at, where these are not too many (`every_set`).
5. The bound (`least_footwork`): whichever sheds both feet open, they pay for that, and what the rest walk is no
   dearer without them.

Lemmas and proofs: assets/mathematics.md, "Feet first".
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
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

    def seeds_for(number: int) -> list[Columns]:
        return [row for row in given if len(row) <= (treadles if number == most else number)]

    one_a_foot = _FewerTreadles(picks, min(most, shortest), seeds_for, should_stop, wished)
    if reach == 1:
        return one_a_foot.lightest(most, bounded=True)
    at_once = None
    if most >= sheds:
        at_once = feet_first(picks, most, reach, seeds_for(most), should_stop, wished=wished)
        if at_once is not None and (at_once.proven or shortest >= most):
            return at_once
    found: LightestFound | None = None
    for number in range(min(most, shortest), most + 1):
        if number < most and should_stop():
            # Whoever waits no longer gets what is asked for by itself, without fewer treadles before it.
            continue
        one = one_a_foot.lightest(number, bounded=False)
        seeds = [*seeds_for(number), *(known.columns for known in (one, found) if known is not None)]
        lightest = feet_first(
            picks, number, reach, seeds, should_stop, bounded=number == most, arranged=one is not None, wished=wished
        )
        found = found if lightest is None else lightest
    return at_once if found is None else found


class _FewerTreadles:
    """What feet that press one treadle each find with so many treadles; with fewer only where that may be lighter.

    With fewer treadles more picks are pressed by both feet. Where these alone cost as much as is paid with all
    treadles, nothing with fewer is lighter, and it is not looked for.
    """

    def __init__(
        self,
        picks: Sequence[int],
        fewest: int,
        seeds_for: Callable[[int], list[Columns]],
        should_stop: ShouldStop,
        wished: WishedFeet,
    ) -> None:
        self._picks = picks
        self._fewest = fewest
        self._seeds_for = seeds_for
        self._should_stop = should_stop
        self._wished = wished

    def lightest(self, treadles: int, *, bounded: bool) -> LightestFound | None:
        """Return the lightest found, never dearer than with fewer treadles; None where nothing does as wished."""
        best = self._with(treadles, None, bounded=bounded)
        at_least = 0 if best is None else best.at_least
        for fewer in range(treadles - 1, self._fewest - 1, -1):
            if self._should_stop() or (best is not None and best.proven):
                break
            found = self._with(fewer, None if best is None else best.cost, bounded=False)
            if found is not None and (best is None or found.cost < best.cost):
                best = replace(found, at_least=min(at_least, found.cost))
        return best

    def _with(self, treadles: int, below: int | None, *, bounded: bool) -> LightestFound | None:
        seeds = self._seeds_for(treadles)
        return feet_first(
            self._picks, treadles, 1, seeds, self._should_stop, bounded=bounded, wished=self._wished, below=below
        )
