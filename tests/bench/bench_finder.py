"""The place-finder over long treadlings: CPU time per question, growth with length, ratio against plain Python lists.

Run: python -m tests.bench.bench_finder
"""

from __future__ import annotations

import random
import statistics
import time
from dataclasses import replace

from companion.draft.facing import Side
from companion.draft.model import Draft, Lifted
from companion.weaving.finder import Evidence, SeenRow, positions, rows_to_be_sure
from companion.weaving.pick_table import pick_table
from companion.weaving.questions import best_question
from companion.weaving.runs import NO_CLOTH
from companion.weaving.state import State
from companion.weaving.uniqueness import rows_that_tell
from companion.weaving.warp import Piece
from tests.oracles import places_by_hand
from tests.weaving.world import TWILL, YARNS

SIZES = (1_000, 10_000, 100_000)
PEER_SIZE = 10_000


def piece_of(picks, chance):
    """A treadling of short repeated phrases with two wefts, as pattern weaves have them."""
    phrases = [[(chance.randrange(4), chance.randrange(2)) for _ in range(chance.randint(3, 9))] for _ in range(12)]
    listed = []
    while len(listed) < picks:
        listed += chance.choice(phrases) * chance.randint(1, 5)
    listed = listed[:picks]
    draft = Draft(
        shafts=4,
        threading=tuple(end % 4 for end in range(400)),
        lifting=Lifted(tuple(TWILL[shed] for shed, _ in listed)),
        yarns=YARNS,
        warp=(0,) * 400,
        weft=tuple(weft for _, weft in listed),
    )
    return Piece("bench", draft)


def questions_of(piece, chance, number=21):
    """Six true rows each, seen at random places: weft of all, three ends of half of them."""
    for _ in range(number):
        newest = chance.randrange(6, piece.picks)
        rows = []
        for age in range(6):
            up = places_by_hand.shafts_up(piece.draft, newest - age)
            ends = chance.sample(range(400), 3) if age % 2 else []
            rows.append(
                SeenRow(
                    frozenset({piece.draft.weft[newest - age]}),
                    tuple(end for end in ends if end % 4 in up),
                    tuple(end for end in ends if end % 4 not in up),
                )
            )
        yield newest, Evidence(tuple(rows))


def with_jumps(piece, chance):
    """The state of a journal that has the whole treadling woven with a jump every 200 picks or so."""
    cloth, pick = NO_CLOTH, 0
    while cloth.picks < piece.picks:
        for woven in range(pick, min(pick + chance.randint(100, 300), piece.picks)):
            cloth = cloth.woven(woven)
        pick = chance.randrange(piece.picks)
    return State(next_pick=pick, cloth=cloth)


def milliseconds(work):
    start = time.process_time()
    result = work()
    return (time.process_time() - start) * 1000, result


def main():
    chance = random.Random(5)
    print(f"{'picks':>8} {'table ms':>9} {'find ms':>9} {'worst':>7} {'ask ms':>8} {'worst':>7} {'tell all ms':>12}")
    for picks in SIZES:
        piece = piece_of(picks, chance)
        table_ms, table = milliseconds(lambda piece=piece: pick_table(piece))
        find, ask = [], []
        for newest, evidence in questions_of(piece, chance):
            taken, found = milliseconds(lambda table=table, e=evidence, n=newest: positions(table, e, near=n))
            assert found[0] == newest
            find.append(taken)
            ask.append(milliseconds(lambda t=table, f=found: (best_question(t, f), rows_to_be_sure(t, f)))[0])
        tell_ms, _ = milliseconds(lambda table=table: rows_that_tell(table.look))
        print(
            f"{picks:>8} {table_ms:>9.2f} {statistics.median(find):>9.2f} {max(find):>7.2f} "
            f"{statistics.median(ask):>8.2f} {max(ask):>7.2f} {tell_ms:>12.1f}"
        )
        everything = positions(table, Evidence())
        print(
            f"{'':>8} nothing known, {len(everything)} left: best question "
            f"{milliseconds(lambda t=table, f=everything: best_question(t, f))[0]:.2f} ms"
        )
        jumps = pick_table(piece, with_jumps(piece, chance))
        spent = []
        for _, rows in questions_of(piece, chance):
            evidence = replace(rows, sides=((0, Side.LEFT), (1, Side.RIGHT)))
            spent.append(milliseconds(lambda t=jumps, e=evidence: positions(t, e))[0])
        print(
            f"{'':>8} journal with jumps and two sides told, {jumps.places} places: "
            f"find {statistics.median(spent):.2f} ms, worst {max(spent):.2f}"
        )
        if picks == PEER_SIZE:
            newest, evidence = next(iter(questions_of(piece, chance)))
            slow_ms, slow = milliseconds(lambda piece=piece, e=evidence: places_by_hand.places(piece, e))
            fast_ms, fast = milliseconds(lambda table=table, e=evidence: positions(table, e))
            assert slow == set(fast.tolist())
            print(f"{'':>8} plain lists {slow_ms:.0f} ms, ours {fast_ms:.2f} ms: ratio {slow_ms / fast_ms:.0f}")


if __name__ == "__main__":
    main()
