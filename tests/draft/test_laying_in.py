"""Wefts that are laid in: written and read in every form, followed by squares, and turning round no selvedge."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.cloth import crossings_of
from companion.draft.errors import DraftError, ShorthandError
from companion.draft.gamp import Area
from companion.draft.layers import layers
from companion.draft.laying_in import laid_in_at, thrown_yarns
from companion.draft.model import LaidIn, Section
from companion.draft.selvedge import selvedges
from companion.draft.shorthand import parse_shorthand
from companion.draft.shorthand_print import print_shorthand
from companion.draft.square import square_of
from companion.draft.wif_read import read_wif
from companion.draft.wif_write import write_wif
from tests.weaving.world import lever_draft

HEAD = "yarn: cotton white\nyarn: rush gold\nyarn: twig brown\nthreading: 1 2 1 2\ntie-up: 1, 2\ntreadling:\n"
MAT = "(rush 1 cotton 2)x2 twig 1 cotton 2"


def mat(behind_the_name):
    return parse_shorthand(f"{HEAD}section: Hem\ncotton 1 2\nsection: Mat {behind_the_name}\n{MAT}")


def test_a_section_says_what_is_laid_in_and_how_long_each_is():
    """1 in = 2.54 cm exactly (NIST Special Publication 811, appendix B)."""
    draft = mat("until 12 in laid in rush 14 in, twig")
    hem, body = draft.sections
    assert hem.laid_in == ()
    assert (body.name, body.until_cm) == ("Mat", 30.48)
    assert body.laid_in == (LaidIn(1, 35.56), LaidIn(2))
    assert {pick: laid.yarn for pick, laid in laid_in_at(draft).items()} == {2: 1, 4: 1, 6: 2}
    assert thrown_yarns(draft) == (0,)


def test_a_weft_may_be_thrown_in_one_section_and_laid_in_in_the_next():
    draft = parse_shorthand(f"{HEAD}section: A\nrush 1 2\nsection: B laid in rush\nrush 1 cotton 2")
    assert list(laid_in_at(draft)) == [2]
    assert thrown_yarns(draft) == (1, 0)


@given(
    st.lists(st.tuples(st.integers(0, 2), st.none() | st.floats(0.1, 900)), unique_by=lambda one: one[0], max_size=3),
    st.sampled_from(["Mat", "Mat laid in tall", "until dawn", "x"]),
)
def test_files_and_shorthand_say_it_again(laid_in, name):
    body = Section(name, 4, laid_in=tuple(LaidIn(yarn, cm) for yarn, cm in laid_in))
    draft = lever_draft([0, 1, 2, 1, 0, 1], [body, Section("Hem", 2)])
    assert parse_shorthand(print_shorthand(draft)).sections == draft.sections
    back = read_wif(write_wif(draft)).draft.sections
    assert [(one.name, set(one.laid_in)) for one in back] == [(one.name, set(one.laid_in)) for one in draft.sections]


@pytest.mark.parametrize(
    ("behind_the_name", "line"),
    [
        ("laid in reed", "line 9, column 1: no yarn is called 'reed'"),
        ("laid in rush 14 elbows", "'14 elbows' is no length to cut"),
        ("laid in rush 0 in", "'0 in' is no length to cut"),
        ("laid in , rush", "is no weft to lay in"),
    ],
)
def test_slips_are_pointed_out(behind_the_name, line):
    with pytest.raises(ShorthandError) as error:
        mat(behind_the_name)
    assert line in str(error.value)


@pytest.mark.parametrize("laid_in", [(LaidIn(3),), (LaidIn(0), LaidIn(0, 3.0)), (LaidIn(0, 0.0),), (LaidIn(0, 5e3),)])
def test_no_draft_is_made_that_lays_in_what_cannot_be(laid_in):
    with pytest.raises(DraftError):
        lever_draft([0, 1], [Section("body", 2, laid_in=laid_in)])


def test_a_line_of_a_file_for_a_section_that_is_not_there_is_left_out_and_told():
    draft = lever_draft([0, 1], [Section("body", 2, laid_in=(LaidIn(1, 20.0),))])
    data = write_wif(draft).replace(b"1=1,2,20.0", b"1=9,2,20.0")
    read = read_wif(data)
    assert read.draft.sections == (Section("body", 2),)
    assert any("laid in that is not there" in str(one) for one in read.deviations)
    with pytest.raises(DraftError, match="nothing laid in"):
        read_wif(write_wif(draft).replace(b"1=1,2,20.0", b"1=rush"))


def test_a_square_keeps_what_its_picks_lay_in_under_the_number_that_the_yarn_has_there():
    body = Section("body", 4, laid_in=(LaidIn(2, 20.0),))
    draft = replace(lever_draft([1, 1, 2, 1, 2, 1], [Section("hem", 2), body]), warp=(1,) * 8)
    square = square_of(draft, Area(0, 8, 2, 4))
    assert [yarn.name for yarn in square.yarns] == ["sea", "rust"]
    assert square.sections[0].laid_in == (LaidIn(1, 20.0),)
    assert square_of(draft, Area(0, 8, 0, 2)).sections[0].laid_in == ()


def test_what_is_laid_in_turns_round_no_selvedge():
    """By hand: on plain weave one shuttle that rests at every other pick meets the same shed and misses each turn."""
    weft = [0, 1] * 4
    thrown = lever_draft(weft, [Section("body", 8)], sheds=(0b0101, 0b1010))
    laid = replace(thrown, sections=(Section("body", 8, laid_in=(LaidIn(1, 30.0),)),))
    assert [turns.shuttle for turns in selvedges(thrown, layers(crossings_of(thrown))).shuttles] == [0, 1]
    (cotton,) = selvedges(laid, layers(crossings_of(laid))).shuttles
    assert (cotton.shuttle, cotton.turns, cotton.missed) == (0, 3, 3)
