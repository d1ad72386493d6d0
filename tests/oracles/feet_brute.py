"""Least footwork by trying everything: all tie-ups in all orders, all divisions between the feet, all ways to stand.

Written down once more from the help page and in plain walks, sharing no code with the product. Sheds and columns are
sets of shafts; treadles count from 0.
"""

from __future__ import annotations

from itertools import chain, combinations, combinations_with_replacement, permutations, product


def parts(shed):
    """Every part of a shed, the empty one too."""
    shafts = sorted(shed)
    return [frozenset(some) for size in range(len(shafts) + 1) for some in combinations(shafts, size)]


def walk_cost(stands):
    """What a sequence of stances (left, right, extra) costs: treadles are 4 quarters wide."""
    cost = 0
    for foot in (0, 1):
        last_place = last_pick = None
        for pick, stand in enumerate(stands):
            if not stand[foot]:
                continue
            place = 4 * sum(stand[foot]) / len(stand[foot])
            if last_place is not None and place != last_place:
                way = abs(place - last_place)
                cost += way + (2 if way > 4 else 0) + (12 if last_pick == pick - 1 else 0)
            last_place, last_pick = place, pick
            cost += 30 if len(stand[foot]) == 2 else 0
    return cost + sum(100 * bool(left and right) + extra for left, right, extra in stands)


def ways_to_stand(shed, row, reach, split):
    """The stances that open a shed, none with a treadle in vain; only on treadles of its own where there are any."""
    if not shed:
        return [((), (), 0)]
    own = [t for t, column in enumerate(row) if column == shed]
    if own:
        return [((t,), (), 0) if t < split else ((), (t,), 0) for t in own]

    def pull(treadles):
        return frozenset(chain.from_iterable(row[t] for t in treadles))

    def good(treadles):
        return (
            all(row[t] for t in treadles)
            and pull(treadles) == shed
            and all(pull([other for other in treadles if other != t]) != shed for t in treadles)
        )

    def across(left, right):
        return 14 * any(t >= split for t in left) + 14 * any(t < split for t in right)

    runs = [(t,) for t in range(len(row))]
    runs += [(t, t + 1) for t in range(len(row) - 1)] if reach == 2 else []
    found = []
    for run in filter(good, runs):
        if run[0] < split:
            found.append((run, (), across(run, ())))
        if run[-1] >= split:
            found.append(((), run, across((), run)))
    pairs = [(one, other) for one in runs for other in runs if one[-1] < other[0] and good(one + other)]
    return found + [(one, other, across(one, other)) for one, other in pairs]


def as_wished(of, tabby, place, foot, first):
    """Whether stances by shed are as wished, read from the help page: tabby's treadles, and the foot that starts."""
    if foot != "either" and not of[first][foot == "right"]:
        return False
    used = sorted({t for left, right, _ in of.values() for t in left + right})
    feet = [(left, right) for left, right, _ in map(of.get, tabby)] if tabby else []
    if tabby and place == "left":
        return all(not right for _, right in feet) and sorted(left for left, _ in feet) == [(t,) for t in used[:2]]
    if tabby and place == "right":
        return all(not left for left, _ in feet) and sorted(right for _, right in feet) == [(t,) for t in used[-2:]]
    if tabby and place == "outside":
        return sorted(feet) == [((), (used[-1],)), ((used[0],), ())]
    return True


def least_on(sheds, row, reach, wish=None):
    """The least cost of this sequence of sheds on a row of columns; None where some shed does not open.

    `wish`, where given, tells of the stances by shed whether they are as wished.
    """
    distinct = list(dict.fromkeys(sheds))
    costs = []
    for split in range(len(row) + 1):
        ways = [ways_to_stand(shed, row, reach, split) for shed in distinct]
        if all(ways):
            for stand in product(*ways):
                of = dict(zip(distinct, stand, strict=True))
                if wish is not None and not wish(of):
                    continue
                costs.append(walk_cost([of[shed] for shed in sheds]))
    return min(costs, default=None)


def least_of_all(sheds, treadles, reach, wish=None):
    """The least cost on any tie-up of so many treadles; None where none opens every shed, as is wished."""
    columns = sorted({part for shed in sheds for part in parts(shed)}, key=sorted)
    rows = {row for some in combinations_with_replacement(columns, treadles) for row in permutations(some)}
    costs = (least_on(sheds, row, reach, wish) for row in rows if wish is not None or _mirrored_later(row))
    return min((cost for cost in costs if cost is not None), default=None)


def _mirrored_later(row):
    """Keep one of each row and its mirror image, which costs the same with the feet exchanged."""
    return list(map(sorted, row)) <= list(map(sorted, row[::-1]))


def fewest_cords_then_feet(sheds, present, pulls, reach):
    """The fewest cords changed by any tie-up on these treadles that opens every shed, and the least cost of those."""
    best = None
    for row in product(parts(range(1, pulls + 1)), repeat=len(present)):
        cords = sum(len(now ^ old) for now, old in zip(row, present, strict=True))
        if best is None or cords <= best[0]:
            cost = least_on(sheds, row, reach)
            if cost is not None:
                best = (cords, cost) if best is None else min(best, (cords, cost))
    return best


def least_of_all_below(sheds, treadles, cost):
    """The least cost on any tie-up of so many treadles (reach 1) where it is below `cost`, else `cost`.

    As `least_of_all`, for worlds of four shafts, five treadles and six sheds: left out are collections of columns that
    do not open every shed, and those that need both feet at so many picks that they cannot be lighter.
    """
    columns = sorted({part for shed in sheds for part in parts(shed) if part}, key=sorted)
    often = {shed: list(sheds).count(shed) for shed in sheds if shed}
    least = cost
    for size in range(1, treadles + 1):
        for some in combinations_with_replacement(columns, size):
            pairs = {one | other for one, other in combinations(some, 2)} | set(some)
            lost = sum(number for shed, number in often.items() if shed not in some)
            if set(often) <= pairs and 100 * lost < least:
                for row in set(permutations(some)):
                    found = least_on(sheds, row, 1) if list(map(sorted, row)) <= list(map(sorted, row[::-1])) else None
                    least = least if found is None else min(least, found)
    return least
