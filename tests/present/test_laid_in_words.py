"""What is laid in, in words: in place of a side, with its length, counted, and drawn out by hand."""

from __future__ import annotations

from companion.draft.model import LaidIn, Section
from companion.draft.units import Units
from companion.present.between_pieces import carry_words
from companion.present.bobbin import bobbin_answers
from companion.present.laid_in_words import lengths_words, section_name_words
from companion.present.unweaving import take_out_words
from companion.present.weave import weave_signs
from companion.present.weave_words import following_wordings
from companion.present.wording import pick_in_brief, spoken_words
from companion.weaving.pick_view import next_pick, this_pick
from companion.weaving.taking_out import taking_out
from companion.weaving.yarn_needs import LaidLengths
from tests.weaving.world import YARNS, AtLoom, lever_draft, lever_warp

SEA_LAID_IN = (LaidIn(1, 35.56),)


def on_the_loom():
    return AtLoom(lever_warp(lever_draft([0, 1, 0, 1], [Section("Mat", 4, laid_in=SEA_LAID_IN)])))


def test_the_screen_says_lay_in_in_place_of_a_side_and_how_long_each_is():
    loom = on_the_loom()
    assert following_wordings(next_pick(loom.warp, loom.progress))[0] == "then  up 2 3 · lay in sea"
    loom.weave(1)
    view = this_pick(loom.warp, loom.progress)
    assert pick_in_brief(view) == "shafts up: 2 3 · lay in sea"
    assert spoken_words(view) == "shafts up: 2 3, lay in sea"
    signs = weave_signs(loom.warp, loom.progress, view, Units.INCH)
    assert (signs.shuttle, signs.bobbin[0], signs.from_left, signs.from_right) == (
        "lay in sea",
        "14 in each",
        False,
        False,
    )
    assert (signs.side_asked, signs.warning) == (False, ("",))


def test_it_is_drawn_out_and_has_no_bobbin():
    loom = on_the_loom()
    loom.weave(2)
    (step,) = taking_out(loom.warp, loom.progress, 1)
    assert take_out_words(step).endswith("draw sea out by hand")
    assert [answer.words for answer in bobbin_answers(loom.warp, loom.progress, Units.METRIC)] == ["New bobbin: sand"]


def test_no_weft_without_a_shuttle_is_carried_to_the_next_piece():
    mat = lever_draft([1], [Section("Mat", 1, laid_in=SEA_LAID_IN)])
    thrown = AtLoom(lever_warp(lever_draft([1]), lever_draft([1])))
    laid = AtLoom(lever_warp(lever_draft([1]), mat))
    for loom in (thrown, laid):
        loom.weave(1)
    assert carry_words(thrown.warp, thrown.progress) == "carry sea to the right"
    assert carry_words(laid.warp, laid.progress) == ""


def test_lengths_are_counted_in_the_weavers_units():
    """1 in = 2.54 cm exactly (NIST Special Publication 811, appendix B)."""
    section = Section("Mat", 4, laid_in=(LaidIn(1, 35.56), LaidIn(2)))
    assert section_name_words(section, YARNS, Units.INCH) == "Mat; sea laid in, 14 in each; rust laid in"
    assert section_name_words(Section("Mat", 4), YARNS, Units.INCH) == "Mat"
    assert lengths_words((LaidLengths(1200, 35.56), LaidLengths(3, 0.0)), Units.METRIC) == (
        "1,200 laid in, 35.56 cm each; 3 laid in, counted as if thrown"
    )


def test_whoever_wishes_is_told_the_way_past_floating_selvedges():
    loom = on_the_loom()
    for words in ("over right, under left", "14 in each", "over left, under right"):
        view = this_pick(loom.warp, loom.progress)
        signs = weave_signs(loom.warp, loom.progress, view, Units.INCH, over_under=True)
        assert signs.bobbin[0] == words
        assert weave_signs(loom.warp, loom.progress, view, Units.INCH).bobbin[0] in ("", "14 in each")
        loom.weave(1)
