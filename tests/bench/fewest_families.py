"""Families of sheds as weavers meet them, for the benchmark of the fewest treadles; deterministic by seed."""

from __future__ import annotations

import random

from tests.bench.structured_families import treadled_drafts


def double_faced(shafts, rng):
    """Every shaft alone and every shaft alone left out: the sheds of a double-faced twill."""
    every = set(range(1, shafts + 1))
    return [{shaft} for shaft in every] + [every - {shaft} for shaft in every]


def tie_and_block(shafts, sheds, rng):
    """A unit weave: one of two tie shafts with one of several sets of block shafts."""
    blocks = set()
    while len(blocks) < (sheds + 1) // 2:
        blocks.add(frozenset(x for x in range(3, shafts + 1) if rng.random() < 0.5))
    both = [{tie, *block} for block in sorted(blocks, key=sorted) for tie in (1, 2)]
    return both[:sheds]


def straight_twill(shafts, rng):
    """One random row of ups and downs and all its shifts."""
    row = {0} | {x for x in range(1, shafts - 1) if rng.random() < 0.5}
    return [{(x + shift) % shafts + 1 for x in row} for shift in range(shafts)]


def plain_twill(shafts, rng):
    """Half up, half down, shifted by one each pick."""
    return [{(x + shift) % shafts + 1 for x in range(shafts // 2)} for shift in range(shafts)]


def hidden_columns(shafts, sheds, reach, rng):
    """Sheds made from a hidden tie-up, so that far fewer treadles than sheds do."""
    hidden = 2
    while hidden + hidden * (hidden - 1) // 2 < sheds * 1.4:
        hidden += 1
    columns = [{x for x in range(1, shafts + 1) if rng.random() < 0.3} or {1} for _ in range(hidden)]
    made = set()
    for _ in range(50 * sheds):
        shed = set()
        for _foot in range(2):
            first = rng.randrange(hidden)
            shed |= columns[first]
            if reach == 2 and rng.random() < 0.5 and first + 1 < hidden:
                shed |= columns[first + 1]
        made.add(frozenset(shed))
        if len(made) == sheds:
            break
    return sorted(map(set, made), key=sorted)


def random_sheds(shafts, sheds, rng):
    """Sheds at random, half the shafts up."""
    made = set()
    while len(made) < sheds:
        shed = frozenset(x for x in range(1, shafts + 1) if rng.random() < 0.5)
        if 0 < len(shed) < shafts:
            made.add(shed)
    return sorted(map(set, made), key=sorted)


def families(reach):
    """Yield (family, size in words, shafts, sheds), small sizes first."""
    rng = random.Random(20)
    for shafts in (4, 5, 6, 8, 10, 12, 14, 16):
        yield "double-faced", f"{shafts}x{2 * shafts}", shafts, double_faced(shafts, rng)
    for shafts in (8, 10, 12, 16):
        for sheds in (8, 12, 16, 20, 24):
            yield "tie x block", f"{shafts}x{sheds}", shafts, tie_and_block(shafts, sheds, rng)
    for shafts in (8, 10, 12, 16, 20, 24):
        yield "straight twill", f"{shafts} half", shafts, plain_twill(shafts, rng)
        yield "straight twill", f"{shafts} mixed", shafts, straight_twill(shafts, rng)
    for shafts in (8, 12, 16, 24):
        for sheds in (10, 20, 30, 45, 60):
            yield "hidden columns", f"{shafts}x{sheds}", shafts, hidden_columns(shafts, sheds, reach, rng)
    for shafts in (4, 6, 8, 12, 16):
        for sheds in (8, 12, 16, 20, 24):
            if sheds <= 2**shafts - 2:
                yield "random sheds", f"{shafts}x{sheds}", shafts, random_sheds(shafts, sheds, rng)
    for draft in treadled_drafts():
        yield draft.family, draft.size, draft.shafts, [set(shed) for shed in draft.sheds]
