"""Touches from "No" to weaving for a weaver who has lost the place: `python -m tests.bench.bench_lost [PLACES]`.

All drafts in assets, at random places, through the real pages of the find flow. The weaver, what she can see, how she
errs and what a touch is stand in `tests.present.lost_weaver`. She touches the pad where it says how far off she is:
that is seen beside the picture.

"Anywhere" is what the goal is about: her place and the journal's are drawn evenly over the piece. The others tell of
likelier slips: some 2 picks (a press forgotten or one too many) or some 20 (woven on or taken out while the program
stood elsewhere), either way and falling off as such lapses do, and a mix of 60 %, 25 % and 15 % anywhere (our own
choice, no source). Peer in the same run: "See rows", then the question that leaves the fewest places, whatever it
costs, without pictures of rows, of the piece, sections or repeats, as it was asked before.

A mistaken place is one that looks like hers in the rows that she compares, in the same section and repeat. In the end
the drafts are named whose median is above the goal of three touches, with the bits that a place in them is worth.
"""

from __future__ import annotations

import math
import random
import statistics
import sys
import time
from pathlib import Path

from companion import read_draft
from companion.draft.facing import FROM_LEFT
from companion.draft.units import Units
from companion.present.find import ask_place
from companion.remap.loom.loom import Action, Loom
from companion.weaving.finder import Evidence, SeenRow, positions
from companion.weaving.pick_table import pick_table
from companion.weaving.progress import Progress, begin
from companion.weaving.questions import MOST_COUNTED, Ask, best_question
from companion.weaving.runs import NO_CLOTH
from companion.weaving.warp import LoomProfile, Piece, Warp
from tests.present.lost_weaver import AT_ONCE, PAD, LostWeaver

DRAFTS = Path(__file__).parents[2] / "assets" / "drafts"
FEWEST_PICKS = 13
SHOWN_AT_ONCE = 3
MOST_TOUCHES = 40
GOAL = 3
HOW_FAR_OFF = ((0.60, 2.0), (0.25, 20.0))


def standing(warp, woven):
    """How things stand with so many picks in the cloth, in order."""
    cloth = NO_CLOTH
    for pick in range(woven):
        cloth = cloth.woven(pick)
    return Progress(begin(warp).now._replace(next_pick=woven, cloth=cloth))


def told_on_the_pad(further):
    """How many touches the pad beside the picture takes; None where it does not reach so far."""
    return None if abs(further) not in PAD else 1 if abs(further) in AT_ONCE else 2


def touches_before(piece, now, truth):
    """Return how many touches find the pick `truth` (index) by the questions of the peer."""
    table = pick_table(piece, now)
    evidence, unsure, count = Evidence(), set(), 1
    while count < MOST_TOUCHES:
        found = positions(table, evidence)
        question = best_question(table, found, known=evidence, unsure=unsure)
        if question is None or len(found) <= SHOWN_AT_ONCE:
            return count + table.pick[found].tolist().index(truth) + 1
        count += 1
        below = truth - question.row
        if question.ask is Ask.SINCE_CHANGE and table.since_change[truth] <= MOST_COUNTED:
            evidence = Evidence(evidence.rows, int(table.since_change[truth]))
        elif question.ask in (Ask.WEFT, Ask.END) and below >= 0:
            rows = [*evidence.rows, *[SeenRow()] * (question.row + 1 - len(evidence.rows))]
            seen, end = rows[question.row], (question.end or 0,)
            if question.ask is Ask.WEFT:
                rows[question.row] = SeenRow(frozenset({piece.draft.weft[below]}), seen.up, seen.down)
            elif table.raised[table.shed_code[below], question.end]:
                rows[question.row] = SeenRow(seen.yarns, seen.up + end, seen.down)
            else:
                rows[question.row] = SeenRow(seen.yarns, seen.up, seen.down + end)
            evidence = Evidence(tuple(rows), evidence.since_change)
        else:
            unsure.add(question.about)
    return MOST_TOUCHES


def how_far_off(chance, part):
    """Return picks further (or back, below 0) than the journal's place; None for anywhere."""
    shares = [share for share, _ in HOW_FAR_OFF] + [1 - sum(share for share, _ in HOW_FAR_OFF)]
    if part is None:
        (part,) = chance.choices(range(len(shares)), shares)
    if part == len(HOW_FAR_OFF):
        return None
    picks = 0
    while picks == 0:
        picks = round(chance.choice((-1, 1)) * chance.expovariate(1 / HOW_FAR_OFF[part][1]))
    return picks


def told(name, counts, seconds):
    counts = sorted(counts)
    ninth = counts[int(0.9 * len(counts))]
    share = sum(count <= 5 for count in counts) / len(counts)
    print(
        f"  {name}: median {statistics.median(counts):g}, mean {statistics.mean(counts):.1f}, 90 % within {ninth}, "
        f"within 5: {share:.0%}; {1000 * seconds / len(counts):.0f} ms each"
    )


def main() -> None:
    """Print the median and the 90th percentile of touches, before and after, for the mix and for each of its parts."""
    places = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000
    profile = LoomProfile("levers", Loom(shafts=16, treadles=0, action=Action.LEVERS))
    warps = []
    for path in sorted(DRAFTS.glob("*")):
        draft = read_draft(path.read_bytes()) if path.is_file() else None
        if draft is not None and draft.picks >= FEWEST_PICKS:
            warps.append(Warp(path.stem, profile, (Piece(path.stem, draft),)))
    parts = {"the mix": None, "some 2 picks off": 0, "some 20 picks off": 1, "anywhere": 2}
    of_draft: dict[Warp, list[int]] = {}
    for name, part in parts.items():
        chance = random.Random(13)
        mistaken = 0
        counts = {"before": [], "after": []}
        spent = dict.fromkeys(counts, 0.0)
        for _ in range(places):
            warp = chance.choice(warps)
            piece = warp.pieces[0]
            journal = chance.randrange(piece.picks)
            off = how_far_off(chance, part)
            truth = chance.randrange(piece.picks) if off is None else min(max(journal + off, 0), piece.picks - 1)
            progress = standing(warp, journal + 1)
            for when in counts:
                began_s = time.perf_counter()
                if when == "before":
                    count = told_on_the_pad(truth - journal) or touches_before(piece, progress.now, truth)
                else:
                    weaver = LostWeaver(warp, truth, truth - journal, chance=random.Random(truth))
                    weaver.find(ask_place(warp, progress, FROM_LEFT, Units.METRIC))
                    count = weaver.touches
                    mistaken += weaver.mistaken
                    if name == "anywhere":
                        of_draft.setdefault(warp, []).append(count)
                spent[when] += time.perf_counter() - began_s
                counts[when].append(count)
        print(f"{name}: peer/ours in touches {sum(counts['before']) / sum(counts['after']):.2f}")
        for when in counts:
            told(when, counts[when], spent[when])
        print(f"  mistaken: {mistaken / places:.1%}")
    for warp, touches in of_draft.items():
        if statistics.median(touches) > GOAL:
            bits = math.log2(warp.pieces[0].picks)
            print(f"above the goal: {warp.name}, median {statistics.median(touches):g}, {bits:.1f} bits")


if __name__ == "__main__":
    main()
