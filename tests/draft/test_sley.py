"""The sley plan: dents and reed give width, room of each end and the dent to begin in."""

from __future__ import annotations

from fractions import Fraction
from math import floor

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from companion.draft.checks import FindingKind, check
from companion.draft.cloth import Surface
from companion.draft.edits import delete_ends
from companion.draft.errors import DraftError
from companion.draft.facing import FROM_LEFT
from companion.draft.pictures import cloth_picture
from companion.draft.shorthand import parse_shorthand
from companion.draft.shorthand_print import print_shorthand
from companion.draft.shorthand_sley import parse_sley
from companion.draft.sley import (
    Sley,
    dent_of_ends,
    dents_of_spacing,
    ends_before,
    even_sley,
    parse_reed,
    print_reed,
    raddle_groups,
    spacing_cm,
    start_beside_middle,
    start_dent,
)
from companion.draft.wif_read import read_wif
from companion.draft.wif_write import write_wif

PLANS = st.lists(st.integers(0, 5), min_size=1, max_size=30).filter(any)
PLAIN = "threading: (1 2)x6\ntie-up: 1, 2\ntreadling: (1 2)x4\n"


def test_a_single_number_is_for_every_dent_and_the_last_takes_the_rest():
    assert parse_sley("2", 7) == Sley((2, 2, 2, 1))
    assert even_sley(6, 3).dents == (3, 3)


def test_a_plan_is_irregular_on_purpose():
    assert parse_sley("0 (1 1 2 2 0)x2", 12).dents == (0, 1, 1, 2, 2, 0, 1, 1, 2, 2, 0)


@given(PLANS)
def test_every_end_has_its_dent(dents):
    plan = Sley(tuple(dents))
    by_hand = []
    for dent, ends in enumerate(dents):
        by_hand.extend([dent] * ends)
    assert list(dent_of_ends(plan)) == by_hand
    assert [ends_before(plan)[dent] for dent in by_hand] == [by_hand.index(dent) for dent in by_hand]


@given(PLANS, st.sampled_from([1.0, 3.5, 10 / 2.54, 12.0]))
def test_the_spacing_gives_the_dents_back_but_for_empty_ones_before_the_first_end(dents, reed):
    while not dents[0]:
        dents.pop(0)
    plan = Sley(tuple(dents), reed)
    room = spacing_cm(plan, sum(dents))
    # An empty dent behind the last end is room beside it in the file, and no width of the warp.
    assert sum(room) == pytest.approx(len(plan.dents) / reed)
    assert dents_of_spacing(room, reed) == plan.dents


def test_empty_dents_outside_the_ends_are_no_width_and_the_ends_lie_centred():
    """(0 1 1 2 2 0)x4 on a reed of 10/in, 4 inches long, worked by hand: 24 dents, the first and the last empty, so the
    ends lie in 22, 2.2 in wide; of 40 dents 9 are left at either side, and the plan's own empty one is the ninth.
    """
    plan = Sley((0, 1, 1, 2, 2, 0) * 4, parse_reed("10/in"))
    assert (plan.empty_before, plan.spanned) == (1, 22)
    assert plan.width_cm == pytest.approx(2.2 * 2.54)
    assert start_dent(plan, 4 * 2.54) == 9
    assert start_beside_middle(plan) == 12
    assert Sley((0, 0), 4.0).width_cm is None


def test_a_spacing_that_lies_in_no_dents_gives_none():
    assert dents_of_spacing((0.1, 0.13, 0.1), 10.0) is None
    assert dents_of_spacing((0.05, 0.1), 10.0) is None
    assert dents_of_spacing((0.0, 0.1), 10.0) is None


def test_a_warp_is_centred_as_a_weaver_reckons_it():
    """200 ends, two in each dent of a 10-dent reed 24 inches long: 100 of 240 dents, 70 empty at either side, so the
    warp begins in dent 71, five inches from the middle. Common practice, no source."""
    plan = even_sley(200, 2, parse_reed("10/in"))
    assert plan.width_cm == pytest.approx(10 * 2.54)
    assert start_dent(plan, 24 * 2.54) == 71


@given(st.integers(1, 60), st.integers(1, 200))
def test_as_many_dents_are_left_at_either_side_or_one_more_at_the_far_side(dents, there):
    plan = Sley((1,) * dents, 4.0)
    if dents > there:
        with pytest.raises(DraftError, match=f"takes {dents} dents and the reed has {there}"):
            start_dent(plan, there / 4)
        return
    before = start_dent(plan, there / 4) - 1
    assert there - dents - before - before in (0, 1)


@given(
    st.lists(st.integers(0, 3), min_size=1, max_size=700).filter(any),
    st.integers(1, 60),
    st.integers(1, 24),
    st.sampled_from(["in", "cm", "10 cm"]),
)
def test_a_raddle_takes_every_end_in_the_space_where_its_dent_begins(dents, reed, raddle, on):
    """Reckoned in whole fractions, in which nothing is nearly anything."""
    length = {"in": Fraction(254, 100), "cm": Fraction(1), "10 cm": Fraction(10)}[on]
    assume(Fraction(1, 10) <= reed / length <= 60 and Fraction(1, 10) <= raddle / Fraction(254, 100))
    expected = {}
    for dent, ends in enumerate(dents):
        space = floor(Fraction(dent) / (reed / length) * (raddle / Fraction(254, 100)))
        expected[space] = expected.get(space, 0) + ends
    groups = raddle_groups(Sley(tuple(dents), parse_reed(f"{reed}/{on}")), parse_reed(f"{raddle}/in"))
    assert [ends for ends in groups if ends] == [ends for _, ends in sorted(expected.items()) if ends]
    assert all(groups[space] == ends for space, ends in expected.items())


def test_the_last_of_many_dents_before_a_space_belongs_to_the_space_before_it():
    # 120 dents to a space: the last begins at 0.9917 of it.
    assert raddle_groups(Sley((1,) * 121, 60.0), 0.5) == (120, 1)


@given(st.integers(1, 60), st.integers(1, 400), st.integers(1, 200))
def test_a_reed_has_as_many_dents_as_its_length_holds_whole(per_inch, tenths, dents):
    there = floor(Fraction(tenths, 10) * per_inch)
    plan = Sley((1,) * dents, parse_reed(f"{per_inch}/in"))
    if dents > there:
        with pytest.raises(DraftError, match=f"the reed has {there:,}"):
            start_dent(plan, tenths / 10 * 2.54)
    else:
        assert start_dent(plan, tenths / 10 * 2.54) == (there - dents) // 2 + 1


@pytest.mark.parametrize(
    ("written", "per_cm"), [("10/in", 10 / 2.54), ("40/10 cm", 4.0), ("4/cm", 4.0), ("4", None), ("8.5/in", 8.5 / 2.54)]
)
def test_a_reed_is_written_by_its_dents_on_a_length(written, per_cm):
    if per_cm is None:
        with pytest.raises(DraftError, match="is no reed"):
            parse_reed(written)
        return
    assert parse_reed(written) == per_cm
    assert parse_reed(print_reed(per_cm)) == per_cm


@pytest.mark.parametrize("dents", [(41,), (-1,), (1,) * 100_001])
def test_dents_that_no_reed_has_are_refused(dents):
    with pytest.raises(DraftError):
        Sley(dents)


@pytest.mark.parametrize("reed", [0.0, -4.0, float("nan"), float("inf"), 1e308])
def test_a_reed_that_cannot_be_is_refused(reed):
    with pytest.raises(DraftError, match="a reed of"):
        Sley((), reed)


def test_a_draft_says_its_plan_in_shorthand_and_keeps_it():
    draft = parse_shorthand(PLAIN + "sley: (1 1 2 2 0)x2\nreed: 10/in\n")
    assert draft.sley == Sley((1, 1, 2, 2, 0) * 2, 10 / 2.54)
    assert "sley: (1 1 2 2 0)x2\nreed: 10/in\n" in print_shorthand(draft)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("sley: 0", "dents without an end"),
        ("sley:", "no dent is told"),
        ("sley: 41", "too much for the ends of a dent"),
        ("sley: (1 2", "bracket is not closed"),
        ("reed: fine", "is no reed"),
        ("sley: 1\nsley: 2", "stands twice"),
    ],
)
def test_a_slip_in_a_plan_is_told_with_its_line(line, told):
    with pytest.raises(DraftError, match=told) as error:
        parse_shorthand(PLAIN + line)
    assert error.value.place.line in (4, 5)


def test_a_regular_plan_is_kept_in_wif_as_spacing_and_reed_alone():
    data = write_wif(parse_shorthand(PLAIN + "sley: 2\nreed: 10/in"))
    assert b"Units=Centimeters\r\nSpacing=0.127\r\n" in data
    assert b"[PRIVATE FELLSIDE SLEY]\r\nReed=10/in\r\nSpacing=from the dents\r\n" in data


def test_a_plan_that_spacing_cannot_say_is_written_out():
    data = write_wif(parse_shorthand(PLAIN + "sley: 0 (1 1 2 2 0)x2\nreed: 10/in"))
    assert b"Dents=(0 1 1 2 2)x2 0\r\n" in data


def test_a_spacing_that_another_program_changed_is_kept_and_told():
    data = write_wif(parse_shorthand(PLAIN + "sley: 2\nreed: 10/in")).replace(b"Spacing=0.127", b"Spacing=0.1")
    read = read_wif(data)
    assert read.draft.warp_layout.spacing_cm == (0.1,) * 12
    assert read.draft.sley == Sley((), 10 / 2.54)
    assert any("lies in no dents" in str(deviation) for deviation in read.deviations)


def test_a_plan_for_other_ends_is_told_by_check():
    draft = parse_shorthand(PLAIN + "sley: 2\nreed: 10/in")
    assert not [one for one in check(draft) if one.kind is FindingKind.SLEY_MISMATCHED]
    (found,) = [one for one in check(delete_ends(draft, 0, 2)) if one.kind is FindingKind.SLEY_MISMATCHED]
    assert found.ends == (10, 11)


def test_the_drawn_cloth_shows_an_empty_dent_as_a_gap():
    draft = parse_shorthand(
        "yarn: black #000000\nyarn: blue #000080\nthreading: (1 2)x2\ntie-up: 1, 2\n"
        "treadling: (1 2)x2\nsley: 1 1 0 1 1\nreed: 1/cm"
    )
    columns = cloth_picture(draft, Surface.FACE, FROM_LEFT, 10)
    weft_alone = (columns[:, :, 2] > 0).all(axis=0)
    assert columns.shape[1] == 50
    assert weft_alone.tolist() == [20 <= column < 30 for column in range(50)]
