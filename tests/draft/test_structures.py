"""The structures that ship with the program weave what their names promise.

Floats are counted here by run lengths and layers by networkx, apart from the product's own ways; the cloth itself is
checked against a double loop in test_cloth. Sources stand at each check; C means worked out from the definition.
"""

from __future__ import annotations

import re
from itertools import combinations, groupby, pairwise
from pathlib import Path

import networkx as nx
import numpy as np
import pytest

from companion.draft.cloth import Surface, interlacement
from companion.draft.masks import shafts_of, shed_of, treadles_of
from companion.draft.reading import read_with_deviations
from companion.draft.wif_write import write_wif

FOLDER = Path(__file__).resolve().parents[2] / "assets" / "drafts"
NAMES = sorted(path.name for path in FOLDER.iterdir())


def draft_in(name):
    return read_with_deviations((FOLDER / name).read_bytes()).draft


def cloth_of(name):
    """The cloth of each section by its name (or of the whole as ""), picks x ends, 1 = warp up."""
    draft = draft_in(name)
    whole = interlacement(draft).astype(int)
    parts, first = {"": whole}, 0
    for section in draft.sections:
        parts[section.name] = whole[first : first + section.picks]
        first += section.picks
    return parts


def longest(lines, value):
    """The longest run of a value along any of the lines."""
    return max((len(list(run)) for line in lines for up, run in groupby(line) if up == value), default=0)


def floats(cloth):
    """The longest warp and weft floats on the face."""
    return longest(cloth.T, 1), longest(cloth, 0)


def layers(cloth):
    """How many sets of threads hang together: strongly connected parts of "upper thread to lower thread".

    The criterion: C. R. J. Clapham, Discrete Mathematics 57 (1985), 195-197 (cited from memory).
    """
    graph = nx.DiGraph()
    for (pick, end), up in np.ndenumerate(cloth):
        threads = (("end", end), ("pick", pick))
        graph.add_edge(*(threads if up else threads[::-1]))
    return nx.number_strongly_connected_components(graph)


def is_plain_weave(cloth):
    picks, ends = np.indices(cloth.shape)
    return bool((cloth == (picks + ends + cloth[0, 0]) % 2).all())


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
    assert len(kinds) >= 11


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


def colours(draft, surface):
    """The colour of the thread on top at each crossing: picks x ends x 3."""
    palette = np.array([yarn.colour for yarn in draft.yarns])
    on_top = interlacement(draft) == (surface is Surface.FACE)
    return np.where(on_top[:, :, None], palette[list(draft.warp)][None], palette[list(draft.weft)][:, None])


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


# Colour and weave


@pytest.mark.parametrize(
    ("section", "warp_float", "weft_float", "warp_up"),
    [("Twill 2/2", 2, 2, 0.5), ("Twill 1/3", 1, 3, 0.25), ("Twill 3/1", 3, 1, 0.75), ("Basket", 2, 2, 0.5)],
)
def test_colour_and_weave_floats_and_warp_share(section, warp_float, weft_float, warp_up):
    """Longest floats of 2/2, 1/3 and 3/1 twill and of 2/2 basket (C)."""
    cloth = cloth_of("colour-and-weave-four-shaft.txt")[section]
    assert floats(cloth) == (warp_float, weft_float)
    assert cloth.mean() == warp_up


def light(section, surface):
    """Where a section of the four-shaft colour-and-weave shows its light yarn, on the first 24 ends."""
    draft = draft_in("colour-and-weave-four-shaft.txt")
    first = 24 * [part.name for part in draft.sections].index(section)
    shown = colours(draft, surface)[first : first + 24, :24]
    return (shown == draft.yarns[0].colour).all(axis=2)


def test_two_and_two_on_2_2_twill_shows_its_face_turned_by_a_quarter_on_the_back():
    """Warp and weft take each other's part on the back (C), up to where the repeat of four begins."""
    face, back = light("Twill 2/2", Surface.FACE), light("Twill 2/2", Surface.BACK)
    turned = np.roll(face.T[:, ::-1], (1, 2), axis=(0, 1))
    assert (back == turned).all()
    assert (back != face).any()


@pytest.mark.parametrize("section", ["Twill 1/3", "Basket"])
def test_two_and_two_on_1_3_twill_and_on_basket_gives_lines_across_the_face_and_along_the_back(section):
    """Each pick is one colour on the face, each end one colour on the back, by twos (C)."""
    face, back = light(section, Surface.FACE), light(section, Surface.BACK)
    assert face.tolist() == [[pick % 4 < 2] * 24 for pick in range(24)]
    assert back.tolist() == [[end % 4 < 2 for end in range(24)]] * 24


def test_eight_shafts_weave_two_weaves_side_by_side():
    cloth = cloth_of("colour-and-weave-eight-shaft.txt")
    left, right = slice(0, 24), slice(24, 48)
    assert floats(cloth["Twill 2/2 beside basket"][:, left]) == (2, 2)
    assert floats(cloth["Twill 2/2 beside basket"][:, right]) == (2, 2)
    assert floats(cloth["Twill 1/3 beside twill 3/1"][:, left]) == (1, 3)
    assert floats(cloth["Twill 1/3 beside twill 3/1"][:, right]) == (3, 1)


# Double weave


def test_plain_double_cloth_falls_into_two_cloths_with_floats_of_three():
    """C. P. Brooks, Cotton Manufacturing (1888), p. 69: lifts 1, 1 2 4, 2, 1 2 3; float 3 (C)."""
    draft = draft_in("double-weave-four-shaft.txt")
    assert [shafts_of(shed) for shed in draft.sheds()[:4]] == [(1,), (1, 2, 4), (2,), (1, 2, 3)]
    cloth = cloth_of("double-weave-four-shaft.txt")
    for section in draft.sections:
        assert layers(cloth[section.name]) == 2
        assert floats(cloth[section.name]) == (3, 3)
    # Exchanging the cloths closes the pockets: the whole piece hangs together.
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
    assert len(set(draft.warp_layout.spacing_cm)) == 3  # sleyed unevenly


# Shadow weave, diversified plain weave


@pytest.mark.parametrize("shafts", ["four", "eight"])
def test_shadow_weave_is_plain_in_the_ground_and_floats_two_at_most_in_the_motif(shafts):
    """Plain weave, with floats of two only where blocks meet (from memory)."""
    cloth = cloth_of(f"shadow-weave-{shafts}-shaft.txt")
    for ground in ("Ground", "Ground again"):
        assert is_plain_weave(cloth[ground][:, :20])
        assert is_plain_weave(cloth[ground][:, -20:])
    assert not is_plain_weave(cloth["Motif"])
    assert floats(cloth["Motif"]) == (2, 2)
    assert floats(1 - cloth["Motif"]) == (2, 2)


MATS = [f"diversified-plain-weave-four-shaft-{number}.txt" for number in range(1, 6)]


def test_five_mats_share_threading_and_treadling_and_differ_in_their_tie_ups():
    drafts = [draft_in(name) for name in MATS]
    assert len({draft.threading for draft in drafts}) == 1
    assert len({draft.lifting.treadling for draft in drafts}) == 1
    assert len({draft.lifting.tieup for draft in drafts}) == 5


@pytest.mark.parametrize("name", MATS)
def test_the_thin_ends_of_diversified_plain_weave_weave_plain_and_no_float_is_longer_than_two(name):
    """What "plain" in its name asks for (C); the reading of the weave is our own, from memory."""
    draft, cloth = draft_in(name), cloth_of(name)[""]
    thin = [end for end, shaft in enumerate(draft.threading) if shaft in (0, 1)]
    assert is_plain_weave(cloth[:, thin])
    assert max(floats(cloth) + floats(1 - cloth)) == 2
    assert layers(cloth[:36, :36]) == 1


def test_the_back_of_the_first_mat_has_the_pattern_of_the_second():
    first, second = (cloth_of(name)[""] for name in MATS[:2])
    thick = [end for end, shaft in enumerate(draft_in(MATS[0]).threading) if shaft in (2, 3)]
    assert ((1 - first)[:, thick] == second[:, thick]).all()
    assert first[:, thick].mean() == second[:, thick].mean() == 0.5


# Twills, waffle, honeycomb, overshot


@pytest.mark.parametrize("shafts", ["four", "eight"])
def test_a_gamp_is_alike_along_and_across(shafts):
    """The tie-up is symmetric and the treadling as drawn in, so the cloth is its own transpose (C)."""
    name = f"twill-gamp-{shafts}-shaft.txt"
    draft, cloth = draft_in(name), cloth_of(name)[""]
    assert (cloth == cloth.T).all()
    assert [treadles_of(pick)[0] - 1 for pick in draft.lifting.treadling] == list(draft.threading)
    assert len(draft.sections) == 4


def test_the_squares_of_the_four_shaft_gamp_have_the_floats_of_their_weaves():
    """Straight 2/2 twill floats 2, and so does broken 2/2 twill on its own threading (C)."""
    cloth = cloth_of("twill-gamp-four-shaft.txt")
    assert floats(cloth["Straight"][:, :24]) == (2, 2)
    assert floats(cloth["Broken"][:, -24:]) == (2, 2)
    # Point threading with 2/2 tie-up, straight treadling: weft 3, warp 2 (C).
    assert floats(cloth["Straight"][:, 24:48]) == (2, 3)


def test_rosepath_runs_one_thread_beyond_the_shafts():
    """Rosepath is a point one thread beyond the shafts, 1 to 8, 1, and back: common practice, no source."""
    threading = [shaft + 1 for shaft in draft_in("twill-gamp-eight-shaft.txt").threading]
    rosepath = [1, 2, 3, 4, 5, 6, 7, 8, 1, 8, 7, 6, 5, 4, 3, 2]
    assert any(threading[first : first + 17] == [*rosepath, 1] for first in range(len(threading)))


def test_waffle_on_five_shafts_floats_seven_and_five():
    """Encyclopaedia Britannica, 11th ed., "Honeycomb": weft floats of 7, warp of 5; five shafts and sheds (C)."""
    draft, cloth = draft_in("waffle-eight-shaft.txt"), cloth_of("waffle-eight-shaft.txt")[""]
    assert floats(cloth) == (5, 7)
    assert min(len(list(run)) for line in cloth[:, 1:-1] for _, run in groupby(line)) == 1
    assert len(set(draft.threading)) == len(set(draft.sheds())) == 5
    assert layers(cloth[:17, :17]) == 1


def test_waffle_on_four_shafts_floats_five_and_three():
    """The same lattice of diamonds on a repeat of six (C)."""
    assert floats(cloth_of("waffle-four-shaft.txt")[""]) == (3, 5)


@pytest.mark.parametrize("shafts", ["four", "eight"])
def test_honeycomb_cells_are_plain_weave_and_the_fine_weft_is_loose_only_on_the_back(shafts):
    """From memory: outline picks weave plain across; between the cells the fine weft floats on the back."""
    name = f"honeycomb-{shafts}-shaft.txt"
    draft, cloth = draft_in(name), cloth_of(name)[""]
    outline = [draft.yarns[yarn].name == "plum" for yarn in draft.weft]
    assert is_plain_weave(cloth[outline])
    cell = (len(draft.threading) // {"four": 5, "eight": 3}[shafts]) // {"four": 2, "eight": 4}[shafts]
    assert is_plain_weave(cloth[2:10, :cell])
    assert (cloth[2:10, cell : 2 * cell] == 1).all()
    assert longest(cloth, 0) == 1
    assert longest(cloth, 1) >= cell


@pytest.mark.parametrize("shafts", ["four", "eight"])
def test_overshot_without_its_pattern_weft_is_plain_weave(shafts):
    """Take the pattern weft away and sound plain weave is left: common practice, no source."""
    name = f"overshot-{shafts}-shaft.txt"
    draft, cloth = draft_in(name), cloth_of(name)[""]
    pattern = [draft.yarns[yarn].name == "indigo" for yarn in draft.weft]
    assert pattern == [True, False] * (draft.picks // 2)
    assert is_plain_weave(cloth[1::2])
    # The pattern weft floats, and it never floats over more than it may catch on (C: the blocks as threaded).
    assert 3 < longest(cloth[::2], 0) <= 6
