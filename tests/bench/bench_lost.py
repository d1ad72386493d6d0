"""Touches from "No" to weaving for a weaver who has lost the place: `python -m tests.bench.bench_lost [PLACES]`.

All drafts in assets, at random places: once a few picks off, as places are lost, once anywhere in the piece. She
answers truly whatever can be seen; what is offered to her in no answer she is not sure of. Peer in the same run: the
question that leaves the fewest places, whatever it costs, without sections and repeats, as it was asked before.
"""

from __future__ import annotations

import random
import statistics
import sys
import time
from pathlib import Path

import numpy as np

from companion import read_draft
from companion.present.cloth_end import BACK, FURTHER
from companion.present.find import FEW_ENOUGH, MOST_POINTED_AT, SHOWN_BEFORE_ASKING
from companion.weaving.finder import Evidence, SeenRow, positions
from companion.weaving.narrowing import clues_of, easiest_question
from companion.weaving.pick_table import pick_table
from companion.weaving.questions import MOST_COUNTED, Ask, best_question
from companion.weaving.runs import NO_CLOTH
from companion.weaving.sides import AT_START, UNKNOWN, sides_at, speak_against
from companion.weaving.state import Shuttle, State
from companion.weaving.warp import Piece

DRAFTS = Path(__file__).parents[2] / "assets" / "drafts"
MOST_TOUCHES = 40


def standing(piece, woven):
    """How things stand with so many picks in the cloth, in order."""
    cloth = NO_CLOTH
    for pick in range(woven):
        cloth = cloth.woven(pick)
    return State(next_pick=woven, cloth=cloth, shuttles=(Shuttle(),) * len(piece.draft.yarns))


def seen(evidence, row, more):
    rows = [*evidence.rows, *[SeenRow()] * (row + 1 - len(evidence.rows))]
    rows[row] = SeenRow(more.yarns or rows[row].yarns, rows[row].up + more.up, rows[row].down + more.down)
    return Evidence(tuple(rows), evidence.since_change, evidence.treadle, evidence.sides)


def touches(piece, table, clues, truth, before):
    """Return how many touches find the pick `truth` (index) by questions; `before`: by those of the peer."""
    evidence, unsure, count = Evidence(), set(), 1
    among = np.ones(table.places, dtype=np.bool_)
    while count < MOST_TOUCHES:
        found = positions(table, evidence)
        found = found[among[found]]
        likely = found[~speak_against(table, evidence.sides, found)]
        if before:
            question = best_question(table, likely, known=evidence, unsure=unsure)
        else:
            question = easiest_question(table, clues, likely, known=evidence, unsure=unsure)
        if question is None or len(likely) <= (SHOWN_BEFORE_ASKING if before else FEW_ENOUGH):
            shown_before = table.pick[found].tolist().index(truth)
            return count + (shown_before if before else shown_before // SHOWN_BEFORE_ASKING) + 1
        count += 1
        below = truth - question.row
        if question.ask is Ask.SECTION:
            among &= clues.section == clues.section[truth]
        elif question.ask is Ask.REPEAT:
            count += len(str(clues.repeat[truth] + 1)) if len(np.unique(clues.repeat[found])) > MOST_POINTED_AT else 0
            among &= clues.repeat == clues.repeat[truth]
        elif question.ask is Ask.SIDE and int(sides_at(table, question.yarn, np.array([truth]))[0]) != UNKNOWN:
            start = table.starts[question.yarn]
            lies = start if int(sides_at(table, question.yarn, np.array([truth]))[0]) == AT_START else start.opposite
            evidence = Evidence(evidence.rows, evidence.since_change, None, (*evidence.sides, (question.yarn, lies)))
        elif question.ask is Ask.SINCE_CHANGE and table.since_change[truth] <= MOST_COUNTED:
            evidence = Evidence(evidence.rows, int(table.since_change[truth]), None, evidence.sides)
        elif question.ask is Ask.WEFT and below >= 0:
            evidence = seen(evidence, question.row, SeenRow(frozenset({piece.draft.weft[below]})))
        elif question.ask is Ask.END and below >= 0:
            up = bool(table.raised[table.shed_code[below], question.end])
            ends = (question.end,)
            evidence = seen(evidence, question.row, SeenRow(up=ends) if up else SeenRow(down=ends))
        else:
            unsure.add(question.about)
    return MOST_TOUCHES


def main() -> None:
    """Print the median and the 90th percentile of touches, before and after, and how long one question takes."""
    places = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000
    chance = random.Random(13)
    pieces = [Piece(path.stem, read_draft(path.read_bytes())) for path in sorted(DRAFTS.glob("*")) if path.is_file()]
    pieces = [piece for piece in pieces if piece.picks > 12]
    tables = [pick_table(piece) for piece in pieces]
    clues = [clues_of(piece, table) for piece, table in zip(pieces, tables, strict=True)]
    for name in ("a few picks off", "anywhere"):
        told = {True: [], False: []}
        spent = {True: 0.0, False: 0.0}
        for _ in range(places):
            which = chance.randrange(len(pieces))
            piece = pieces[which]
            journal = chance.randrange(5, piece.picks)
            off = round(chance.gauss(0, 3)) or chance.choice((-1, 1))
            truth = min(max(journal + off, 0), piece.picks - 1) if name != "anywhere" else chance.randrange(piece.picks)
            for before in (True, False):
                if truth - journal in FURTHER or journal - truth in BACK:
                    told[before].append(1)
                    continue
                began_s = time.perf_counter()
                table = pick_table(piece, standing(piece, journal + 1))
                told[before].append(touches(piece, table, clues[which], truth, before))
                spent[before] += time.perf_counter() - began_s
        for before, said in ((True, "before"), (False, "after")):
            counts = sorted(told[before])
            ninth = counts[int(0.9 * len(counts))]
            share = sum(count <= 5 for count in counts) / len(counts)
            print(
                f"{name}, {said}: median {statistics.median(counts):g}, mean {statistics.mean(counts):.1f}, "
                f"90 % within {ninth}, within 5: {share:.0%}"
            )
        print(f"{name}: peer/ours in touches {sum(told[True]) / sum(told[False]):.2f}")


if __name__ == "__main__":
    main()
