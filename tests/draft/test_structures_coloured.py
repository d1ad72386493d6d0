"""Structures that live on colour weave what their names promise: colour-and-weave and shadow weave, mats in relief.

Sources stand at each check; C means worked out from the definition.
"""

from __future__ import annotations

from itertools import groupby

import numpy as np
import pytest

from companion.draft.cloth import Surface
from companion.draft.masks import treadles_of
from tests.draft.structures import cloth_of, colours, draft_in, floats, is_plain_weave, layers

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
    """Floats of 2/2 twill and basket and of 1/3 and 3/1 twill (C); the blocks exchange them."""
    cloth = cloth_of("colour-and-weave-eight-shaft.txt")
    both = {
        "Teeth both ways": ((2, 2), (2, 2)),
        "Twill 2/2 beside basket": ((2, 2), (2, 2)),
        "Basket beside twill 2/2": ((2, 2), (2, 2)),
        "Twill 1/3 beside twill 3/1": ((1, 3), (3, 1)),
        "Twill 3/1 beside twill 1/3": ((3, 1), (1, 3)),
    }
    for section, expected in both.items():
        assert (floats(cloth[section][:, :24]), floats(cloth[section][:, 24:48])) == expected
    for first, second in (("Twill 2/2 beside basket", "Basket beside twill 2/2"), list(both)[3:]):
        assert (cloth[first][:, :24] == cloth[second][:, 24:48]).all()
        assert {tuple(row) for row in cloth[first][:, 24:48]} == {tuple(row) for row in cloth[second][:, :24]}


def test_houndstooth_turns_its_teeth_where_the_twill_runs_the_other_way():
    """The twills run by one end a pick to one side and to the other; dark and light change places by four (C)."""
    cloth = cloth_of("colour-and-weave-eight-shaft.txt")["Teeth both ways"]
    left, right = cloth[:, :24], cloth[:, 24:48]
    assert (left[1:, 1:] == left[:-1, :-1]).all()
    assert (right[1:, :-1] == right[:-1, 1:]).all()
    shown = colours(draft_in("colour-and-weave-eight-shaft.txt"), Surface.FACE)[:24]
    for teeth in (shown[:, :24], shown[:, 24:48]):
        dark = (teeth == draft_in("colour-and-weave-eight-shaft.txt").yarns[1].colour).all(axis=2)
        assert dark.mean() == 0.5
        assert (np.roll(dark, (4, 4), (0, 1)) == ~dark).all()


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
