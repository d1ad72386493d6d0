"""Picks without a throw: no side, no parity, no bobbin; counted in lengths, drawn out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.facing import Side
from companion.draft.model import LaidIn, Section
from companion.weaving import decide, telling
from companion.weaving.coming_back import coming_back
from companion.weaving.errors import WeavingError
from companion.weaving.finder import Evidence
from companion.weaving.history import history
from companion.weaving.pick_table import pick_table
from companion.weaving.pick_view import next_pick, rows_at_fell, this_pick
from companion.weaving.questions import Ask, splits
from companion.weaving.shuttles import shuttles
from companion.weaving.taking_out import taking_out
from companion.weaving.yarn_needs import LaidLengths, in_all, weft_needed, weft_planned
from tests.weaving.world import AtLoom, lever_draft, lever_warp

SAND, SEA, RUST = 0, 1, 2


SEA_LAID_IN = (LaidIn(SEA, 40.0),)


def mat(weft=(SAND, SEA, SAND, SEA, SAND, RUST), laid_in=SEA_LAID_IN, **piece):
    body = Section("body", len(weft), laid_in=laid_in)
    return lever_warp(lever_draft([SAND, *weft, SEA, SAND], [Section("hem", 1), body, Section("end", 2)]), **piece)


def test_a_pick_that_is_laid_in_has_no_side_and_its_length():
    loom = AtLoom(mat())
    loom.weave(1)
    assert next_pick(loom.warp, loom.progress).laid_in == LaidIn(SEA, 40.0)
    loom.weave(1)
    view = this_pick(loom.warp, loom.progress)
    assert (view.laid_in, view.side_known, view.far, view.changes) == (LaidIn(SEA, 40.0), False, False, True)


@given(
    weft=st.lists(st.sampled_from([SAND, SEA, RUST]), min_size=1, max_size=12),
    laid=st.sets(st.sampled_from([SAND, SEA, RUST])),
    deeds=st.lists(st.sampled_from(["weave", "weave", "weave", "out", "undo"]), max_size=24),
)
def test_shuttles_lie_where_a_hand_that_moves_them_lays_them(weft, laid, deeds):
    """The oracle moves boats: a pick thrown carries its boat across; what is laid in moves none."""
    warp = mat(weft, tuple(LaidIn(yarn) for yarn in sorted(laid)))
    piece, loom = warp.pieces[0], AtLoom(warp)
    thrown = [not (1 <= pick <= len(weft) and yarn in laid) for pick, yarn in enumerate(piece.draft.weft)]
    for deed in deeds:
        try:
            loom.do({"weave": decide.weave_pick, "out": decide.take_out, "undo": decide.undo}[deed])
        except WeavingError:
            continue
        lie = dict.fromkeys((SAND, SEA, RUST), Side.RIGHT)
        for pick in reversed(list(loom.now.cloth.newest_first())):
            if thrown[pick]:
                lie[piece.draft.weft[pick]] = lie[piece.draft.weft[pick]].opposite
        assert {one.yarn: one.side for one in shuttles(warp, loom.progress)} == {
            yarn: lie[yarn] for yarn in piece.shuttles
        }
        view = this_pick(warp, loom.progress)
        if view is not None:
            assert (view.laid_in is None) is thrown[view.pick]
            assert view.laid_in is not None or view.comes_from is lie[view.yarn]


def test_it_is_drawn_out_by_hand_and_the_shuttle_below_it_still_lies_where_it_was():
    loom = AtLoom(mat())
    loom.weave(4)
    newest, below = taking_out(loom.warp, loom.progress, 2)
    assert (newest.shuttle, newest.laid_in, below.laid_in) == ("sand", False, True)
    assert [row.laid_in for row in rows_at_fell(loom.warp, loom.progress, 4)] == [False, True, False, False]
    # Sand lay right; its picks 1, 2 and 4 carried it left, right, left.
    assert (newest.pull_from, newest.pull_to) == (Side.LEFT, Side.RIGHT)
    loom.weave(1)
    assert coming_back(loom.warp, loom.progress, loom.at_ms).last.laid_in
    assert [one.came_from for one in history(loom.warp, loom.entries).happened] == [
        Side.RIGHT,
        Side.LEFT,
        None,
        Side.RIGHT,
        None,
    ]


def test_a_bobbin_loses_nothing_to_what_is_laid_in():
    loom = AtLoom(replace(mat(laid_in=(LaidIn(SAND),)), width_cm=100.0))
    loom.do(decide.change_bobbin, SAND, 110.0)
    # By hand: 110 m at 1.1 m a pick are 100 picks; of five picks two of sand are laid in and two are sea.
    loom.weave(5)
    sand = shuttles(loom.warp, loom.progress)[0]
    assert (sand.picks, sand.picks_left) == (3, 99)


def test_amounts_count_its_lengths_and_what_they_come_to():
    warp = replace(mat(), width_cm=100.0)
    sand, sea, rust = weft_planned(warp, 0)
    # By hand: sand 1 + 3 + 1 picks of 1.1 m; sea two lengths of 0.4 m and one throw of 1.1 m.
    assert (sand.picks, sand.metres[1], sand.laid_in) == (5, pytest.approx(5.5), ())
    assert (sea.picks, sea.metres, sea.laid_in) == (3, pytest.approx((1.8, 1.9, 2.0)), (LaidLengths(2, 40.0),))
    assert rust.picks == 1
    loom = AtLoom(warp)
    loom.weave(3)
    assert weft_needed(warp, loom.progress)[1].laid_in == (LaidLengths(1, 40.0),)
    assert in_all([sea, sea])[0].laid_in == (LaidLengths(4, 40.0),)


def test_a_section_woven_to_a_length_counts_its_lengths_for_all_its_laps():
    body = Section("body", 2, until_cm=10.0, laid_in=(LaidIn(SEA, 30.0),))
    warp = lever_warp(lever_draft([SAND, SEA], [body]), picks_per_cm=4.0)
    # By hand: 10 cm at 4 picks per cm are 40 picks, every other one laid in: 20 of 30 cm are 6 m.
    sand, sea = weft_planned(warp, 0)
    assert (sea.picks, sea.laid_in, sea.metres) == (20, (LaidLengths(20, 30.0),), (6.0, 6.0, 6.0))
    assert sand.metres is None


def test_where_it_lies_is_neither_asked_nor_told():
    loom = AtLoom(mat((SAND, RUST, SAND, RUST), (LaidIn(RUST),)))
    loom.weave(3)
    with pytest.raises(WeavingError, match="laid in at each pick and lies on no side"):
        loom.do(telling.tell_sides, left=(RUST,))
    with pytest.raises(WeavingError, match="has no bobbin"):
        loom.do(decide.change_bobbin, RUST)
    table = pick_table(loom.warp.pieces[0])
    asked = {split.yarn for split in splits(table, table.pick, False, Evidence()) if split.ask is Ask.SIDE}
    assert asked == {SAND, SEA}
