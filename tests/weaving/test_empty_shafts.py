"""A shaft without ends is no cloth: what is lifted of it changes no row, no place, no finding and no warp."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.checks import FindingKind
from companion.draft.facts import facts_of
from companion.draft.masks import shed_of
from companion.draft.treadling import read_treadling
from companion.remap.loom.loom import Action, Loom, Tie
from companion.remap.remapping import remap
from companion.weaving.errors import WeavingError
from companion.weaving.finder import Evidence, SeenRow, positions
from companion.weaving.pick_table import pick_table
from companion.weaving.progress import begin
from companion.weaving.state import re_tie_due, tieup_on
from companion.weaving.uniqueness import rows_that_tell
from companion.weaving.warp import LoomProfile, Piece, Stage, Warp
from tests.draft.drafts import draft_of


@st.composite
def with_and_without(draw):
    """The same cloth twice: with shaft 2 without ends and lifted at will, and drawn on three shafts that all carry."""
    ends = draw(st.lists(st.sampled_from([1, 3, 4]), min_size=1, max_size=8))
    lifts = draw(st.lists(st.sets(st.sampled_from([1, 3, 4])), min_size=1, max_size=10))
    weft = draw(st.lists(st.sampled_from([1, 2]), min_size=len(lifts), max_size=len(lifts)))
    also = draw(st.lists(st.booleans(), min_size=len(lifts), max_size=len(lifts)))
    plain = draft_of(threading=ends, plan=lifts, weft=weft, shafts=4)
    lifted = [lift | {2} if empty else lift for lift, empty in zip(lifts, also, strict=True)]
    return plain, draft_of(threading=ends, plan=lifted, weft=weft, shafts=4)


def seen_of(table, place, rows, ends):
    return tuple(
        SeenRow(
            yarns=frozenset({int(table.weft[pick])}),
            up=tuple(end for end in range(ends) if table.raised[table.shed_code[pick], end]),
            down=tuple(end for end in range(ends) if not table.raised[table.shed_code[pick], end]),
        )
        for pick in table.rows(place, rows)
    )


@settings(max_examples=60, deadline=None)
@given(with_and_without(), st.booleans())
def test_an_empty_shaft_changes_no_finding_no_row_and_no_place(drafts, face_down):
    plain, lifted = drafts
    one, other = (facts_of(draft, counterbalanced=True) for draft in drafts)
    assert one.findings == other.findings
    assert one.picks_of_shed == other.picks_of_shed
    assert 1 in next(found.shafts for found in other.findings if found.kind is FindingKind.SHAFT_EMPTY)
    tables = [pick_table(Piece("small", draft, face_down=face_down)) for draft in drafts]
    assert np.array_equal(rows_that_tell(tables[0].look), rows_that_tell(tables[1].look))
    # Rows lie alike exactly when weft and crossings do.
    looks = [(int(tables[1].weft[pick]), *tables[1].raised[tables[1].shed_code[pick]]) for pick in range(lifted.picks)]
    assert len(set(looks)) == len(set(tables[1].look.tolist()))
    for place in range(plain.picks):
        evidence = Evidence(rows=seen_of(tables[0], place, 2, plain.ends))
        assert positions(tables[0], evidence).tolist() == positions(tables[1], evidence).tolist()


@settings(max_examples=40, deadline=None)
@given(with_and_without())
def test_a_lift_plan_is_read_by_the_shafts_that_carry_ends(drafts):
    plain, lifted = drafts
    one, other = read_treadling(plain), read_treadling(lifted)
    assert [section.cost for section in one.sections] == [section.cost for section in other.sections]


def piece_on(draft, loom, present=None, face_down=False):
    answer = remap(draft, loom, present=present, face_down=face_down)
    stages = tuple(Stage(stage.first, stage.last, stage.tieup) for stage in answer.stages)
    piece = Piece("cloth", draft, stages, answer.footings, face_down=face_down)
    return Warp("cloth", LoomProfile("loom", loom, present), (piece,))


TWO_LEVERS = LoomProfile("table loom", Loom(2, 0, Action.LEVERS))
THREE = draft_of(threading=[1, 2] * 4, tieup=[[1], [2], [1, 3]], treadling=[1, 2, 3, 2], shafts=3)


@pytest.mark.parametrize("action", [Action.RISING, Action.SINKING, Action.COUNTERMARCHE])
@pytest.mark.parametrize("face_down", [False, True])
def test_a_loom_without_the_empty_shaft_weaves_it(action, face_down):
    warp = piece_on(THREE, Loom(2, 2, action), face_down=face_down)
    first, second = (2, 1) if face_down else (1, 2)
    assert warp.pieces[0].sheds[:2] == (shed_of([first]), shed_of([second]))


def test_a_loom_without_a_shaft_that_carries_ends_does_not():
    with pytest.raises(WeavingError, match="needs 3 shafts"):
        Warp("cloth", TWO_LEVERS, (Piece("cloth", replace(THREE, threading=(0, 2) * 4)),))


def test_cords_to_an_empty_shaft_may_hang_where_they_are():
    present = (Tie(up=shed_of([1, 3])), Tie(up=shed_of([2])))
    warp = piece_on(THREE, Loom(3, 2), present)
    state = begin(warp).now
    assert re_tie_due(warp, state) is None
    assert tieup_on(warp, state) == (Tie(up=shed_of([1])), Tie(up=shed_of([2])))


def test_an_old_warp_whose_own_tie_up_names_the_empty_shaft_is_still_tied():
    present = (Tie(up=shed_of([1, 3])), Tie(up=shed_of([2])))
    warp = piece_on(THREE, Loom(3, 2), present)
    (piece,) = warp.pieces
    old = replace(warp, pieces=(replace(piece, stages=(replace(piece.stages[0], tieup=present),)),))
    assert re_tie_due(old, begin(old).now) is None
