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


ORDERS = {"Houndstooth": slice(24, 48), "Three colours": slice(48, 72), "Dark dark light": slice(72, 96)}


@pytest.mark.parametrize(
    ("weave", "warp_float", "weft_float", "warp_up"),
    [("2/2 twill", 2, 2, 0.5), ("1/3 twill", 1, 3, 0.25), ("3/1 twill", 3, 1, 0.75), ("basket", 2, 2, 0.5)],
)
@pytest.mark.parametrize("order", ORDERS)
def test_colour_and_weave_floats_and_warp_share(order, weave, warp_float, weft_float, warp_up):
    """Longest floats of 2/2, 1/3 and 3/1 twill and of 2/2 basket (C)."""
    cloth = cloth_of("colour-and-weave-four-shaft.txt")[f"{order}, {weave}"]
    assert floats(cloth) == (warp_float, weft_float)
    assert cloth.mean() == warp_up


def samples(order, weave, surface=Surface.FACE):
    """The colours of the square where an order of colours is woven over itself: 24 x 24 names of yarns."""
    draft = draft_in("colour-and-weave-four-shaft.txt")
    first = 24 * [part.name for part in draft.sections].index(f"{order}, {weave}")
    ends = ORDERS.get(order, slice(0, 24))
    shown = colours(draft, surface)[first : first + 24, ends]
    names = {yarn.colour: yarn.name for yarn in draft.yarns}
    return np.array([[names[tuple(cell)] for cell in row] for row in shown.tolist()])


def test_all_colour_samples_hang_on_one_threading_and_one_tie_up():
    draft = draft_in("colour-and-weave-four-shaft.txt")
    assert draft.threading == (0, 1, 2, 3) * 24
    assert draft.treadles == len(set(draft.lifting.tieup)) == 14
    assert len(draft.sections) == 1 + 3 * 4


def test_log_cabin_is_lines_along_and_across_by_turns():
    """Plain weave of light and dark by turns shows lines, and others where the order turns round (C)."""
    shown = samples("Log cabin", "plain weave")
    for rows, columns in ((slice(0, 12), slice(0, 12)), (slice(12, 24), slice(12, 24))):
        assert all(len(set(row)) == 1 for row in shown[rows, columns])
    for rows, columns in ((slice(0, 12), slice(12, 24)), (slice(12, 24), slice(0, 12))):
        assert all(len(set(column)) == 1 for column in shown[rows, columns].T)


def test_houndstooth_is_the_same_figure_in_dark_and_in_light():
    """2/2 twill repeats by four, the colours by eight: four on and four up they change places (C)."""
    dark = samples("Houndstooth", "2/2 twill") == "indigo"
    assert dark.mean() == 0.5
    assert (np.roll(dark, (4, 4), (0, 1)) == ~dark).all()
    # A tooth is four solid threads, each broken into the ground: every row has runs of dark of more than one length.
    assert {len(list(run)) for row in dark for up, run in groupby(row) if up} - {4, 8}


@pytest.mark.parametrize(("order", "shares"), [("Three colours", {1 / 3}), ("Dark dark light", {1 / 3, 2 / 3})])
@pytest.mark.parametrize("weave", ["2/2 twill", "1/3 twill", "3/1 twill", "basket"])
def test_an_order_of_three_shows_each_colour_by_its_share_and_a_figure_of_twelve(order, shares, weave):
    """Three threads of colour on a weave of four repeat by twelve and meet in every way once (C)."""
    shown = samples(order, weave)
    assert {round(float((shown == name).mean()), 6) for name in set(shown.flat)} == {
        round(share, 6) for share in shares
    }
    assert (shown[:12, :12] == shown[12:, 12:]).all()


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


# Shadow weave, diversified plain weave


@pytest.mark.parametrize(("shafts", "motif"), [("four", "Motifs"), ("eight", "Curve")])
def test_shadow_weave_is_plain_in_the_ground_and_floats_two_at_most_where_blocks_meet(shafts, motif):
    """Plain weave, with floats of two only where blocks meet (from memory)."""
    cloth = cloth_of(f"shadow-weave-{shafts}-shaft.txt")
    for ground in ("Ground", "Ground again"):
        assert is_plain_weave(cloth[ground])
    assert is_plain_weave(cloth[motif][:, :24])
    assert not is_plain_weave(cloth[motif])
    assert floats(cloth[motif]) == floats(1 - cloth[motif]) == (2, 2)


def turned(shafts):
    """Where shadow weave lies otherwise than the plain weave of its ground: picks x ends."""
    cloth = cloth_of(f"shadow-weave-{shafts}-shaft.txt")[""]
    picks, ends = np.indices(cloth.shape)
    return cloth != (picks + ends + cloth[0, 0]) % 2


def test_the_motif_of_shadow_weave_stands_alone_on_its_ground():
    """Only where a changed block of the threading crosses one of the treadling (C)."""
    draft = draft_in("shadow-weave-four-shaft.txt")
    changed_ends = np.array([shaft in (2, 3) for shaft in draft.threading])
    changed_picks = np.array([treadles_of(pick)[0] in (3, 4) for pick in draft.lifting.treadling])
    assert (turned("four") == changed_picks[:, None] & changed_ends[None, :]).all()


def test_the_motif_of_shadow_weave_on_eight_shafts_is_a_curve():
    """Rows of the motif grow and shrink in more than two steps, alike in all four quarters (C)."""
    motif = turned("eight")
    widths = [int(row.sum()) for row in motif[24:-24:2]]
    assert widths == widths[::-1]
    assert len(set(widths)) == 3
    assert (motif == motif[:, ::-1]).all()
    assert not motif[:24].any()
    assert not motif[-24:].any()


MATS = {
    shafts: [f"diversified-plain-weave-{shafts}-shaft-{number}.txt" for number in range(1, 6)]
    for shafts in ("four", "eight")
}


def relief(name):
    """How each block of thick ends lies in each block of picks, one letter each: `+` over the thick picks, `-` under.

    `t` is plain weave with every pick. Rows are blocks of picks.
    """
    letters = {"010010": "+", "101101": "-", "101010": "t"}
    draft, cloth = draft_in(name), cloth_of(name)[""]
    first_end = {shaft: end for end, shaft in reversed(list(enumerate(draft.threading))) if shaft > 1}
    each = {"four": (6 * 3, 2), "eight": (6 * 2, 4)}["four" if draft.shafts == 4 else "eight"]
    return tuple(
        "".join(
            letters["".join(map(str, cloth[row * each[0] : row * each[0] + 6, first_end[shaft]]))]
            for shaft in sorted(first_end)
        )
        for row in range(each[1])
    )


@pytest.mark.parametrize("shafts", MATS)
def test_five_mats_share_threading_and_treadling_and_differ_in_their_tie_ups(shafts):
    drafts = [draft_in(name) for name in MATS[shafts]]
    assert len({draft.threading for draft in drafts}) == 1
    assert len({draft.lifting.treadling for draft in drafts}) == 1
    assert len({draft.lifting.tieup for draft in drafts}) == 5


@pytest.mark.parametrize("name", [name for names in MATS.values() for name in names])
def test_the_thin_ends_of_diversified_plain_weave_weave_plain_and_no_float_is_longer_than_two(name):
    """What "plain" in its name asks for (C); the reading of the weave is our own, from memory."""
    draft, cloth = draft_in(name), cloth_of(name)[""]
    thin = [end for end, shaft in enumerate(draft.threading) if shaft in (0, 1)]
    assert is_plain_weave(cloth[:, thin])
    assert max(floats(cloth) + floats(1 - cloth)) == 2
    assert layers(cloth[:36, :36]) == 1


def test_no_mat_is_another_with_its_blocks_moved_or_its_faces_exchanged():
    """All ways to exchange the two blocks of ends, of picks, and the faces, tried."""
    exchanged = str.maketrans("+-", "-+")

    def looks(rows):
        for one in (rows, rows[::-1]):
            for other in (one, tuple(row[::-1] for row in one)):
                yield other
                yield tuple(row.translate(exchanged) for row in other)

    kinds = {frozenset(looks(relief(name))) for name in MATS["four"]}
    assert len(kinds) == 5
    # Each has something in relief on both faces: the mats are reversible.
    assert all({"+", "-"} <= set("".join(relief(name))) for names in MATS.values() for name in names)
    assert len({relief(name) for name in MATS["eight"]}) == 5


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


def test_the_waffle_of_five_shafts_floats_seven_and_five():
    """Encyclopaedia Britannica, 11th ed., "Honeycomb": weft floats of 7, warp of 5; five shafts and sheds (C)."""
    shorthand = b"threading: (point 1-5)x3 1\ntie-up: 1, 2, 1 3, 1 2 4, 1 2 3 5\ntreadling: (point 1-5)x3 1"
    assert floats(interlacement(read_with_deviations(shorthand).draft).astype(int)) == (5, 7)


def test_waffle_on_eight_shafts_is_the_same_lattice_and_uses_them_all():
    """Each shaft more makes the floats two longer: of n shafts 2n-3 in the weft and 2n-5 in the warp (C)."""
    draft, cloth = draft_in("waffle-eight-shaft.txt"), cloth_of("waffle-eight-shaft.txt")[""]
    assert floats(cloth) == (11, 13)
    assert min(len(list(run)) for line in cloth[:, 1:-1] for _, run in groupby(line)) == 1
    assert len(set(draft.threading)) == len(set(draft.sheds())) == 8
    assert layers(cloth[:29, :29]) == 1


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


@pytest.mark.parametrize(("shafts", "number"), [("four", 4), ("eight", 8)])
def test_every_shaft_of_a_honeycomb_moves_otherwise_than_the_others(shafts, number):
    sheds = [set(shafts_of(shed)) for shed in draft_in(f"honeycomb-{shafts}-shaft.txt").sheds()]
    assert len({tuple(shaft in shed for shed in sheds) for shaft in range(1, number + 1)}) == number


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


def pattern_of_overshot(section):
    """The pattern picks of a section of the four-shaft overshot, and the end that the section begins over."""
    draft, cloth = draft_in("overshot-four-shaft.txt"), cloth_of("overshot-four-shaft.txt")
    first_end = {"Border": 0, "Stars": 24, "Roses": 24, "Border again": draft.ends - 25}[section]
    return cloth[section][::2], first_end


@pytest.mark.parametrize("section", ["Border", "Stars", "Border again"])
def test_overshot_as_drawn_in_lays_each_pattern_pick_over_its_own_two_ends(section):
    """As drawn in: a pattern pick for each pair of neighbouring ends, over just these (common practice, no source)."""
    pattern, first = pattern_of_overshot(section)
    for pick, row in enumerate(pattern):
        assert row[first + pick] == row[first + pick + 1] == 0


def test_a_rose_is_the_star_with_its_treadles_exchanged_two_by_two():
    """Rose fashion, from memory: the treadles of each pair change places; the diagonal is left."""
    draft = draft_in("overshot-four-shaft.txt")
    first = {
        section.name: sum(one.picks for one in draft.sections[:index]) for index, section in enumerate(draft.sections)
    }
    stars, roses = (
        [treadles_of(pick)[0] for pick in draft.lifting.treadling[first[name] : first[name] + 80 : 2]]
        for name in ("Stars", "Roses")
    )
    assert [{1: 2, 2: 1, 3: 4, 4: 3}[treadle] for treadle in stars] == roses
    pattern, begin = pattern_of_overshot("Roses")
    assert any(row[begin + pick] == 1 for pick, row in enumerate(pattern))
    # Threading and stars mirror about the middle of the figure.
    assert draft.threading == draft.threading[::-1]


# Spider texture, stiff weft, summer and winter, crackle, gamps


@pytest.mark.parametrize("shafts", ["four", "eight"])
def test_the_ground_of_spider_texture_is_plain_weave_and_each_gathering_draws_two_thick_ends_together(shafts):
    """Our own reading of the weave, from memory: a loose thick end, drawn to one neighbour, then to the other."""
    name = f"spider-texture-{shafts}-shaft.txt"
    draft, cloth = draft_in(name), cloth_of(name)[""]
    thick = np.array([draft.yarns[yarn].name == "slate" for yarn in draft.warp])
    gathering = np.array([draft.yarns[yarn].name == "slate" for yarn in draft.weft])
    assert is_plain_weave(cloth[np.ix_(~gathering, ~thick)])
    assert cloth[np.ix_(~gathering, thick)].all()
    drawn = {}
    for pick in np.flatnonzero(gathering):
        under = [
            [end for end, _ in run] for up, run in groupby(enumerate(cloth[pick]), key=lambda one: one[1]) if not up
        ]
        for run in under:
            pair = [end for end in run if thick[end]]
            if len(run) > 6 and len(pair) == 2:
                drawn.setdefault(pair[0], set()).add(pair[1])
                drawn.setdefault(pair[1], set()).add(pair[0])
    inner = np.flatnonzero(thick)[1:-1]
    assert all(len(drawn[end]) == 2 for end in inner)
    assert layers(cloth[:34, :50]) == 1


@pytest.mark.parametrize("shafts", ["four", "eight"])
def test_stiff_wefts_lie_in_plain_weave_and_are_held_at_every_few_ends(shafts):
    """Common practice, no source: the ground must hold without the sticks, and no end may float far over them."""
    name = f"stiff-weft-{shafts}-shaft.txt"
    draft, cloth = draft_in(name), cloth_of(name)[""]
    stiff = np.array([draft.yarns[yarn].name == "stick" for yarn in draft.weft])
    assert is_plain_weave(cloth[~stiff])
    assert longest(cloth[stiff], 0) <= 4
    assert longest(cloth[stiff], 1) <= 4
    assert max(longest(cloth.T, 1), longest(cloth.T, 0)) <= 3
    gaps = np.diff(np.flatnonzero(stiff))
    assert gaps.min() == gaps.max() == 7


def test_the_panels_of_stiff_wefts_change_places():
    """A stick lies over three ends of four in one block and under three in the other (C)."""
    draft, cloth = draft_in("stiff-weft-eight-shaft.txt"), cloth_of("stiff-weft-eight-shaft.txt")
    for name, share in (("First panels", (0.25, 0.75)), ("Panels changed", (0.75, 0.25))):
        first = 0 if name == "First panels" else draft.sections[0].picks
        stiff = [draft.yarns[yarn].name == "stick" for yarn in draft.weft[first : first + len(cloth[name])]]
        assert (cloth[name][stiff][:, :24].mean(), cloth[name][stiff][:, 24:48].mean()) == share


@pytest.mark.parametrize("shafts", ["four", "eight"])
def test_summer_and_winter_ties_every_fourth_end_and_exchanges_its_blocks_on_the_back(shafts):
    """Take the pattern weft away and plain weave is left; floats of three; the back is the other way (from memory)."""
    name = f"summer-and-winter-{shafts}-shaft.txt"
    draft, cloth = draft_in(name), cloth_of(name)[""]
    pattern = cloth[::2]
    assert [draft.yarns[yarn].name for yarn in draft.weft[:2]] == ["indigo", "cream"]
    assert is_plain_weave(cloth[1::2])
    assert longest(pattern, 0) == longest(pattern, 1) == 3
    blocks = np.array(draft.threading)
    for row in pattern:
        shown = {shaft for shaft in set(draft.threading) - {0, 1} if not row[blocks == shaft].any()}
        # A block is under the pattern weft throughout or over it throughout.
        assert all(row[blocks == shaft].all() for shaft in set(draft.threading) - {0, 1} - shown)
        assert len(shown) == 1


@pytest.mark.parametrize(("shafts", "together"), [("four", 2), ("eight", 8)])
def test_crackle_never_floats_more_than_three_and_weaves_several_blocks_at_once(shafts, together):
    """Floats of three at most, and plain weave under the pattern (from memory); C for the count of blocks."""
    cloth = cloth_of(f"crackle-{shafts}-shaft.txt")[""]
    assert is_plain_weave(cloth[1::2])
    assert longest(cloth[::2], 0) == longest(cloth[::2], 1) == 3
    assert max(floats(cloth) + floats(1 - cloth)) == 3
    # On four shafts each pattern pick floats over two of the four blocks.
    if shafts == "four":
        row = cloth[0][:52].reshape(4, 13)
        assert sum(longest([block], 0) == 3 for block in row) == together


@pytest.mark.parametrize(("shafts", "size"), [("four", 20), ("eight", 24)])
def test_the_gamp_of_eight_by_eight_has_dividers_of_plain_weave_and_squares_as_drawn_in(shafts, size):
    """The tie-up is symmetric and treadled as drawn in, so each square of the diagonal is its own transpose (C)."""
    name = f"eight-by-eight-gamp-{shafts}-shaft.txt"
    draft = draft_in(name)
    cloth = interlacement(draft).astype(int)
    assert cloth.shape == (8 * size + 7 * 4,) * 2
    squares = set()
    for row in range(8):
        for column in range(8):
            top, left = row * (size + 4), column * (size + 4)
            square = cloth[top : top + size, left : left + size]
            squares.add(square.tobytes())
            if row == column:
                assert (square == square.T).all()
    assert len(squares) == 64
    for divider in range(7):
        first = (divider + 1) * size + divider * 4
        assert {draft.yarns[yarn].name for yarn in draft.warp[first : first + 4]} == {"natural"}
        rows = cloth[first : first + 4]
        assert is_plain_weave(rows[:, :size])
