"""Where the fell may be, found by laying every cloth that the treadling can give, pick by pick, and comparing rows.

Shares no code with companion.weaving.finder: no shifting of columns, only lists of picks.
"""

from __future__ import annotations

from itertools import product


def every_cloth(piece, laps):
    """Every order of picks with each section that is woven to a length repeated 1 to `laps` times."""
    sections = piece.draft.sections
    if not sections:
        return [list(range(piece.draft.picks))]
    parts, start = [], 0
    for section in sections:
        picks = list(range(start, start + section.picks))
        times = range(1, laps + 1) if section.until_cm is not None else [1]
        parts.append([picks * number for number in times])
        start += section.picks
    return [[pick for part in choice for pick in part] for choice in product(*parts)]


def shafts_up(draft, pick):
    """Shafts (indices) that are up for a pick of a rising lift plan, by its bits written out."""
    return {shaft for shaft, bit in enumerate(reversed(f"{draft.lifting.plan[pick]:b}")) if bit == "1"}


def places(piece, evidence):
    """Every pick that may lie newest, as a set."""
    draft = piece.draft
    needed = max(len(evidence.rows), (evidence.since_change or 0) + 1)
    found = set()
    for cloth in every_cloth(piece, needed + 1):
        for newest in range(len(cloth)):
            lying = cloth[: newest + 1][::-1]
            if _fits(draft, lying, evidence):
                found.add(lying[0])
    return found


def _fits(draft, lying, evidence):
    if len(evidence.rows) > len(lying):
        return False
    for seen, pick in zip(evidence.rows, lying, strict=False):
        up = shafts_up(draft, pick)
        if seen.yarns is not None and draft.weft[pick] not in seen.yarns:
            return False
        if any(draft.threading[end] not in up for end in seen.up):
            return False
        if any(draft.threading[end] in up for end in seen.down):
            return False
    if evidence.since_change is not None:
        run = 0
        for pick in lying:
            if draft.weft[pick] != draft.weft[lying[0]]:
                break
            run += 1
        return run == evidence.since_change
    return True


def rows_that_tell(looks):
    """For each pick the fewest newest rows, with the beginning as a row of its own, that lie so nowhere else."""
    told = []
    for pick in range(len(looks)):
        mine = [*looks[: pick + 1][::-1], "beginning"]
        for rows in range(1, len(mine) + 1):
            alike = [
                other for other in range(len(looks)) if [*looks[: other + 1][::-1], "beginning"][:rows] == mine[:rows]
            ]
            if alike == [pick]:
                told.append(rows)
                break
    return told


BEGINNING = "beginning"


def places_with_journal(piece, cloth, next_pick, evidence):
    """Every pick that may lie newest where the journal has `cloth` (oldest first) and `next_pick` to come.

    Works on heaps: the newest few picks of a cloth, newest first, with the beginning of the cloth as the last thing in
    it. Every heap is made by weaving on from another one.
    """
    deep = max(len(evidence.rows), (evidence.since_change or 0) + 1) + 1
    listed = _woven_on(piece, {(BEGINNING,)}, 0, deep)
    every = set(listed)
    heaps = {(BEGINNING,)}
    for below, pick in zip([None, *cloth], cloth, strict=False):
        under = set(heaps)
        if below is not None and pick != below + 1:
            under |= {heap for heap in listed if heap[0] == pick - 1}
        heaps = {(pick, *heap)[:deep] for heap in under}
        every |= heaps
    every |= _woven_on(piece, heaps, next_pick, deep)
    return {heap[0] for heap in every if _fits(piece.draft, _picks_of(heap), evidence)}


def _woven_on(piece, heaps, pick, deep):
    """Every heap that comes of weaving `pick` onto these and then on as listed, laps of sections among it."""
    if pick >= piece.draft.picks:
        return set()
    found, fresh = set(), {(pick, *heap)[:deep] for heap in heaps}
    while fresh:
        found |= fresh
        fresh = {(after, *heap)[:deep] for heap in fresh for after in _after(piece, heap[0])} - found
    return found


def _after(piece, pick):
    start, after = 0, {pick + 1}
    for section in piece.draft.sections:
        if section.until_cm is not None and pick == start + section.picks - 1:
            after.add(start)
        start += section.picks
    return {pick for pick in after if pick < piece.draft.picks}


def _picks_of(heap):
    return [pick for pick in heap if pick != BEGINNING]


def sides_when_listed(piece, yarn, laps=3):
    """For each pick the set of sides on which this yarn's shuttle may lie when it is newest, nothing left out."""
    sides = [set() for _ in range(piece.draft.picks)]
    for cloth in every_cloth(piece, laps):
        side = piece.start_side.value
        for pick in cloth:
            if piece.draft.weft[pick] == yarn:
                side = "left" if side == "right" else "right"
            sides[pick].add(side)
    return sides
