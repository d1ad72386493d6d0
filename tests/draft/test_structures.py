"""The drafts that come along: all of them are read and weave soundly, and the double-faced twills.

Sources stand at each check; C means worked out from the definition.
"""

from __future__ import annotations

import re
from itertools import combinations, pairwise

import pytest

from companion.draft.cloth import Surface
from companion.draft.masks import shafts_of, shed_of
from companion.draft.reading import read_with_deviations
from companion.draft.wif_write import write_wif
from tests.draft.structures import FOLDER, NAMES, cloth_of, colours, draft_in, floats, layers


@pytest.mark.parametrize("name", NAMES)
def test_each_draft_is_read_without_a_warning_and_says_that_it_is_our_own(name):
    draft, deviations = read_with_deviations((FOLDER / name).read_bytes())
    assert deviations == ()
    assert any(re.search("[Ii]nvented", note) for note in draft.notes)
    assert draft.title
    assert read_with_deviations(write_wif(draft)).draft == draft


def test_each_structure_has_a_four_shaft_and_an_eight_shaft_draft():
    kinds = {re.sub("-(four|eight)-shaft.*", "", name) for name in NAMES}
    for kind in kinds - {"diversified-plain-weave", "demo-double-faced", "double-faced-twill"}:
        for shafts, word in ((4, "four"), (8, "eight")):
            assert draft_in(f"{kind}-{word}-shaft.txt").shafts == shafts
    assert len(kinds) >= 16


@pytest.mark.parametrize("name", NAMES)
def test_no_shuttle_goes_back_through_its_own_shed_but_in_basket(name):
    """It would pull its last pick out again (common practice, no source); basket means to lay two in one shed."""
    draft = draft_in(name)
    again = [
        pick
        for pick, (before, now) in enumerate(pairwise(zip(draft.sheds(), draft.weft, strict=True)), 1)
        if before == now
    ]
    assert again == [] or "colour-and-weave" in name


# Double-faced twill


def test_the_demo_has_the_eight_sheds_two_shuttles_three_sections_and_300_picks():
    draft = draft_in("demo-double-faced-four-shaft.wif")
    sheds = {shafts_of(shed) for shed in draft.sheds()}
    assert sheds == {(1,), (2,), (3,), (4,), (1, 2, 3), (2, 3, 4), (1, 3, 4), (1, 2, 4)}
    assert (draft.treadles, draft.picks, len(draft.shuttles()), len(draft.sections)) == (8, 300, 2, 3)


def test_the_demo_file_is_written_as_this_program_writes():
    data = (FOLDER / "demo-double-faced-four-shaft.wif").read_bytes()
    assert write_wif(read_with_deviations(data).draft) == data


def test_the_demo_needs_six_treadles_with_one_treadle_to_a_foot_and_four_with_two():
    wanted = set(draft_in("demo-double-faced-four-shaft.wif").sheds())
    ties = range(1, 16)

    def opens_all(treadles):
        sheds = {one | other for one in treadles for other in treadles}
        return wanted <= sheds

    # Every tie-up of five and of six treadles on four shafts, tried.
    assert not any(map(opens_all, combinations(ties, 5)))
    assert any(map(opens_all, combinations(ties, 6)))
    # Two neighbours to a foot: treadles tied 1, 2, 3, 4 in this order; three treadles have but seven footings.
    blocks = [{1}, {2}, {3}, {4}, {1, 2}, {2, 3}, {3, 4}]
    assert wanted <= {shed_of(left | right) for left in blocks for right in blocks}


@pytest.mark.parametrize("name", ["demo-double-faced-four-shaft.wif", "double-faced-twill-eight-shaft.txt"])
def test_double_faced_twill_floats_three_on_both_faces_and_hangs_together(name):
    """1/3 and 3/1 twill float 3 (C); the warp is up at half of all crossings."""
    for cloth in cloth_of(name).values():
        assert floats(cloth) == (3, 3)
        assert floats(1 - cloth) == (3, 3)
        assert layers(cloth[:40, :40]) == 1
        assert cloth.mean() == 0.5


def test_each_tie_of_the_demo_lies_under_the_floats_beside_it():
    """Where a back pick comes to the face, the face picks before and after it float over that end."""
    draft = draft_in("demo-double-faced-four-shaft.wif")
    cloth = cloth_of("demo-double-faced-four-shaft.wif")[""]
    for pick in range(1, draft.picks - 1, 2):
        assert not (cloth[[pick - 1, pick + 1]][:, cloth[pick] == 0]).any()


def shares(draft, picks, ends, surface):
    """How much of a part of a surface each yarn shows."""
    seen = colours(draft, surface)[picks][:, ends].reshape(-1, 3)
    return {yarn.name: float((seen == yarn.colour).all(axis=1).mean()) for yarn in draft.yarns}


def test_the_faces_of_double_faced_twill_differ_and_the_blocks_exchange_them():
    draft = draft_in("double-faced-twill-eight-shaft.txt")
    first, second = slice(0, 20), slice(20, 40)
    for ends, face, back in ((first, "sea", "sand"), (second, "sand", "sea")):
        on_face = shares(draft, slice(0, 80), ends, Surface.FACE)
        on_back = shares(draft, slice(0, 80), ends, Surface.BACK)
        # Of four face picks' crossings three show the weft, of four back picks' one: 3/8 and 1/8 of the surface.
        assert (on_face[face], on_face[back]) == (0.375, 0.125)
        assert (on_back[back], on_back[face]) == (0.375, 0.125)
