"""Twills, textures and weaves with a pattern weft are what their names promise.

Sources stand at each check; C means worked out from the definition.
"""

from __future__ import annotations

from itertools import groupby

import numpy as np
import pytest

from companion.draft.cloth import interlacement
from companion.draft.laying_in import laid_in_at, thrown_yarns
from companion.draft.masks import shafts_of, treadles_of
from companion.draft.reading import read_with_deviations
from tests.draft.structures import cloth_of, draft_in, floats, is_plain_weave, layers, longest

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
    # A stick is laid in by hand: no shuttle carries it, and the linen's passes on from side to side.
    assert sorted(laid_in_at(draft)) == np.flatnonzero(stiff).tolist()
    assert [draft.yarns[yarn].name for yarn in thrown_yarns(draft)] == ["linen"]


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
