"""Double and deflected double weave are the cloths that their names promise.

Sources stand at each check; C means worked out from the definition.
"""

from __future__ import annotations

import numpy as np
import pytest

from companion.draft.masks import shafts_of
from tests.draft.structures import cloth_of, draft_in, floats, is_plain_weave, layers


def test_plain_double_cloth_falls_into_two_cloths_with_floats_of_three():
    """C. P. Brooks, Cotton Manufacturing (1888), p. 69: lifts 1, 1 2 4, 2, 1 2 3; float 3 (C)."""
    draft = draft_in("double-weave-four-shaft.txt")
    assert [shafts_of(shed) for shed in draft.sheds()[:4]] == [(1,), (1, 2, 4), (2,), (1, 2, 3)]
    cloth = cloth_of("double-weave-four-shaft.txt")
    for section in draft.sections:
        assert layers(cloth[section.name]) == 2
        assert floats(cloth[section.name]) == (3, 3)
    # Exchanging the cloths closes the channels along their length: the whole piece hangs together.
    assert layers(cloth[""]) == 1


def test_each_cloth_of_a_double_weave_is_plain_weave_through_the_exchange():
    for name in ("double-weave-four-shaft.txt", "double-weave-eight-shaft.txt"):
        draft, cloth = draft_in(name), cloth_of(name)[""]
        for yarn in range(2):
            picks = [pick for pick, weft in enumerate(draft.weft) if weft == yarn]
            ends = [end for end, warp in enumerate(draft.warp) if warp == yarn]
            assert is_plain_weave(cloth[np.ix_(picks, ends)])


def test_block_double_weave_is_two_cloths_in_each_block_and_one_piece_as_a_whole():
    cloth = cloth_of("double-weave-eight-shaft.txt")
    for section in draft_in("double-weave-eight-shaft.txt").sections:
        for ends in (slice(0, 24), slice(24, 48)):
            assert layers(cloth[section.name][:, ends]) == 2
    assert layers(cloth[""]) == 1


@pytest.mark.parametrize("shafts", ["four", "eight"])
def test_deflected_double_weave_interlaces_each_yarn_only_with_itself(shafts):
    """Where the yarns cross, whole groups of four pass over or under; the whole hangs together (from memory, C)."""
    name = f"deflected-double-weave-{shafts}-shaft.txt"
    draft, cloth = draft_in(name), cloth_of(name)[""]
    for pick in range(0, draft.picks, 4):
        for end in range(0, draft.ends, 4):
            block = cloth[pick : pick + 4, end : end + 4]
            if draft.weft[pick] == draft.warp[end]:
                assert is_plain_weave(block)
            else:
                assert block.min() == block.max()
    assert layers(cloth) == 1
    # Sleyed unevenly: an empty dent before the wool, which lies single, and the silk crowded.
    assert draft.sley.dents == (0, 1, 1, 1, 1, 2, 2) * 8
    assert draft.sley.ends == draft.ends
