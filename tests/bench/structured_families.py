"""Drafts as weavers treadle them, for the benchmarks: a family, a size, and the shed of every pick.

Each family is built by its rule as the trade tells it (from memory, common practice, no source); shafts count from 1. A
loom commonly has two treadles more than shafts (common practice, no source).
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product


@dataclass(frozen=True)
class Treadled:
    """One draft of a family: its shafts, the treadles of a common loom, and the raised shafts of every pick."""

    family: str
    shafts: int
    treadles: int
    picks: tuple[frozenset[int], ...]

    @property
    def sheds(self) -> list[frozenset[int]]:
        """The different sheds, in the order of their first picks."""
        return list(dict.fromkeys(self.picks))

    @property
    def size(self) -> str:
        """Shafts and sheds, in words."""
        return f"{self.shafts} shafts, {len(self.sheds)} sheds"


def _shifted(row, shafts, shift):
    return frozenset((shaft + shift) % shafts + 1 for shaft in row)


def _row(runs, shafts):
    """Return the shafts raised by runs of up, down, up, down, ... that are repeated until the shafts are used."""
    ups = [up for run, up in zip(runs, [True, False] * len(runs), strict=False) for _ in range(run)]
    return [shaft for shaft in range(shafts) if ups[shaft % len(ups)]]


def _tabby(shafts):
    return frozenset(range(1, shafts + 1, 2)), frozenset(range(2, shafts + 1, 2))


def _with_tabby(pattern, tabby):
    return [shed for n, shed in enumerate(pattern) for shed in (shed, tabby[n % 2])]


def _point(steps):
    return [*range(steps), *range(steps - 2, 0, -1)]


def overshot(shafts):
    """Each block raises two neighbouring shafts, with tabby between, treadled to the point and back."""
    blocks = [frozenset({b + 1, (b + 1) % shafts + 1}) for b in range(shafts)]
    runs = [block for b in _point(shafts) for block in [blocks[b]] * (2 + b % 3)]
    return _with_tabby(runs * 4, _tabby(shafts))


def crackle(shafts):
    """Blocks of point twill on the twill sheds, each block's pattern, ground, pattern, ground in turn."""
    twill = [frozenset({b + 1, (b + 1) % shafts + 1}) for b in range(shafts)]
    return [twill[(b + step) % shafts] for b in _point(shafts) for step in (0, 1, 0, shafts - 1)] * 6


def summer_and_winter(shafts):
    """Two tie shafts, one block a shaft: every block alone and its neighbour with it, tabby between."""
    blocks = range(3, shafts + 1)
    designs = [{b} for b in blocks] + [{b, c} for b, c in zip(blocks, [*blocks][1:], strict=False)]
    pattern = [frozenset({tie, *design}) for design in designs for tie in (1, 2, 2, 1)]
    return _with_tabby(pattern * 2, (frozenset({1, 2}), frozenset(blocks)))


def spot_lace(shafts):
    """Shaft 1 against the rest as tabby; a block's lace leaves that block's shaft down in every second rest."""
    rest = frozenset(range(2, shafts + 1))
    designs = [{b} for b in rest - {2}] + [{b, b + 1} for b in range(3, shafts)]
    one = frozenset({1})
    return [shed for design in designs for shed in (one, rest - design, one, rest - design, one, rest)] * 3


def turned_twill(shafts):
    """Blocks of four shafts, each woven 1/3 or 3/1: all combinations of blocks."""
    blocks = shafts // 4
    made = []
    for faces in product((False, True), repeat=blocks):
        for step in range(4):
            shed = set()
            for block, face in enumerate(faces):
                single = {4 * block + step + 1}
                shed |= ({4 * block + s + 1 for s in range(4)} - single) if face else single
            made.append(frozenset(shed))
    return made * 3


def shadow(shafts):
    """A twill of half up and half down, every shed followed by its opposite, treadled to the point and back."""
    every = frozenset(range(1, shafts + 1))
    twill = [_shifted(range(shafts // 2), shafts, step) for step in range(shafts)]
    return [shed for step in _point(shafts) for shed in (twill[step], every - twill[step])] * 4


def double_weave(shafts):
    """Two plain layers a block of four shafts, changed over in every combination of blocks."""
    made = []
    for faces in product((False, True), repeat=shafts // 4):
        for pick in range(4):
            shed = set()
            for block, turned in enumerate(faces):
                upper, lower = ({1, 3}, {2, 4}) if not turned else ({2, 4}, {1, 3})
                layer = sorted(upper if pick % 2 == 0 else lower)[pick // 2]
                raised = {layer} | (set() if pick % 2 == 0 else upper)
                shed |= {4 * block + shaft for shaft in raised}
            made.append(frozenset(shed))
    return made * 4


def twill(runs, order):
    """Return a family: a twill of these runs on any shafts, treadled straight, to the point, or advancing."""

    def treadled(shafts):
        steps = {
            "straight": [*range(shafts)] * 6,
            "point": _point(shafts) * 4,
            "advancing": [first + step for first in range(0, 3 * shafts, 2) for step in range(5)],
        }[order]
        return [_shifted(_row(runs, shafts), shafts, step % shafts) for step in steps]

    return treadled


def twill_with_tabby(shafts):
    """A 2/2/1/1-like twill with its tabby at every second pick."""
    return _with_tabby(twill((2, 2, 1, 1), "point")(shafts) * 2, _tabby(shafts))


def twill_both_ways(shafts):
    """A 3/2/1/1/2/3 twill to the right, then to the left: twice as many sheds as shafts."""
    right = [_shifted(_row((3, 2, 1, 1, 2, 3), shafts), shafts, step) for step in range(shafts)]
    left = [frozenset(shafts + 1 - shaft for shaft in shed) for shed in right]
    return (right * 2 + left * 2) * 2


def echo(shafts):
    """Two twills pick about, each shifted against the other."""
    first, second = _row((3, 1, 2, 2), shafts), _row((1, 3, 2, 2), shafts)
    steps = _point(shafts) * 3
    return [shed for s in steps for shed in (_shifted(first, shafts, s), _shifted(second, shafts, s + shafts // 2))]


def network(shafts):
    """Two regular twills cut along a curve that climbs and falls: the shafts below it weave one, the rest the other."""
    one, other = _row((3, 2, 1, 2), shafts), _row((1, 2, 2, 3), shafts)
    made = []
    for pick in range(88):
        height = round(shafts / 4 * (1 + abs(pick % 44 - 22) / 22) / 2) * 4
        below, above = _shifted(one, shafts, pick % 8), _shifted(other, shafts, pick % 8)
        made.append(frozenset(s for s in range(1, shafts + 1) if s in (below if s <= height else above)))
    return made * 3


def random_lifts(shafts):
    """Sixteen sheds at random, 300 picks at random: what no weaver treadles by heart."""
    rng = random.Random(shafts)
    sheds: set[frozenset[int]] = set()
    while len(sheds) < min(16, 2**shafts - 2):
        sheds.add(frozenset(s for s in range(1, shafts + 1) if rng.random() < 0.5) or frozenset({1}))
    in_order = sorted(sheds, key=sorted)
    return [rng.choice(in_order) for _ in range(300)]


FAMILIES = {
    "overshot": (overshot, (4, 6, 8)),
    "crackle": (crackle, (4, 6, 8)),
    "summer and winter": (summer_and_winter, (4, 6, 8, 12)),
    "spot lace": (spot_lace, (4, 6, 8, 12)),
    "turned twill blocks": (turned_twill, (8, 12, 16)),
    "shadow weave": (shadow, (4, 6, 8, 12, 16)),
    "double weave": (double_weave, (4, 8, 12)),
    "point twill 2/2": (twill((2, 2), "point"), (4, 8, 12, 16, 24)),
    "straight twill 3/2/1/2": (twill((3, 2, 1, 2), "straight"), (8, 16, 24)),
    "advancing twill 3/2/1/1/2/3": (twill((3, 2, 1, 1, 2, 3), "advancing"), (8, 12, 16, 24)),
    "twill with tabby": (twill_with_tabby, (4, 8, 12, 16, 24)),
    "twill both ways": (twill_both_ways, (8, 12, 16)),
    "echo": (echo, (8, 12, 16)),
    "network": (network, (8, 12, 16, 24)),
    "random lifts": (random_lifts, (8,)),
}


def treadled_drafts() -> Iterator[Treadled]:
    """Yield every family at each of its sizes, small sizes first; picks that raise nothing are left out."""
    for family, (treadled, sizes) in FAMILIES.items():
        for shafts in sizes:
            picks = tuple(shed for shed in treadled(shafts) if shed)
            yield Treadled(family, shafts, shafts + 2, picks)
