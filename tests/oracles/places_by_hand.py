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
