"""The weave whose sett suits a draft: every draft that ships, by its name, and weaves as a handbook defines them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from companion.draft.masks import shed_of
from companion.draft.model import Lifted
from companion.draft.reading import read_draft
from companion.weaving.planning import Weave
from companion.weaving.suited_weave import layers_in, suited_weave
from tests.draft.structures import NAMES, draft_in
from tests.weaving.world import lever_draft

SETT_OF = {
    "colour-and-weave": Weave.TWILL,
    "crackle": Weave.PLAIN,
    "deflected-double-weave": Weave.TWILL,
    "demo-double-faced": Weave.TWILL,
    "diversified-plain-weave": Weave.PLAIN,
    "double-faced-twill": Weave.TWILL,
    "double-weave": Weave.PLAIN,
    "eight-by-eight-gamp": Weave.TWILL,
    "honeycomb": Weave.TWILL,
    "overshot": Weave.PLAIN,
    "shadow-weave": Weave.PLAIN,
    "spider-texture": Weave.LACE,
    "stiff-weft": Weave.PLAIN,
    "summer-and-winter": Weave.PLAIN,
    "twill-gamp": Weave.TWILL,
    "waffle": Weave.TWILL,
}
"""By the name of the structure (common practice, no source): tabby grounds are set as plain weave, floats closer."""


@pytest.mark.parametrize("name", NAMES)
def test_every_draft_that_ships_gets_the_sett_of_its_structure(name):
    structure = max((each for each in SETT_OF if name.startswith(each)), key=len)
    assert suited_weave(draft_in(name)) is SETT_OF[structure]
    assert layers_in(draft_in(name)) == (2 if structure == "double-weave" else 1)


@pytest.mark.parametrize(
    ("threading", "sheds", "treadling", "weave"),
    [
        ("(1 2)x20", "1, 2", "(1 2)x20", Weave.PLAIN),
        ("(1 2 3 4)x10", "1 2, 2 3, 3 4, 1 4", "(1 2 3 4)x10", Weave.TWILL),
        ("(1 2 3 4)x10", "1, 2, 3, 4", "(1 2 3 4)x10", Weave.TWILL),
        ("(1 2 3)x13", "1, 2, 3", "(1 2 3)x13", Weave.TWILL),
        ("(1 2 3 4 3 2)x6", "1 2, 2 3, 3 4, 1 4", "(1 2 3 4 3 2)x6", Weave.TWILL),
        ("(1 3 1 3 1 2)x10", "1, 2 3, 2", "(1 3 1 3 1 2)x10", Weave.LACE),
    ],
    ids=["plain weave", "2/2 twill", "1/3 twill", "2/1 twill", "point twill", "lace in units of six"],
)
def test_weaves_as_handbooks_draw_them(threading, sheds, treadling, weave):
    """Twills are Ashenhurst's own second case; the lace has plain weave between floats over five (from memory)."""
    text = f"shafts: 4\nyarn: red\nwarp: red\nthreading: {threading}\ntie-up: {sheds}\ntreadling: red {treadling}\n"
    assert suited_weave(read_draft(text.encode())) is weave


def test_a_draft_without_a_pick_leaves_plain_weave():
    assert suited_weave(lever_draft([])) is Weave.PLAIN


def lifted(threading, sheds):
    """A draft of these ends (shafts from 1) and picks (the shafts that rise)."""
    drafted = lever_draft([], ends=len(threading))
    return replace(
        drafted,
        shafts=max(*threading, *(shaft for up in sheds for shaft in up)),
        threading=tuple(shaft - 1 for shaft in threading),
        lifting=Lifted(tuple(map(shed_of, sheds))),
        weft=(0,) * len(sheds),
    )


def layered(layers, weave):
    """So many cloths one above the other, their ends and picks by turns; each weaves `weave`, shafts up pick by pick.

    While a pick of one layer is thrown, the ends of all layers above it are up, and those below it are down: how a
    multiple cloth is woven (common practice, no source).
    """
    of_layer = len(weave)
    shafts = [[layer * of_layer + shaft + 1 for shaft in range(of_layer)] for layer in range(layers)]
    threading = [shafts[layer][end % of_layer] for end in range(12) for layer in range(layers)]
    sheds = [
        [
            *(shaft for above in shafts[:layer] for shaft in above),
            *(shafts[layer][up - 1] for up in weave[pick % len(weave)]),
        ]
        for pick in range(12)
        for layer in range(layers)
    ]
    return lifted(threading, sheds)


PLAIN, TWILL = [[1], [2]], [[1, 2], [2, 3], [3, 4], [1, 4]]


@pytest.mark.parametrize(
    ("layers", "weave", "suited"),
    [(1, PLAIN, Weave.PLAIN), (2, PLAIN, Weave.PLAIN), (3, PLAIN, Weave.PLAIN), (2, TWILL, Weave.TWILL)],
)
def test_cloths_one_above_the_other_are_counted_and_each_has_its_own_weave(layers, weave, suited):
    draft = layered(layers, weave)
    assert (layers_in(draft), suited_weave(draft)) == (layers, suited)


@pytest.mark.parametrize("size", [8, 12, 20, 48])
def test_layers_that_change_places_every_so_many_threads_are_two_all_the_same(size):
    """Two cloths on shafts 1 3 and 2 4, on 5 7 and 6 8 in the next block, above and below by turns."""
    threading = [shaft + 4 * (block % 2) for block in range(4) for shaft in (1, 2, 3, 4) * (size // 4)]

    def shed(pick, odd_above):
        up = []
        for block in (0, 1):
            above, below = ((1, 3), (2, 4)) if odd_above is (block == 0) else ((2, 4), (1, 3))
            cloth = above if pick % 2 == 0 else below
            up += [shaft + 4 * block for shaft in (*(above if cloth is below else ()), cloth[pick // 2 % 2])]
        return up

    sheds = [shed(pick, section % 2 == 0) for section in range(4) for pick in range(size)]
    draft = lifted(threading, sheds)
    assert (layers_in(draft), suited_weave(draft)) == (2, Weave.PLAIN)


@settings(max_examples=40)
@example(3, 3, TWILL)
@given(st.integers(3, 30), st.integers(3, 30), st.sampled_from([PLAIN, TWILL, [[1], [2], [3]]]))
def test_one_cloth_of_any_size_is_one_layer(ends, picks, weave):
    threading = [end % len(weave) + 1 for end in range(ends)]
    assert layers_in(lifted(threading, [weave[pick % len(weave)] for pick in range(picks)])) == 1
