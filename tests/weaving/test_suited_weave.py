"""The weave whose sett suits a draft: every draft that ships, by its name, and weaves as a handbook defines them."""

from __future__ import annotations

import pytest

from companion.draft.reading import read_draft
from companion.weaving.planning import Weave
from companion.weaving.suited_weave import suited_weave
from tests.draft.structures import NAMES, draft_in
from tests.weaving.world import lever_draft

SETT_OF = {
    "colour-and-weave": Weave.TWILL,
    "crackle": Weave.PLAIN,
    "deflected-double-weave": Weave.TWILL,
    "demo-double-faced": Weave.TWILL,
    "diversified-plain-weave": Weave.PLAIN,
    "double-faced-twill": Weave.TWILL,
    "double-weave": Weave.TWILL,
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
